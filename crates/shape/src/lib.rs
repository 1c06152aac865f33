//! The cup as parts: surfaces of revolution from tape measurements, flat plates, and zones on them.
//!
//! Takes a [`piece::Piece`] and gives a [`Shape`]: each part's bare surface with area, wall length
//! and volume, and each zone as a region of the surface as it has grown when its finish goes on.
//! It knows nothing of stones, time or money.
//! Read first: `surface.rs` (what a surface can answer), then `zones.rs`.

use piece::{Diagnostic, Piece, Settings};

pub mod area;
pub mod surface;

pub use area::{Area, Field};
pub use surface::{Band, Flat, Revolved, Surface, SurfacePoint};

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
}

/// Brings a piece into space.
///
/// # Errors
/// All that is wrong with measurements and zones at once: walls steeper than their length, crossing
/// outlines, zones outside their part, unreadable art.
pub fn shape(piece: &Piece, settings: &Settings) -> Result<Shape, Vec<Diagnostic>> {
    let _ = (piece, settings);
    todo!()
}
