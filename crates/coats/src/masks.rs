//! Where resin ends on a wall, and when the tape there is pulled.

use piece::{Finish, Piece};
use shape::Shape;

/// Tape is pulled while the resin is soft, min after the pour (common practice, no source).
const PULL_MIN: (f64, f64) = (30.0, 60.0);
/// Gel of the slow resin that this is said of, min (our own choice: recoated from 4 h).
const SLOW_GEL_MIN: f64 = 240.0;

/// An edge of resin to mask.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mask {
    /// Index of the part.
    pub part: usize,
    /// Index of the zone.
    pub zone: usize,
    /// Where its edge reaches, mm along the wall from the start.
    pub along_mm: f64,
    /// The tape lies above it, towards the start of the wall.
    pub above: bool,
    /// From when to when after each pour the tape is pulled, min.
    pub pull_min: (f64, f64),
}

/// When tape is pulled after a pour, min: the same share of the time to gel as 30 to 60 min are of that
/// of a slow resin.
pub fn pull_tape_min(gel_min: Option<f64>) -> (f64, f64) {
    let times = gel_min.map_or(1.0, |gel_min| gel_min / SLOW_GEL_MIN);
    (PULL_MIN.0 * times, PULL_MIN.1 * times)
}

/// Edges of all zones of resin that end before their part does.
pub(crate) fn masks(piece: &Piece, shape: &Shape, gel_min: Option<f64>) -> Vec<Mask> {
    let pull_min = pull_tape_min(gel_min);
    let mut masks = Vec::new();
    for (zone, shaped) in shape.zones.iter().enumerate() {
        if !matches!(piece.zones[zone].finish, Finish::Resin { .. }) {
            continue;
        }
        let part = shaped.part;
        let (start_mm, end_mm) = shape.parts[part].surface.along_range_mm();
        let Some((from_mm, to_mm)) = shaped.area.along_range_mm() else { continue };
        if from_mm > start_mm + 1e-6 {
            masks.push(Mask { part, zone, along_mm: from_mm, above: true, pull_min });
        }
        if to_mm < end_mm - 1e-6 {
            masks.push(Mask { part, zone, along_mm: to_mm, above: false, pull_min });
        }
    }
    masks
}
