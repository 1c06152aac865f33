//! What the stretches of a part are called.

use piece::PartRole;

/// Steeper outward or inward than this (sine of the angle from upright) is no upright wall: 15°.
const LEANING: f64 = 0.26;
/// Beyond this the stretch lies more level than upright: 30°.
const SLOPING: f64 = 0.5;
/// Beyond this it is nearly level: 60°.
const LEVEL: f64 = 0.87;
/// An upright first stretch no longer than this is a rim, mm.
const RIM_MM: f64 = 15.0;
/// An upright stretch below the wall at least this share of its length is a wall too.
const LOWER_WALL_SHARE: f64 = 0.25;

/// Names for bands given as (length in mm, change of radius for each mm along), from the start
/// down; unique, numbered from 2 where a name comes up again.
pub(crate) fn band_names(role: PartRole, bands: &[(f64, f64)]) -> Vec<String> {
    let main = main_band(bands);
    let mut names: Vec<String> = Vec::with_capacity(bands.len());
    for i in 0..bands.len() {
        let name = match role {
            PartRole::Lid => lid_name(bands[i].1),
            PartRole::Body | PartRole::Topper => body_name(bands, i, main),
        };
        let numbered = |n: usize| if n == 1 { name.to_owned() } else { format!("{name} {n}") };
        let free = (1..).map(numbered).find(|candidate| !names.contains(candidate));
        names.extend(free);
    }
    names
}

/// The longest stretch that stands more upright than level, or else simply the longest.
fn main_band(bands: &[(f64, f64)]) -> usize {
    let longest = |upright: bool| {
        let mut best: Option<usize> = None;
        for (i, band) in bands.iter().enumerate() {
            let fits = !upright || band.1.abs() <= SLOPING;
            if fits && best.is_none_or(|b| band.0 > bands[b].0) {
                best = Some(i);
            }
        }
        best
    };
    longest(true).or_else(|| longest(false)).unwrap_or(0)
}

fn lid_name(slope: f64) -> &'static str {
    if slope > SLOPING { "lid top" } else { "skirt" }
}

fn body_name(bands: &[(f64, f64)], i: usize, main: usize) -> &'static str {
    let (length_mm, slope) = bands[i];
    if i == main {
        "wall"
    } else if i < main {
        match slope {
            s if s > LEANING => "shoulder",
            _ if i == 0 && length_mm <= RIM_MM => "rim",
            _ => "neck",
        }
    } else if slope.abs() <= SLOPING && length_mm >= LOWER_WALL_SHARE * bands[main].0 {
        "lower wall"
    } else if i + 1 < bands.len() && slope < -SLOPING {
        "step"
    } else if slope < -LEVEL {
        "base"
    } else {
        "foot"
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bottle_has_a_neck_a_shoulder_a_wall_and_a_foot() {
        let bands = [(10.0, 0.0), (20.0, 0.05), (40.0, 0.6), (150.0, 0.0), (8.0, -0.7)];
        let names = band_names(PartRole::Body, &bands);
        assert_eq!(names, ["rim", "neck", "shoulder", "wall", "foot"]);
    }

    #[test]
    fn a_stepped_cup_has_two_walls() {
        let bands = [(90.0, 0.0), (8.0, -0.8), (60.0, -0.02), (30.0, -1.0)];
        let names = band_names(PartRole::Body, &bands);
        assert_eq!(names, ["wall", "step", "lower wall", "base"]);
    }

    #[test]
    fn a_name_that_comes_up_again_is_numbered() {
        let bands = [(20.0, 1.0), (10.0, 0.9), (10.0, 0.0)];
        assert_eq!(band_names(PartRole::Lid, &bands), ["lid top", "lid top 2", "skirt"]);
    }
}
