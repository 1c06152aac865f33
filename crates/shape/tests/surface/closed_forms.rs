//! Surfaces against the handbook: cylinder, frustum, cone, annulus, sphere zone, and their growth.
//!
//! Formulas: Zwillinger, CRC Standard Mathematical Tables and Formulae, sections on cylinders, cones,
//! frusta and spheres; for growth Steiner's formula for parallel surfaces (Schneider,
//! Convex Bodies: The Brunn-Minkowski Theory, section 4.2).

use crate::{at, wall};
use piece::Run;
use shape::Surface;
use std::f64::consts::{PI, TAU};

#[track_caller]
fn near(found: f64, expected: f64, relative: f64) {
    assert!(
        (found - expected).abs() <= relative * expected.abs().max(1.0),
        "found {found}, expected {expected}"
    );
}

#[test]
fn a_cylinder_has_two_pi_r_h_around_it() {
    let cup = wall(&[(0.0, 40.0), (120.0, 40.0)], Run::Straight);
    near(cup.area_mm2(), TAU * 40.0 * 120.0, 1e-14);
    near(cup.volume_ml(), PI * 40.0 * 40.0 * 120.0 / 1000.0, 1e-14);
    near(cup.height_mm(), 120.0, 1e-14);
    assert_eq!(cup.bands().len(), 1);
    assert!(cup.bands()[0].straight);
    assert_eq!(cup.bands()[0].name, "wall");
}

#[test]
fn a_frustum_follows_the_handbook() {
    // Radii 45 and 33, slant 180, so the height is the other side of a right triangle.
    let cup = wall(&[(0.0, 45.0), (180.0, 33.0)], Run::Straight);
    let height = (180.0_f64 * 180.0 - 12.0 * 12.0).sqrt();
    near(cup.height_mm(), height, 1e-14);
    near(cup.wall_mm(), 180.0, 1e-14);
    near(cup.area_mm2(), PI * (45.0 + 33.0) * 180.0, 1e-14);
    let volume = PI * height / 3.0 * (45.0 * 45.0 + 45.0 * 33.0 + 33.0 * 33.0);
    near(cup.volume_ml(), volume / 1000.0, 1e-14);
}

#[test]
fn a_cone_closes_in_its_point() {
    let cone = wall(&[(0.0, 30.0), (50.0, 0.0)], Run::Straight);
    near(cone.height_mm(), 40.0, 1e-14);
    near(cone.area_mm2(), PI * 30.0 * 50.0, 1e-14);
    near(cone.volume_ml(), PI * 900.0 * 40.0 / 3.0 / 1000.0, 1e-14);
}

#[test]
fn a_lid_top_is_an_annulus_that_faces_up() {
    let lid = wall(&[(0.0, 10.0), (33.0, 43.0)], Run::Straight);
    near(lid.area_mm2(), PI * (43.0 * 43.0 - 10.0 * 10.0), 1e-14);
    assert_eq!(lid.height_mm(), 0.0);
    let place = at(0.7, 12.0);
    assert!((lid.normal(place) - glam::DVec3::Z).length() < 1e-12);
    near(lid.around_scale_mm(12.0), 22.0, 1e-14);
    near(lid.grown(1.5).world_from_surface(place).z, 1.5, 1e-12);
}

/// Measurements every 10 mm along a sphere of radius 40 mm, from 25° to 140° below its top.
fn sphere_zone() -> (Surface, f64, f64) {
    let (from, to) = (25.0_f64.to_radians(), 140.0_f64.to_radians());
    let length = 40.0 * (to - from);
    let mut alongs: Vec<f64> =
        (0..).map(|k| 10.0 * f64::from(k)).take_while(|s| *s < length - 5.0).collect();
    alongs.push(length);
    let points: Vec<(f64, f64)> =
        alongs.iter().map(|s| (*s, 40.0 * libm::sin(from + s / 40.0))).collect();
    (wall(&points, Run::Smooth), from, to)
}

#[test]
fn a_smooth_wall_measured_on_a_sphere_is_that_sphere_within_a_thousandth() {
    let (ball, from, to) = sphere_zone();
    let (top, bottom) = (40.0 * libm::cos(from), 40.0 * libm::cos(to));
    let height = top - bottom;
    near(ball.height_mm(), height, 1e-3);
    near(ball.area_mm2(), TAU * 40.0 * height, 1e-3);
    // Spherical segment of two bases: π h (3 a² + 3 b² + h²) / 6.
    let (a, b) = (40.0 * libm::sin(from), 40.0 * libm::sin(to));
    let volume = PI * height * (3.0 * a * a + 3.0 * b * b + height * height) / 6.0;
    near(ball.volume_ml(), volume / 1000.0, 1e-3);
    assert!(!ball.bands()[0].straight);
}

#[test]
fn a_grown_sphere_is_a_larger_sphere() {
    let (ball, from, to) = sphere_zone();
    let grown = ball.grown(3.0);
    let height = 43.0 * (libm::cos(from) - libm::cos(to));
    near(grown.area_mm2(), TAU * 43.0 * height, 2e-3);
    near(grown.wall_mm(), 43.0 * (to - from), 2e-3);
    // Middle of the wall, far from the ends of the spline: 1 + t / r.
    near(grown.along_scale(40.0), 43.0 / 40.0, 2e-3);
    near(grown.around_scale_mm(40.0), 43.0 * libm::sin(from + 1.0), 1e-3);
}

#[test]
fn six_coats_of_one_millimetre_in_all_add_six_millimetres_of_girth() {
    let mut cup = wall(&[(0.0, 40.0), (120.0, 40.0)], Run::Straight);
    let bare = cup.girth_mm(60.0).expect("a revolved part has a girth");
    for _ in 0..6 {
        cup = cup.grown(1.0 / 6.0);
    }
    let added = cup.girth_mm(60.0).expect("a revolved part has a girth") - bare;
    near(added, TAU, 1e-12);
    // The trade's figure for six coats: about 6 mm (common practice).
    assert!((5.5..7.0).contains(&added));
}

#[test]
fn a_grown_cone_keeps_its_angle_and_its_slant() {
    let cup = wall(&[(0.0, 45.0), (180.0, 33.0)], Run::Straight);
    let grown = cup.grown(2.0);
    let cosine = cup.height_mm() / 180.0;
    near(grown.around_scale_mm(0.0), 45.0 + 2.0 * cosine, 1e-13);
    near(grown.around_scale_mm(180.0), 33.0 + 2.0 * cosine, 1e-13);
    assert_eq!(grown.along_scale(90.0), 1.0);
    near(grown.area_mm2(), cup.area_mm2() + 2.0 * TAU * cosine * 180.0, 1e-13);
}

#[test]
fn part_areas_add_up() {
    let cup =
        wall(&[(0.0, 30.0), (40.0, 43.0), (180.0, 38.0), (200.0, 33.0)], Run::Smooth).grown(0.7);
    let parts = cup.area_between_mm2(0.0, 61.3) + cup.area_between_mm2(61.3, 200.0);
    near(parts, cup.area_mm2(), 1e-12);
}

#[test]
fn a_narrow_hollow_fills_up_without_turning_back() {
    // A groove of about 5 mm radius under 6 mm of resin.
    let groove = [(0.0, 40.0), (4.0, 38.5), (8.0, 40.0)];
    let grown = wall(&groove, Run::Smooth).grown(6.0);
    let scales: Vec<f64> = (0..=100).map(|k| grown.along_scale(0.08 * f64::from(k))).collect();
    assert!(scales.iter().all(|scale| *scale >= 0.01));
    assert!(scales.contains(&0.01));
    assert!(grown.area_mm2() > 0.0 && grown.sheet(0).error_mm().is_finite());
    // Taking off more than there is leaves nothing, not less.
    assert_eq!(wall(&groove, Run::Smooth).grown(-50.0).around_scale_mm(4.0), 0.0);
}
