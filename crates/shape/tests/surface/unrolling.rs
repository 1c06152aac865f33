//! Sheets keep lengths: exactly on straight bands, within the stated error on smooth ones.

use crate::{at, wall};
use glam::{DVec2, DVec3};
use piece::{Outline, Run};
use shape::{Sheet, Surface, SurfacePoint};
use std::f64::consts::{PI, TAU};

/// Length of a curve on the sheet and in space, by chords of a fine walk and Richardson's
/// extrapolation from half as many.
fn lengths(surface: &Surface, sheet: &Sheet, walk: impl Fn(f64) -> SurfacePoint) -> (f64, f64) {
    let chords = |n: usize| {
        let points: Vec<SurfacePoint> = (0..=n).map(|k| walk(k as f64 / n as f64)).collect();
        points.windows(2).fold((0.0, 0.0), |(flat, space), pair| {
            let on_sheet =
                pair.iter().map(|p| sheet.sheet_from_surface(*p)).collect::<Vec<DVec2>>();
            let in_space =
                pair.iter().map(|p| surface.world_from_surface(*p)).collect::<Vec<DVec3>>();
            (flat + on_sheet[0].distance(on_sheet[1]), space + in_space[0].distance(in_space[1]))
        })
    };
    let (coarse, fine) = (chords(1_000), chords(2_000));
    ((4.0 * fine.0 - coarse.0) / 3.0, (4.0 * fine.1 - coarse.1) / 3.0)
}

#[test]
fn a_straight_band_keeps_the_length_of_any_curve() {
    let walls = [
        wall(&[(0.0, 40.0), (120.0, 40.0)], Run::Straight),
        wall(&[(0.0, 45.0), (180.0, 33.0)], Run::Straight),
        wall(&[(0.0, 20.0), (60.0, 50.0)], Run::Straight),
        wall(&[(0.0, 10.0), (33.0, 43.0)], Run::Straight),
        wall(&[(0.0, 40.0), (120.0, 40.0 - 1e-7)], Run::Straight),
    ];
    for bare in walls {
        let last = bare.along_range_mm().1;
        for surface in [bare.grown(0.0), bare.grown(1.3)] {
            let sheet = surface.sheet(0);
            assert_eq!(sheet.error_mm(), 0.0);
            let slanting = |u: f64| at(-PI + TAU * u, last * (0.1 + 0.8 * u * u));
            let waving = |u: f64| at(-1.0 + 2.5 * u, last * (0.5 + 0.3 * libm::sin(9.0 * u)));
            for (flat, space) in [
                lengths(&surface, &sheet, slanting),
                lengths(&surface, &sheet, waving),
                lengths(&surface, &sheet, |u| at(-PI + TAU * u, last)),
                lengths(&surface, &sheet, |u| at(2.0, last * u)),
            ] {
                assert!(
                    (flat - space).abs() <= 1e-9 * space,
                    "{flat} on the sheet, {space} in space"
                );
            }
        }
    }
}

#[test]
fn a_cylinder_unrolls_to_a_rectangle() {
    let sheet = wall(&[(0.0, 40.0), (120.0, 40.0)], Run::Straight).grown(0.5).sheet(0);
    let (low, high) = sheet.extent_mm();
    assert!((low - DVec2::new(-PI * 40.5, 0.0)).length() < 1e-12);
    assert!((high - DVec2::new(PI * 40.5, 120.0)).length() < 1e-12);
    // Right as seen from outside is right on the sheet.
    assert!(sheet.sheet_from_surface(at(0.5, 3.0)).abs_diff_eq(DVec2::new(20.25, 3.0), 1e-12));
}

/// The development of a cone is a sector of angle 2π sin(half opening angle) about its apex
/// (do Carmo, Differential Geometry of Curves and Surfaces, section 4-2).
#[test]
fn a_cone_unrolls_to_a_sector_about_its_apex() {
    for (start, end) in [(45.0, 33.0), (33.0, 45.0)] {
        let sheet = wall(&[(0.0, start), (100.0, end)], Run::Straight).sheet(0);
        let sine = 0.12;
        let apex = DVec2::new(0.0, if start > end { start / sine } else { -start / sine });
        for place in [at(-PI, 0.0), at(1.0, 40.0), at(2.5, 100.0)] {
            let radius = start + (end - start) * place.along_mm / 100.0;
            let spoke = sheet.sheet_from_surface(place) - apex;
            assert!((spoke.length() - radius / sine).abs() < 1e-9);
            let angle = libm::atan2(spoke.x, spoke.y.abs());
            assert!((angle - place.around * sine).abs() < 1e-12);
        }
        assert!((sheet.sector_rad().expect("a cone") - TAU * sine).abs() < 1e-12);
        let [left, right] = [sheet.cuts()[0], sheet.cuts()[1]];
        let between = (left[1] - left[0]).angle_to(right[1] - right[0]).abs();
        assert!((between - TAU * sine).abs() < 1e-12);
        assert!((left[0].distance(left[1]) - 100.0).abs() < 1e-9);
    }
}

#[test]
fn a_lid_top_unrolls_to_a_full_ring() {
    let sheet = wall(&[(0.0, 10.0), (33.0, 43.0)], Run::Straight).sheet(0);
    let (low, high) = sheet.extent_mm();
    // The ring's middle lies one hole's radius above the start of the front.
    assert!((low - DVec2::new(-43.0, -53.0)).length() < 1e-9);
    assert!((high - DVec2::new(43.0, 33.0)).length() < 1e-9);
    let [left, right] = [sheet.cuts()[0], sheet.cuts()[1]];
    assert!(left[0].distance(right[0]) < 1e-9 && left[1].distance(right[1]) < 1e-9);
}

#[test]
fn borders_stay_within_a_hundredth_of_their_arcs() {
    let sheet = wall(&[(0.0, 20.0), (60.0, 50.0)], Run::Straight).sheet(0);
    let apex = DVec2::new(0.0, -40.0);
    for (border, radius) in sheet.borders().iter().zip([40.0, 100.0]) {
        for pair in border.windows(2) {
            let middle = (pair[0] + pair[1]) / 2.0;
            let off = radius - middle.distance(apex);
            assert!((0.0..=0.01).contains(&off), "{off} mm off");
        }
    }
}

#[test]
fn a_smooth_band_is_off_by_no_more_than_it_says_and_says_no_more_than_it_must() {
    let points = [(0.0, 36.0), (30.0, 41.0), (70.0, 43.5), (120.0, 42.0), (165.0, 36.0)];
    for surface in [wall(&points, Run::Smooth), wall(&points, Run::Smooth).grown(1.2)] {
        let sheet = surface.sheet(0);
        let mut worst = 0.0_f64;
        for k in 0..=660 {
            let along = 0.25 * f64::from(k);
            let (flat, _) = lengths(&surface, &sheet, |u| at(-PI + TAU * u, along));
            worst = worst.max((flat - TAU * surface.around_scale_mm(along)).abs());
        }
        assert!(worst <= sheet.error_mm() + 1e-9, "{worst} mm, said {}", sheet.error_mm());
        assert!(worst > sheet.error_mm() - 0.01, "{worst} mm, said {}", sheet.error_mm());
        let (flat, space) = lengths(&surface, &sheet, |u| at(1.0, 165.0 * u));
        assert!((flat - space).abs() < 1e-4, "{flat} on the sheet, {space} in space");
    }
}

#[test]
fn a_plate_is_its_own_sheet() {
    let plate =
        Surface::flat(&Outline::Rectangle { width_mm: 50.0, height_mm: 30.0, corner_mm: 4.0 })
            .expect("a sound outline");
    let sheet = plate.sheet(0);
    assert_eq!(sheet.sheet_from_surface(at(7.0, -3.0)), DVec2::new(7.0, -3.0));
    assert!(sheet.extent_mm().0.abs_diff_eq(DVec2::new(-25.0, -15.0), 1e-12));
    assert_eq!((sheet.error_mm(), sheet.sector_rad()), (0.0, None));
    assert!(sheet.cuts().is_empty());
}
