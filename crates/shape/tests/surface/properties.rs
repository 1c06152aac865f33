//! What holds for every cup.

use crate::at;
use crate::cups::any_cup;
use proptest::prelude::*;
use shape::{Band, Surface};
use std::f64::consts::PI;

/// A cup, or a rejected case where a smooth run is impossible.
fn surface(measures: &[piece::Measure]) -> Result<Surface, TestCaseError> {
    Surface::revolved(measures).map_err(|_| TestCaseError::reject("no such smooth curve"))
}

/// A place inside a band, a little off its ends, and half the step for differences.
fn inside(band: &Band, u: f64) -> (f64, f64) {
    let (start, end) = band.along_mm;
    let half = (0.05_f64).min((end - start) / 8.0);
    (start + half + u * (end - start - 2.0 * half), half)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 256, max_global_rejects: 20_000, ..ProptestConfig::default() })]

    #[test]
    fn growing_by_nothing_changes_nothing(cup in any_cup()) {
        let bare = surface(&cup)?;
        prop_assert_eq!(&bare.grown(0.0), &bare);
        let (twice, once) = (bare.grown(0.3).grown(0.7), bare.grown(1.0));
        prop_assert!((twice.area_mm2() - once.area_mm2()).abs() < 1e-9 * once.area_mm2());
    }

    #[test]
    fn the_measured_girths_are_kept(cup in any_cup()) {
        let bare = surface(&cup)?;
        for measure in &cup {
            prop_assert!((bare.around_scale_mm(measure.along_mm) - measure.radius_mm).abs() < 1e-9);
        }
        let last = cup[cup.len() - 1].along_mm;
        prop_assert!((bare.wall_mm() - last).abs() < 1e-9 * last);
        prop_assert!(bare.z_range_mm().0.abs() < 1e-9);
    }

    #[test]
    fn scales_and_normals_fit_the_places_around_them(
        cup in any_cup(), pick in any::<prop::sample::Index>(), u in 0.0..1.0, around in -PI..PI, t in 0.0..1.5,
    ) {
        let grown = surface(&cup)?.grown(t);
        let band = pick.get(grown.bands()).clone();
        let (along, half) = inside(&band, u);
        let place = at(around, along);
        let world = grown.world_from_surface(place);
        let radius = grown.around_scale_mm(along);
        prop_assert!((world.truncate().length() - radius).abs() < 1e-9);

        let across = (grown.world_from_surface(at(around + 1e-4, along))
            - grown.world_from_surface(at(around - 1e-4, along))) / 2e-4;
        let down = (grown.world_from_surface(at(around, along + half))
            - grown.world_from_surface(at(around, along - half))) / (2.0 * half);
        let normal = grown.normal(place);
        prop_assert!((normal.length() - 1.0).abs() < 1e-12);
        prop_assert!(normal.dot(across).abs() < 1e-6 * radius);
        prop_assert!((across.length() - radius).abs() < 1e-6 * radius);
        // Rightwards, downwards and outwards make a right-handed frame.
        prop_assert!(down.cross(across).dot(normal) > 0.0);
        if band.straight {
            prop_assert!(normal.dot(down).abs() < 1e-9);
            prop_assert!((down.length() - 1.0).abs() < 1e-9);
            prop_assert!((grown.along_scale(along) - 1.0).abs() < 1e-12);
        } else if grown.along_scale(along) > 0.2 {
            // Smooth walls come in pieces of 0.1 mm, slightly bent ones in straight pieces.
            let bent = libm::sin(5.0_f64.to_radians());
            prop_assert!(normal.dot(down).abs() <= bent);
            prop_assert!((down.length() - grown.along_scale(along)).abs() < 0.05);
        }
    }

    /// The first coat's volume is area times thickness, and that of the two level discs, which rise
    /// and sink with the rims (divergence theorem): an independent check of area against volume.
    #[test]
    fn a_thin_coat_adds_its_area_to_the_volume(cup in any_cup()) {
        let bare = surface(&cup)?;
        let t = 1e-4;
        let gained = (bare.grown(t).volume_ml() - bare.volume_ml()) * 1000.0 / t;
        let last = cup.len() - 1;
        let (top, foot) = (bare.place_in_band(0, at(0.0, 0.0)).1.z,
            bare.place_in_band(bare.bands().len() - 1, at(0.0, cup[last].along_mm)).1.z);
        let disc = |radius: f64, up: f64| PI * radius * radius * up;
        let discs = disc(cup[0].radius_mm, top) - disc(cup[last].radius_mm, foot);
        let expected = bare.area_mm2() + discs;
        prop_assert!((gained - expected).abs() < 1e-3 * bare.area_mm2(), "{gained} and {expected}");
    }

    #[test]
    fn rings_of_a_mesh_are_near_enough_and_miss_no_crease(cup in any_cup(), step in 0.5..30.0) {
        let bare = surface(&cup)?;
        let stops = bare.along_stops_mm(step);
        let (first, last) = bare.along_range_mm();
        prop_assert_eq!((stops[0], stops[stops.len() - 1]), (first, last));
        for pair in stops.windows(2) {
            prop_assert!(pair[0] < pair[1] && pair[1] - pair[0] <= step * (1.0 + 1e-6));
        }
        for band in bare.bands() {
            prop_assert!(stops.contains(&band.along_mm.0) && stops.contains(&band.along_mm.1));
        }
        // No more than twice as many as even spacing needs, besides one for each band and kink.
        prop_assert!(stops.len() as f64 <= 2.0 * last / step + 2.0 * cup.len() as f64 + 2.0);
    }

    #[test]
    fn sheets_of_straight_bands_have_the_scales_of_the_surface(
        cup in any_cup(), u in 0.0..1.0, around in -3.0..3.0, t in 0.0..1.5,
    ) {
        let grown = surface(&cup)?.grown(t);
        for (i, band) in grown.bands().iter().enumerate() {
            let sheet = grown.sheet(i);
            if !band.straight {
                prop_assert!(sheet.error_mm().is_finite());
                continue;
            }
            let (along, half) = inside(band, u);
            let across = (sheet.sheet_from_surface(at(around + 1e-4, along))
                - sheet.sheet_from_surface(at(around - 1e-4, along))) / 2e-4;
            let down = (sheet.sheet_from_surface(at(around, along + half))
                - sheet.sheet_from_surface(at(around, along - half))) / (2.0 * half);
            let radius = grown.around_scale_mm(along);
            prop_assert!((across.length() - radius).abs() < 1e-6 * radius);
            prop_assert!((down.length() - 1.0).abs() < 1e-6);
            prop_assert!(across.dot(down).abs() < 1e-6 * radius);
            prop_assert!(across.perp_dot(down) > 0.0);
        }
    }
}
