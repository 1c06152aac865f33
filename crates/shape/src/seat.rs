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

#[cfg(test)]
mod tests {
    use crate::parts::shape_parts;
    use crate::{PartShape, SurfacePoint};
    use glam::DVec3;
    use piece::{Drinks, Form, Measure, Outline, Part, PartRole, Piece, Run, Seat};

    fn revolved(name: &str, role: PartRole, points: &[(f64, f64)]) -> Part {
        let measure = |(along_mm, radius_mm): &(f64, f64)| Measure {
            along_mm: *along_mm,
            radius_mm: *radius_mm,
            run: Run::Straight,
            crease: false,
            radius_step_mm: 0.0,
        };
        part(name, role, Form::Revolved(points.iter().map(measure).collect()))
    }

    fn part(name: &str, role: PartRole, form: Form) -> Part {
        Part {
            name: name.to_owned(),
            role,
            capacity_ml: None,
            walls: None,
            form,
            blank_colour: None,
            seat: None,
            handle: None,
            fit: piece::Fit::default(),
        }
    }

    fn on(mut part: Part, on_part: usize, sink_mm: f64, upright: bool) -> Part {
        part.seat = Some(Seat { on_part, sink_mm, clearance_mm: None, upright });
        part
    }

    fn piece(parts: Vec<Part>) -> Piece {
        Piece {
            title: "Heron at low tide".to_owned(),
            notes: String::new(),
            quantity: 1,
            due: None,
            drinks: Drinks::Cold,
            for_child: false,
            seed: 7,
            parts,
            zones: Vec::new(),
            colours: Vec::new(),
            strengths: Vec::new(),
        }
    }

    fn body() -> Part {
        revolved("body", PartRole::Body, &[(0.0, 44.0), (160.0, 44.0)])
    }

    fn lid() -> Part {
        revolved("lid", PartRole::Lid, &[(0.0, 10.0), (33.0, 43.0), (43.0, 43.0)])
    }

    fn plate() -> Part {
        let outline = Outline::Rectangle { width_mm: 50.0, height_mm: 30.0, corner_mm: 0.0 };
        part("topper", PartRole::Topper, Form::Flat(outline))
    }

    fn place(part: &PartShape, around: f64, along_mm: f64) -> DVec3 {
        let point = SurfacePoint { around, along_mm };
        part.piece_from_part.transform_point3(part.surface.world_from_surface(point))
    }

    fn normal(part: &PartShape) -> DVec3 {
        let point = SurfacePoint { around: 0.0, along_mm: 0.0 };
        part.piece_from_part.transform_vector3(part.surface.normal(point))
    }

    #[track_caller]
    fn near(found: DVec3, x: f64, y: f64, z: f64) {
        assert!(found.abs_diff_eq(DVec3::new(x, y, z), 1e-9), "found {found}");
    }

    #[test]
    fn a_lid_sinks_into_its_body_and_a_topper_stands_on_the_lid() {
        // The topper comes first in the file: order must not matter.
        let parts = vec![on(plate(), 2, 1.0, true), body(), on(lid(), 1, 6.0, false)];
        let (parts, notes) = shape_parts(&piece(parts)).expect("a sound piece");
        assert!(notes.is_empty());
        near(place(&parts[1], 0.0, 160.0), 44.0, 0.0, 0.0);
        near(place(&parts[2], 0.0, 43.0), 43.0, 0.0, 154.0);
        near(place(&parts[2], 0.0, 0.0), 10.0, 0.0, 164.0);
        // Its lower right corner as seen from the front, 1 mm down in the lid's top.
        near(place(&parts[0], 25.0, 15.0), 0.0, 25.0, 163.0);
        near(place(&parts[0], 0.0, -15.0), 0.0, 0.0, 193.0);
        near(normal(&parts[0]), 1.0, 0.0, 0.0);
    }

    #[test]
    fn a_plate_without_a_stand_lies_face_up() {
        let parts = vec![body(), on(plate(), 0, 0.0, false)];
        let (parts, _) = shape_parts(&piece(parts)).expect("a sound piece");
        near(normal(&parts[1]), 0.0, 0.0, 1.0);
        // Its lower right corner is near the front, to the right.
        near(place(&parts[1], 25.0, 15.0), 15.0, 25.0, 160.0);
    }

    #[test]
    fn parts_without_a_seat_stand_side_by_side() {
        let (parts, _) = shape_parts(&piece(vec![body(), lid()])).expect("a sound piece");
        near(place(&parts[1], 0.0, 43.0), 43.0, 44.0 + 20.0 + 43.0, 0.0);
    }

    #[test]
    fn parts_that_sit_on_each_other_are_refused() {
        let parts = vec![on(body(), 1, 0.0, false), on(lid(), 0, 0.0, false)];
        let faults = shape_parts(&piece(parts)).expect_err("a ring of parts");
        let paths: Vec<&str> = faults.iter().map(|fault| fault.path.0.as_str()).collect();
        assert_eq!(paths, ["part[0].sits_on", "part[1].sits_on"]);
    }

    #[test]
    fn all_parts_are_checked_and_capacity_too() {
        let mut cup = body();
        cup.capacity_ml = Some(2_000.0);
        let (_, notes) = shape_parts(&piece(vec![cup])).expect("a sound surface");
        assert_eq!(notes[0].path.0, "part[0].capacity");

        let wide = revolved("body", PartRole::Body, &[(0.0, 44.0), (10.0, 4.0)]);
        let disc =
            part("topper", PartRole::Topper, Form::Flat(Outline::Circle { diameter_mm: 0.0 }));
        let faults = shape_parts(&piece(vec![wide, disc])).expect_err("two faults");
        let paths: Vec<&str> = faults.iter().map(|fault| fault.path.0.as_str()).collect();
        assert_eq!(paths, ["part[0].revolved[1]", "part[1].flat.circle"]);
    }

    #[test]
    fn a_lid_of_another_cup_is_asked_after() {
        let narrow = revolved("lid", PartRole::Lid, &[(0.0, 10.0), (23.0, 33.0), (33.0, 33.0)]);
        let (_, notes) =
            shape_parts(&piece(vec![body(), on(narrow, 0, 6.0, false)])).expect("sound");
        assert_eq!(notes.len(), 1);
        assert_eq!(notes[0].path.0, "part[1].sits_on");
        assert!(notes[0].message.contains("66.0 mm") && notes[0].message.contains("88.0 mm"));
    }
}
