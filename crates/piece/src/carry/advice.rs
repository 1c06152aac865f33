//! How a place that counts from the rim is written so that it keeps something else on another wall.

use crate::file::places::{Place, Reach};
use crate::file::scalars::Scalar as _;
use crate::resolve::{mm, per_cent};
use crate::units::shorten;

/// What to write instead of a place typed as a plain length, for it to keep its distance from the foot of
/// a wall `wall_mm` long, or its share of it; `None` for any other text.
pub fn advice(typed: &str, wall_mm: f64) -> Option<String> {
    let place = Place::read(typed).ok().filter(|place| place.from.is_none())?;
    let Reach::Mm(along_mm) = place.reach else { return None };
    if !(wall_mm > 0.0 && (0.0..=wall_mm).contains(&along_mm)) {
        return None;
    }
    Some(format!(
        "\"{}\" lay {} from the foot before: \"{} from foot\" keeps that, and \"{}\" its share of the wall",
        shorten(typed),
        mm(wall_mm - along_mm),
        mm(wall_mm - along_mm),
        per_cent(along_mm / wall_mm)
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_plain_length_can_be_written_in_two_other_ways() {
        let told = advice("161 mm", 170.0).expect("advice");
        // 170 - 161 = 9, and 161 / 170 = 0.94706.
        assert!(told.contains("\"9 mm from foot\"") && told.contains("\"94.71 %\""), "{told}");
        assert_eq!(advice("9 mm from foot", 170.0), None);
        assert_eq!(advice("50 %", 170.0), None);
        assert_eq!(advice("rows", 170.0), None);
        assert_eq!(advice("180 mm", 170.0), None);
    }
}
