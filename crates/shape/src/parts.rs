//! Each part's bare surface, measured and in its place.

use crate::capacity::check_capacity;
use crate::likely_slips::{odd_lids, sunk_lids};
use crate::measured::lone_readings;
use crate::seat::seat_parts;
use crate::{PartShape, Surface};
use piece::{Diagnostic, FieldPath, Piece};

/// The bare parts of a piece, and what there is to say about their capacity: a warning, or an error
/// that the caller has to act on.
///
/// # Errors
/// All measurements and outlines that make no surface; parts that cannot sit where they should.
pub(crate) fn shape_parts(
    piece: &Piece,
) -> Result<(Vec<PartShape>, Vec<Diagnostic>), Vec<Diagnostic>> {
    let mut surfaces = Vec::with_capacity(piece.parts.len());
    let (mut faults, mut notes) = (Vec::new(), Vec::new());
    for (i, part) in piece.parts.iter().enumerate() {
        let path = FieldPath::root().key("part").index(i);
        match Surface::new(&part.form, part.role, &path) {
            Ok(surface) => {
                notes.extend(check_capacity(surface.volume_ml(), part, &path));
                surfaces.push(surface);
            }
            Err(more) => faults.extend(more),
        }
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    let poses = seat_parts(piece, &surfaces)?;
    let parts = surfaces.into_iter().zip(poses);
    let parts: Vec<PartShape> =
        parts.map(|(surface, pose)| PartShape::new(surface, pose)).collect();
    notes.extend(odd_lids(piece, &parts));
    notes.extend(sunk_lids(piece, &parts));
    notes.extend(lone_readings(piece));
    Ok((parts, notes))
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
