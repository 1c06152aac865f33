//! The cup as parts: surfaces of revolution from tape measurements, flat plates, and zones on them.
//!
//! Takes a [`piece::Piece`] and gives a [`Shape`]: each part's bare surface with area, wall length
//! and volume, and each zone as a region of the surface as it has grown when its finish goes on.
//! It knows nothing of stones, time or money.
//! Read first: `surface.rs` (what a surface can answer), then `zones.rs`.

use piece::{Diagnostic, Piece, Settings, Severity};
use watch::Watch;

pub mod area;
mod art;
mod band_names;
mod boolean;
mod capacity;
pub mod carried;
mod copies;
mod cut;
pub mod edge;
pub mod family;
pub mod field;
pub mod film;
pub mod flat;
mod flatten;
mod handle;
mod ink;
mod layers;
pub mod lettering;
mod lie;
mod likely_slips;
mod line;
mod lip;
mod margin;
mod measure;
pub mod measured;
mod measures_check;
mod met;
mod motif;
mod outline_check;
mod parts;
mod path_numbers;
mod profile;
mod reach;
mod readable;
pub mod revolved;
mod runs;
mod seat;
pub mod sheet;
mod simpler;
mod sketch;
mod smoothing;
mod spline;
mod strokes;
pub mod surface;
mod svg;
mod traced;
mod trap;
mod union;
mod watch;
pub mod zones;

pub use area::{Area, Extent};
pub use copies::copies;
pub use family::Family;
pub use field::{EdgePiece, Field};
pub use flat::Flat;
pub use lettering::shipped_fonts;
pub use measured::{Measured, measured};
pub use revolved::Revolved;
pub use sheet::Sheet;
pub use simpler::simpler;
pub use surface::{Band, Surface, SurfacePoint};

/// Every part and zone of a piece, in space.
#[derive(Debug, Clone)]
pub struct Shape {
    /// One for each part, in the same order as [`Piece::parts`].
    pub parts: Vec<PartShape>,
    /// One for each zone, in the same order as [`Piece::zones`].
    pub zones: Vec<ZoneShape>,
    /// Warnings and cautions found on the way (capacity that does not fit, zones in the lip).
    pub notes: Vec<Diagnostic>,
}

/// One part in space.
#[derive(Debug, Clone)]
pub struct PartShape {
    /// Its bare surface.
    pub surface: Surface,
    /// Area of the bare surface (one side of a flat part), mm².
    pub area_mm2: f64,
    /// Length along the wall from start to end, mm; height of the outline of a flat part.
    pub wall_mm: f64,
    /// Height upright, mm; 0 for a flat part.
    pub height_mm: f64,
    /// Volume enclosed by the surface and level discs at its ends, ml; 0 for a flat part.
    pub volume_ml: f64,
    /// Where the part frame lies when the piece is put together.
    pub piece_from_part: glam::DAffine3,
}

/// One zone in space.
#[derive(Debug, Clone)]
pub struct ZoneShape {
    /// Index of its part.
    pub part: usize,
    /// The part's surface grown by everything beneath this finish.
    pub surface: Surface,
    /// Mean thickness of everything beneath this finish, mm.
    pub below_mm: f64,
    /// The region, in the part's (around, along) coordinates.
    pub area: Area,
    /// Area of the region on the grown surface, mm².
    pub area_mm2: f64,
    /// Lines that its stones follow, one after the other; none unless their layout is
    /// [`piece::Layout::Line`]. They meet only at their ends, which those that meet share exactly; a closed
    /// one repeats its first place at the end, and a dot is one place. `around` runs on past half a turn.
    pub strokes: Vec<Vec<SurfacePoint>>,
}

/// Brings a piece into space.
///
/// # Errors
/// All that is wrong with measurements and zones at once: walls steeper than their length, crossing
/// outlines, zones outside their part, unreadable art.
pub fn shape(piece: &Piece, settings: &Settings) -> Result<Shape, Vec<Diagnostic>> {
    shape_while(piece, settings, &mut |_| true)
}

/// The same, where someone may want it to stop: `progress` is told the share done, and stops the work
/// by returning false. A drawing of the most corners that are possible takes seconds.
///
/// # Errors
/// As [`shape`]; stopped by `progress` (an empty list).
pub fn shape_while(
    piece: &Piece,
    settings: &Settings,
    progress: &mut dyn FnMut(f64) -> bool,
) -> Result<Shape, Vec<Diagnostic>> {
    let mut watch = Watch::new(progress);
    let (parts, mut notes) = parts::shape_parts(piece)?;
    let zones = zones::shape_zones(piece, settings, &parts, &mut notes, &mut watch);
    if watch.stopped() {
        return Err(Vec::new());
    }
    // A capacity that cannot be is an error, but keeps no zone from being looked at.
    let (mut wrong, notes): (Vec<_>, Vec<_>) =
        notes.into_iter().partition(|note| note.severity == Severity::Error);
    match zones {
        Ok(zones) if wrong.is_empty() => Ok(Shape { parts, zones, notes }),
        Ok(_) => Err(wrong),
        Err(more) => {
            wrong.extend(more);
            Err(wrong)
        }
    }
}
