//! Handles: what they keep bare.

use crate::support::*;
use piece::{Form, Handle, Piece, Severity};
use shape::shape;
use std::f64::consts::PI;

fn handle(around_deg: f64) -> Handle {
    Handle {
        along_mm: (20.0, 140.0),
        around_rad: around_deg.to_radians(),
        width_mm: 30.0,
        clearance_mm: 2.0,
        beneath: Vec::new(),
    }
}

fn handled(form: Form, handle: Handle) -> Piece {
    let mut piece = piece_of(form, vec![(everything(), film()), (everything(), stones())]);
    piece.parts[0].handle = Some(handle);
    piece
}

/// The window is 30 mm wide all the way, so it takes width times length of wall; the rest of the cone is
/// π (r1 + r2) · slant (Zwillinger, CRC Standard Mathematical Tables and Formulae, frustum).
#[test]
fn a_handle_takes_its_width_times_its_length_wherever_it_sits() {
    let whole = PI * (45.0 + 33.0) * 180.0;
    for around_deg in [0.0, 90.0, 180.0, -175.0, 540.0] {
        let shape =
            shape(&handled(revolved(&CUP), handle(around_deg)), &studio()).expect("a sound piece");
        let area = shape.zones[0].area_mm2;
        let expected = whole - 30.0 * 120.0;
        assert!((area - expected).abs() < 1e-3 * expected, "{around_deg}: {area}, {expected}");
    }
}

#[test]
fn what_is_cut_is_told_and_what_runs_on_beneath_is_not_cut() {
    let mut piece = handled(revolved(&CUP), handle(90.0));
    if let Some(handle) = &mut piece.parts[0].handle {
        handle.beneath = vec![0];
    }
    let shape = shape(&piece, &studio()).expect("a sound piece");
    let whole = PI * (45.0 + 33.0) * 180.0;
    assert!((shape.zones[0].area_mm2 - whole).abs() < 1e-3 * whole);
    assert!(shape.zones[1].area_mm2 < whole - 3500.0);
    let told: Vec<_> = shape.notes.iter().filter(|note| note.path.0 == "part[0].handle").collect();
    assert_eq!(told.len(), 1);
    assert_eq!(told[0].severity, Severity::Caution);
    assert!(told[0].message.ends_with("zone `zone-1` is cut out there"), "{}", told[0].message);
}

/// Stones leave 2 mm more on every side, with round corners: an area of width times length, grown by m,
/// is one of (w + 2m)(l + 2m) less (4 - π) m² (Steiner's formula for a rectangle; from memory).
#[test]
fn stones_leave_room_beside_a_handle_and_film_does_not() {
    let areas = |clearance_mm| {
        let handle = Handle { clearance_mm, ..handle(90.0) };
        let shape = shape(&handled(revolved(&CUP), handle), &studio()).expect("a sound piece");
        (shape.zones[0].area_mm2, shape.zones[1].area_mm2)
    };
    let ((film, close), (same_film, roomy)) = (areas(0.0), areas(2.0));
    assert_eq!(film.to_bits(), same_film.to_bits());
    let kept = close - roomy;
    let expected = 34.0 * 124.0 - (4.0 - PI) * 4.0 - 30.0 * 120.0;
    assert!((kept - expected).abs() < 0.01 * expected, "{kept}, {expected}");
}

#[test]
fn art_half_beneath_a_handle_is_told_with_its_share() {
    // A square of 30 mm whose middle lies on the edge of the window, 15 mm round from its middle.
    let half = |off_mm: f64| {
        let radius = 45.0 - 12.0 * 80.0 / 180.0;
        let around = 90.0_f64.to_radians() + off_mm / radius;
        let square = path_art("M0 0H30V30H0Z", piece::ArtSize::WidthMm(30.0), 80.0, around);
        let mut piece = piece_of(revolved(&CUP), vec![(drawn(square), film())]);
        piece.parts[0].handle = Some(handle(90.0));
        let notes = shape(&piece, &studio()).expect("a sound piece").notes;
        let told = notes.into_iter().find(|note| note.path.0 == "zone[0]");
        told.map(|note| (note.severity, note.message))
    };
    let (severity, message) = half(15.0).expect("told");
    assert_eq!(severity, Severity::Warning);
    assert!(message.contains("50 % of the art of zone `zone-0` is cut away"), "{message}");
    assert_eq!(half(32.0), None);
}

#[test]
fn a_zone_wholly_beneath_a_handle_is_refused() {
    let region = piece::Region { window_rad: Some((1.5, 1.6)), ..band(level(50.0), level(60.0)) };
    let mut piece = piece_of(revolved(&CUP), vec![(region, film())]);
    piece.parts[0].handle = Some(handle(90.0));
    let wrong = shape(&piece, &studio()).expect_err("nothing is left");
    assert!(wrong[0].message.contains("wholly beneath the handle"), "{wrong:?}");
}
