//! Surfaces against meshes made and measured by another library.

use crate::{measures, wall};
use piece::Run;
use shape::Surface;

/// Recipe: SciPy 1.17.1 `CubicSpline(x, y)` for r(s) at 40 001 places, z by
/// `cumulative_simpson(sqrt(1 - r'^2))`; the meridian (every 20th place) moved out by t along its
/// normal (sqrt(1 - r'^2), r'), closed by level discs, turned by `trimesh.creation.revolve`
/// (trimesh 5.2.0) in 360 and in 720 sections; `volume`, and `area` less the discs, extrapolated to
/// a round turn by (4 · fine - coarse) / 3.
#[track_caller]
fn agrees(surface: &Surface, volume_mm3: f64, area_mm2: f64, height_mm: f64, within: f64) {
    let off = |found: f64, expected: f64| ((found - expected) / expected).abs();
    let found = (surface.volume_ml() * 1000.0, surface.area_mm2(), surface.height_mm());
    let worst = off(found.0, volume_mm3).max(off(found.1, area_mm2)).max(off(found.2, height_mm));
    assert!(worst < within, "found {found:?}, off by {worst:e}");
}

#[test]
fn a_smooth_cup_agrees_with_a_mesh_of_it_bare_and_grown() {
    let points =
        [(0.0, 24.5), (22.0, 31.0), (41.0, 39.25), (70.0, 43.5), (118.0, 42.0), (165.0, 35.5)];
    let cup = wall(&points, Run::Smooth);
    agrees(&cup, 780_337.562812, 40_207.988557, 160.963_731_898, 1e-7);
    agrees(&cup.grown(2.5), 886_436.039486, 42_985.319272, 161.503_590_029, 1e-7);
}

#[test]
fn a_stepped_cup_agrees_with_a_mesh_of_it() {
    let cup = wall(&[(0.0, 44.0), (120.0, 40.0), (128.0, 33.5), (200.0, 31.0)], Run::Straight);
    agrees(&cup, 920_216.862530, 48_104.066711, 196.553_588_463, 1e-9);
    let names: Vec<&str> = cup.bands().iter().map(|band| band.name.as_str()).collect();
    assert_eq!(names, ["wall", "step", "lower wall"]);
}

#[test]
fn creases_part_bands_and_slight_bends_do_not() {
    // 4 degrees of bend stay one band, which is then no single cone; 6 degrees make two.
    let bent = |degrees: f64| {
        let turned = 60.0 * libm::sin(degrees.to_radians());
        wall(&[(0.0, 40.0), (60.0, 40.0), (120.0, 40.0 - turned)], Run::Straight)
    };
    assert_eq!(bent(4.0).bands().len(), 1);
    assert!(!bent(4.0).bands()[0].straight);
    assert_eq!(bent(6.0).bands().len(), 2);
    assert!(bent(6.0).bands().iter().all(|band| band.straight));
    // In one band both sides still meet when grown, and each keeps its own angle.
    let grown = bent(4.0).grown(3.0);
    let step = grown.around_scale_mm(60.0 - 1e-9) - grown.around_scale_mm(60.0);
    assert!(step.abs() < 1e-6);

    let straight_through = wall(&[(0.0, 40.0), (60.0, 38.0), (120.0, 36.0)], Run::Straight);
    assert_eq!(straight_through.bands().len(), 1);
    assert!(straight_through.bands()[0].straight);
    let mut marked = measures(&[(0.0, 40.0), (60.0, 38.0), (120.0, 36.0)], Run::Straight);
    marked[1].crease = true;
    let marked = Surface::revolved(&marked).expect("sound measurements");
    assert_eq!(marked.bands().len(), 2);
    assert_eq!((marked.band_at(59.9), marked.band_at(60.0)), (0, 1));
}
