//! The family of shapes that a body belongs to, told from its wall.

use crate::surface::Surface;
use piece::Part;
use std::fmt;

/// A family of shapes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Family {
    /// The same girth all the way down.
    Straight,
    /// Evenly narrower towards the foot.
    Tapered,
    /// A wide upper body that steps in to a narrower one.
    TaperedWithShoulder,
    /// A mouth much narrower than the body.
    Bottle,
    /// Widest between mouth and foot.
    Curved,
    /// With a handle.
    Mug,
    /// None of these.
    Other,
}

impl fmt::Display for Family {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Straight => "straight",
            Self::Tapered => "tapered",
            Self::TaperedWithShoulder => "tapered with shoulder",
            Self::Bottle => "bottle",
            Self::Curved => "curved",
            Self::Mug => "mug with handle",
            Self::Other => "of no usual family",
        })
    }
}

/// Places at which a wall is looked at.
const LOOKS: usize = 200;
/// A wall whose radius changes by less than this share is straight (all shares below: common
/// practice, no source).
const STRAIGHT: f64 = 0.03;
/// A mouth narrower than this share of the widest place is that of a bottle.
const MOUTH: f64 = 0.8;
/// A wall wider by this share between its ends than at either is curved.
const BELLY: f64 = 1.04;
/// A radius that falls by this share within [`STEP_WALL`] of the wall is a step.
const STEP: f64 = 0.08;
/// Share of the wall within which a step falls.
const STEP_WALL: f64 = 0.1;

/// The family of a body, and what of its sizes says so; `None` for a flat part.
pub fn family(part: &Part, surface: &Surface) -> Option<(Family, String)> {
    let Surface::Revolved(_) = surface else { return None };
    if part.handle.is_some() {
        return Some((Family::Mug, "it has a handle".to_owned()));
    }
    let (start_mm, end_mm) = wall(surface);
    let radii: Vec<f64> = (0..=LOOKS)
        .map(|look| start_mm + (end_mm - start_mm) * look as f64 / LOOKS as f64)
        .map(|along_mm| surface.around_scale_mm(along_mm))
        .collect();
    let (mouth, foot) = (radii[0], radii[LOOKS]);
    let widest = radii.iter().copied().fold(0.0, f64::max);
    let narrowest = radii.iter().copied().fold(f64::INFINITY, f64::min);
    let across = |radius: f64| format!("{:.0} mm", 2.0 * radius);
    let apart = (STEP_WALL * LOOKS as f64) as usize;
    let step = radii.windows(apart + 1).map(|seen| 1.0 - seen[apart] / seen[0]);
    let step = step.fold(0.0, f64::max);
    let falls = radii.windows(2).all(|pair| pair[1] <= pair[0] * 1.001);
    let found = if widest - narrowest < STRAIGHT * widest {
        (
            Family::Straight,
            format!(
                "from mouth to foot it stays within {} and {} across",
                across(narrowest),
                across(widest)
            ),
        )
    } else if mouth < MOUTH * widest {
        (
            Family::Bottle,
            format!(
                "the mouth is {} across, {:.0} % of the widest place",
                across(mouth),
                100.0 * mouth / widest
            ),
        )
    } else if widest > BELLY * mouth.max(foot) {
        (
            Family::Curved,
            format!(
                "it is {} across between a mouth of {} and a foot of {}",
                across(widest),
                across(mouth),
                across(foot)
            ),
        )
    } else if step > STEP {
        (
            Family::TaperedWithShoulder,
            format!(
                "it narrows by {:.0} % within {:.0} mm of wall",
                100.0 * step,
                STEP_WALL * (end_mm - start_mm)
            ),
        )
    } else if falls {
        (
            Family::Tapered,
            format!(
                "it narrows evenly from {} across at the mouth to {} at the foot",
                across(mouth),
                across(foot)
            ),
        )
    } else {
        (
            Family::Other,
            format!(
                "it is {} across at the mouth, {} at the widest and {} at the foot",
                across(mouth),
                across(widest),
                across(foot)
            ),
        )
    };
    Some(found)
}

/// Start and end of the wall without the curve of the foot.
fn wall(surface: &Surface) -> (f64, f64) {
    let (start_mm, end_mm) = surface.along_range_mm();
    let feet = surface.bands().iter().rev();
    let feet =
        feet.take_while(|band| band.name.starts_with("foot") || band.name.starts_with("base"));
    (start_mm, feet.map(|band| band.along_mm.0).fold(end_mm, f64::min))
}
