//! What cannot be a surface is refused in words, and nothing panics.

use crate::cups::any_numbers;
use crate::{measures, wall};
use piece::{Diagnostic, Measure, Outline, Run};
use proptest::prelude::*;
use shape::Surface;
use std::f64::consts::PI;

#[track_caller]
fn refused(measures: &[Measure], path: &str, part_of_message: &str) {
    let faults = Surface::revolved(measures).expect_err("must be refused");
    check(&faults, path, part_of_message);
}

#[track_caller]
fn refused_outline(outline: &Outline, path: &str, part_of_message: &str) {
    let faults = Surface::flat(outline).expect_err("must be refused");
    check(&faults, path, part_of_message);
}

#[track_caller]
fn check(faults: &[Diagnostic], path: &str, part_of_message: &str) {
    let found =
        faults.iter().any(|fault| fault.path.0 == path && fault.message.contains(part_of_message));
    assert!(found, "{faults:#?}");
}

fn drawn(data: &str) -> Outline {
    Outline::Path { data: data.to_owned(), width_mm: 50.0 }
}

#[test]
fn a_wall_steeper_than_its_length_names_both_measurements() {
    let cup = measures(&[(0.0, 44.0), (20.0, 12.0), (60.0, 12.0)], Run::Straight);
    refused(
        &cup,
        "revolved[1]",
        "the wall from 0.0 mm to 20.0 mm is 20.0 mm long, but its radius changes by 32.0 mm",
    );
}

#[test]
fn all_faults_come_at_once() {
    let cup = measures(&[(0.0, 44.0), (20.0, 12.0), (20.0, 12.0), (90.0, 200.0)], Run::Straight);
    assert_eq!(Surface::revolved(&cup).expect_err("three faults").len(), 3);
}

#[test]
fn sizes_that_are_no_sizes_are_refused() {
    let one = |along, radius| measures(&[(0.0, 40.0), (along, radius)], Run::Straight);
    refused(&one(f64::NAN, 40.0), "revolved[1]", "NaN");
    refused(&one(100.0, -4.0), "revolved[1]", "-4");
    refused(&one(f64::INFINITY, 40.0), "revolved[1]", "inf");
    refused(&one(0.0, 40.0), "revolved[1]", "larger than the one before");
    refused(&measures(&[(0.0, 40.0)], Run::Straight), "revolved", "at least two");
    refused(&measures(&[(0.0, 0.0), (9.0, 0.0)], Run::Straight), "revolved", "every radius is 0");
    refused(
        &measures(&[(0.0, 9.0), (9.0, 0.0), (20.0, 9.0)], Run::Straight),
        "revolved[1]",
        "between two other measurements",
    );
    refused(&measures(&[(5.0, 9.0), (9.0, 9.0)], Run::Straight), "revolved[0]", "counted from it");
}

#[test]
fn a_curve_that_bulges_more_than_it_is_long_asks_for_another_measurement() {
    let points = [(0.0, 30.0), (20.0, 48.0), (40.0, 30.0), (60.0, 48.0), (80.0, 30.0)];
    let faults = Surface::revolved(&measures(&points, Run::Smooth)).expect_err("must be refused");
    check(&faults, "revolved[1]", "from 0.0 mm (radius 30.0 mm) to 20.0 mm (radius 48.0 mm)");
    assert!(faults[0].hints[0].contains("Measure once more near 10 mm"));
}

#[test]
fn outlines_that_are_no_plate_are_refused() {
    refused_outline(
        &drawn("M 0 0 L 20 20 L 20 0 L 0 20 Z"),
        "flat.path",
        "crosses or touches itself 0.0 mm right",
    );
    refused_outline(
        &drawn("M 0 0 L 9 0 L 9 9 Z M 20 0 L 29 0 L 29 9 Z"),
        "flat.path",
        "not one plate",
    );
    refused_outline(&drawn("a pretty heron"), "flat.path", "cannot be read");
    refused_outline(&drawn("M 0 0 L 9 0"), "flat.path", "no width or no height");
    refused_outline(&drawn(""), "flat.path", "no width or no height");
    refused_outline(&drawn("M 0 0 A 1 1 0 0 1 1e60 0 Z"), "flat.path", "the number 1.000e60");
    refused_outline(&drawn("M0 0 A1e307 1e307 0 1 1 10 0Z"), "flat.path", "the number 1.000e307");
    refused_outline(&drawn("M 0 0 L 0.001 900 L 0.002 0 Z"), "flat.path", "mm high");
    refused_outline(&Outline::Circle { diameter_mm: 0.0 }, "flat.circle", "0 mm");
    refused_outline(&Outline::Circle { diameter_mm: f64::NAN }, "flat.circle", "NaN");
    let corner = Outline::Rectangle { width_mm: 50.0, height_mm: 30.0, corner_mm: 16.0 };
    refused_outline(&corner, "flat.corner", "between 0 and half the shorter side (15 mm)");
}

#[test]
fn outlines_have_the_area_of_their_curves() {
    let disc = Surface::flat(&Outline::Circle { diameter_mm: 50.0 }).expect("a disc");
    assert!((disc.area_mm2() - PI * 625.0).abs() < 1e-9);
    // Rounded rectangle: w h - (4 - π) r².
    let card = Outline::Rectangle { width_mm: 50.0, height_mm: 30.0, corner_mm: 4.0 };
    let card = Surface::flat(&card).expect("a card");
    assert!((card.area_mm2() - (1500.0 - (4.0 - PI) * 16.0)).abs() < 1e-9);
    // A ring drawn with arcs 10 wide, scaled to 50 mm: π (25² - 10²). Arcs become cubics, one for a
    // quarter turn, off by up to 2.7 parts in 10 000 of the radius (Goldapp, Approximation of
    // circular arcs by cubic polynomials, 1991), so twice that in area.
    let ring = "M 0 5 A 5 5 0 0 1 10 5 A 5 5 0 0 1 0 5 Z M 3 5 A 2 2 0 0 1 7 5 A 2 2 0 0 1 3 5 Z";
    let Surface::Flat(ring) = Surface::flat(&drawn(ring)).expect("a ring") else { unreachable!() };
    assert!((ring.area_mm2() / (PI * 525.0) - 1.0).abs() < 5.4e-4, "{}", ring.area_mm2());
    assert_eq!(ring.outline().len(), 2);
    // Down in the drawing is down on the plate.
    let Surface::Flat(drop) = Surface::flat(&drawn("M 0 0 L 10 0 L 5 20 Z")).expect("a triangle")
    else {
        unreachable!()
    };
    let lowest = drop.outline()[0].iter().copied().min_by(|a, b| a.y.total_cmp(&b.y));
    assert!(lowest.is_some_and(|at| at.abs_diff_eq(glam::DVec2::new(0.0, -50.0), 1e-9)));
}

#[test]
fn a_wall_may_close_at_its_foot_with_a_dome() {
    // A quarter sphere of radius 40 mm from its equator to its pole.
    let quarter = 40.0 * PI / 2.0;
    let points: Vec<(f64, f64)> = (0..=6)
        .map(|k| f64::from(k) / 6.0)
        .map(|u| (u * quarter, if u == 1.0 { 0.0 } else { 40.0 * libm::cos(u * PI / 2.0) }))
        .collect();
    let dome = wall(&points, Run::Smooth);
    assert!((dome.area_mm2() / (2.0 * PI * 1600.0) - 1.0).abs() < 1e-3);
    assert!((dome.volume_ml() * 1000.0 / (2.0 / 3.0 * PI * 64_000.0) - 1.0).abs() < 1e-3);
}

proptest! {
    #[test]
    fn no_numbers_make_it_panic(cup in any_numbers()) {
        if let Ok(surface) = Surface::revolved(&cup) {
            prop_assert!(surface.grown(1.0).area_mm2().is_finite());
            prop_assert!(surface.sheet(0).error_mm().is_finite());
        }
    }

    #[test]
    fn no_path_makes_it_panic(data in "[MLHVCSQTAZmlhvcsqtaz0-9 .,eE-]{0,60}", width_mm in any::<f64>()) {
        if let Ok(plate) = Surface::flat(&Outline::Path { data, width_mm }) {
            prop_assert!(plate.area_mm2() > 0.0);
        }
    }
}
