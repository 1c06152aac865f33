//! The cup as parts: surfaces of revolution from tape measurements, flat plates, and zones on them.
//!
//! Takes a [`piece::Piece`] and gives a [`Shape`]: each part's bare surface with area, wall length
//! and volume, and each zone as a region of the surface as it has grown when its finish goes on.
//! It knows nothing of stones, time or money.
//! Read first: `surface.rs` (what a surface can answer), then `zones.rs`.

use piece::{Diagnostic, FieldPath, PartRole, Piece, Settings, Severity};

pub mod area;
mod art;
mod band_names;
mod boolean;
mod capacity;
mod cut;
pub mod edge;
pub mod field;
pub mod flat;
mod flatten;
pub mod lettering;
mod margin;
mod measure;
mod outline_check;
mod profile;
pub mod revolved;
mod seat;
pub mod sheet;
mod spline;
pub mod surface;
mod svg;
pub mod zones;

pub use area::{Area, Extent};
pub use field::Field;
pub use flat::Flat;
pub use lettering::shipped_fonts;
pub use revolved::Revolved;
pub use sheet::Sheet;
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
}

/// Brings a piece into space.
///
/// # Errors
/// All that is wrong with measurements and zones at once: walls steeper than their length, crossing
/// outlines, zones outside their part, unreadable art.
pub fn shape(piece: &Piece, settings: &Settings) -> Result<Shape, Vec<Diagnostic>> {
    let (parts, mut notes) = shape_parts(piece)?;
    let zones = zones::shape_zones(piece, settings, &parts, &mut notes)?;
    Ok(Shape { parts, zones, notes })
}

/// The bare parts of a piece, and warnings about them.
fn shape_parts(piece: &Piece) -> Result<(Vec<PartShape>, Vec<Diagnostic>), Vec<Diagnostic>> {
    let mut surfaces = Vec::with_capacity(piece.parts.len());
    let (mut faults, mut notes) = (Vec::new(), Vec::new());
    for (i, part) in piece.parts.iter().enumerate() {
        let path = FieldPath::root().key("part").index(i);
        match Surface::new(&part.form, part.role, &path) {
            Ok(surface) => {
                let stated_ml = part.capacity_ml.filter(|_| part.role == PartRole::Body);
                let found = capacity::check_capacity(surface.volume_ml(), stated_ml, &path);
                let (errors, warnings): (Vec<_>, Vec<_>) =
                    found.into_iter().partition(|found| found.severity == Severity::Error);
                faults.extend(errors);
                notes.extend(warnings);
                surfaces.push(surface);
            }
            Err(more) => faults.extend(more),
        }
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    let poses = seat::seat_parts(piece, &surfaces)?;
    let parts = surfaces.into_iter().zip(poses).map(|(surface, pose)| PartShape::new(surface, pose));
    Ok((parts.collect(), notes))
}

impl PartShape {
    /// Measures a bare surface and gives it its place.
    fn new(surface: Surface, piece_from_part: glam::DAffine3) -> Self {
        Self {
            area_mm2: surface.area_mm2(),
            wall_mm: surface.wall_mm(),
            height_mm: surface.height_mm(),
            volume_ml: surface.volume_ml(),
            surface,
            piece_from_part,
        }
    }
}
