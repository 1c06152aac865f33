//! Where each part lies when the piece is put together.

use crate::Surface;
use glam::{DAffine3, DMat3, DVec3};
use piece::{Diagnostic, FieldPath, Piece};

/// Clear space between parts that each stand on the table, mm.
const APART_MM: f64 = 20.0;

/// Poses of parts, front at +x: parts without a seat stand on the table, the first on the axis, the
/// others in a row to its right; a seated part stands on the axis of the part beneath, its lowest
/// point `sink_mm` below the highest point there. Flat parts lie face up with their top away from
/// the front, or stand upright facing the front.
///
/// # Errors
/// Parts that sit on themselves or on each other in a ring, or on a part that does not exist.
pub(crate) fn seat_parts(
    piece: &Piece,
    surfaces: &[Surface],
) -> Result<Vec<DAffine3>, Vec<Diagnostic>> {
    let mut poses: Vec<Option<DAffine3>> = vec![None; surfaces.len()];
    let mut right_mm = None;
    for (i, part) in piece.parts.iter().enumerate() {
        if part.seat.is_none() {
            let half_mm = surfaces[i].widest_mm();
            let y_mm = right_mm.map_or(0.0, |right_mm| right_mm + APART_MM + half_mm);
            right_mm = Some(y_mm + half_mm);
            poses[i] = Some(pose(&surfaces[i], false, DVec3::new(0.0, y_mm, 0.0)));
        }
    }
    // Each round seats every part whose part beneath is placed, so as many rounds as parts suffice.
    for _ in &piece.parts {
        for (i, part) in piece.parts.iter().enumerate() {
            let Some(seat) = part.seat.as_ref().filter(|_| poses[i].is_none()) else { continue };
            let beneath = poses.get(seat.on_part).copied().flatten();
            if let Some(beneath) = beneath {
                let top_mm = top_mm(&surfaces[seat.on_part], &beneath);
                let axis = beneath.translation;
                let foot = DVec3::new(axis.x, axis.y, top_mm - seat.sink_mm);
                poses[i] = Some(pose(&surfaces[i], seat.upright, foot));
            }
        }
    }
    let lost = |i: usize| {
        Diagnostic::error(
            FieldPath::root().key("part").index(i).key("sits_on"),
            format!("part \"{}\" sits on a part that itself sits on it", piece.parts[i].name),
        )
        .hint("let one part stand on the table: leave its sits_on out")
    };
    let faults: Vec<Diagnostic> =
        (0..poses.len()).filter(|i| poses[*i].is_none()).map(lost).collect();
    if faults.is_empty() { Ok(poses.into_iter().flatten().collect()) } else { Err(faults) }
}

/// The pose of a part whose lowest point, on its axis, is at `foot`.
fn pose(surface: &Surface, upright: bool, foot: DVec3) -> DAffine3 {
    match surface {
        Surface::Revolved(_) => DAffine3::from_translation(foot),
        Surface::Flat(flat) if upright => {
            // Right stays right, up becomes up, the face looks to the front.
            let turn = DMat3::from_cols(DVec3::Y, DVec3::Z, DVec3::X);
            DAffine3::from_mat3_translation(turn, foot + DVec3::Z * (flat.size_mm().y / 2.0))
        }
        Surface::Flat(_) => {
            let turn = DMat3::from_cols(DVec3::Y, DVec3::NEG_X, DVec3::Z);
            DAffine3::from_mat3_translation(turn, foot)
        }
    }
}

fn top_mm(surface: &Surface, pose: &DAffine3) -> f64 {
    match surface {
        Surface::Revolved(_) => pose.translation.z + surface.z_range_mm().1,
        Surface::Flat(flat) => {
            let upright = pose.matrix3.y_axis.z > 0.5;
            pose.translation.z + if upright { flat.size_mm().y / 2.0 } else { 0.0 }
        }
    }
}
