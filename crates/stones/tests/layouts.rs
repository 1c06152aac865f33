//! Accents and pockets.

mod support;

use piece::{Blend, Layout, StoneFinish, StoneLayer};
use proptest::prelude::*;
use shape::{Field, Surface, SurfacePoint};
use std::f64::consts::PI;
use support::{
    Laid, STAR, band, body, check_pairs, laid_out, lay_as, most_room_mm, plate, scatter,
};

const WALL: [(f64, f64); 2] = [(0.0, 37.4), (120.0, 37.4)];
const CONE: [(f64, f64); 2] = [(0.0, 44.0), (120.0, 33.0)];
const LID: [(f64, f64); 3] = [(0.0, 10.0), (33.0, 43.0), (43.0, 44.0)];

fn nearest_mm(laid: &Laid) -> f64 {
    let stones = &laid.stones.stones;
    let pairs = stones
        .iter()
        .enumerate()
        .flat_map(|(i, a)| stones[..i].iter().map(move |b| a.centre_mm.distance(b.centre_mm)));
    pairs.fold(f64::INFINITY, f64::min)
}

#[test]
fn accents_keep_apart_until_no_more_go_in_on_wall_cone_lid_and_plate() {
    let sparse = Layout::Sparse { apart_mm: 8.0, per_mm2: None };
    let one = [("SS10", 100.0)];
    for text in [
        body(&WALL, &scatter("sky", &band(15.0, 75.0), &one, 0.1)),
        body(&CONE, &scatter("sky", &band(15.0, 75.0), &one, 0.1)),
        body(&LID, &scatter("sky", &band(2.0, 30.0), &one, 0.1)),
        plate("width = \"60 mm\", height = \"60 mm\"", "", &one),
    ] {
        let laid = lay_as(&text, laid_out(sparse));
        check_pairs(&laid, 0.1);
        assert!(nearest_mm(&laid) >= 8.0 - 1e-6);
        // Maximal: one more accent, a disc as wide as the distance, finds no room anywhere.
        let zone = &laid.shape.zones[0];
        let field = Field::new(&zone.surface, &zone.area);
        let (top, bottom) = zone.area.along_range_mm().expect("an area");
        let (low, high) = match zone.surface {
            Surface::Flat(_) => (-30.0, 30.0),
            Surface::Revolved(_) => (-PI, PI),
        };
        for i in 0..200 {
            for j in 0..400 {
                let at = SurfacePoint {
                    around: low + (high - low) * f64::from(j) / 400.0,
                    along_mm: top + (bottom - top) * f64::from(i) / 200.0,
                };
                if field.clearance_mm(at) < 1.401 {
                    continue;
                }
                let place = zone.surface.world_from_surface(at);
                let far = laid.stones.stones.iter().map(|s| s.centre_mm.distance(place));
                assert!(far.fold(f64::INFINITY, f64::min) < 8.001, "room left at {at:?}");
            }
        }
    }
}

#[test]
fn accents_at_a_density_are_as_many_as_asked_and_farther_apart_than_darts() {
    let text =
        body(&WALL, &scatter("sky", &band(15.0, 105.0), &[("SS10", 60.0), ("SS6", 40.0)], 0.1));
    let laid = lay_as(&text, laid_out(Layout::Sparse { apart_mm: 5.0, per_mm2: Some(0.008) }));
    check_pairs(&laid, 0.1);
    let area_mm2 = laid.shape.zones[0].area_mm2;
    let count = laid.stones.stones.len();
    assert_eq!(count, (0.008 * area_mm2).round() as usize);
    // A honeycomb's distance is the most there can be (Fejes Tóth 1943); how much of it is kept is
    // from own trials, no source.
    let widest_mm = (2.0 * area_mm2 / (3.0_f64.sqrt() * count as f64)).sqrt();
    assert!(nearest_mm(&laid) > 0.65 * widest_mm, "{} of {widest_mm}", nearest_mm(&laid));
    let large = laid.stones.stones.iter().filter(|stone| stone.diameter_mm > 2.5).count();
    assert!((large as f64 / count as f64 - 0.6).abs() < 0.01);
}

/// Adds a layer of pockets after the first.
fn with_pockets(finish: &mut StoneFinish) {
    let first = finish.layers[0].clone();
    let (large, small) = first.sizes.split_at(1);
    let shared = |sizes: &[(usize, f64)]| {
        sizes.iter().map(|(size, _)| (*size, 1.0 / sizes.len() as f64)).collect::<Vec<_>>()
    };
    finish.layers = vec![
        StoneLayer {
            sizes: shared(large),
            layout: Layout::Sparse { apart_mm: 7.5, per_mm2: None },
            ..first.clone()
        },
        StoneLayer {
            sizes: shared(small),
            layout: Layout::Pockets,
            blend: Blend::Free,
            ..first.clone()
        },
    ];
}

#[test]
fn pockets_leave_no_place_that_takes_the_smallest_stone() {
    let sizes = [("SS30", 40.0), ("SS8", 30.0), ("SS5", 30.0)];
    for text in [
        body(&WALL, &scatter("tide", &band(15.0, 45.0), &sizes, 0.1)),
        body(&CONE, &scatter("tide", &band(15.0, 45.0), &sizes, 0.1)),
        body(&LID, &scatter("tide", &band(0.0, 30.0), &sizes, 0.1)),
        plate(STAR, "", &sizes),
    ] {
        let laid = lay_as(&text, with_pockets);
        check_pairs(&laid, 0.1);
        assert!(laid.stones.stones.iter().any(|stone| stone.layer == 1), "no pocket filled");
        let room_mm = most_room_mm(&laid, 1.8, 0.12);
        assert!(room_mm < 1e-3, "{room_mm} mm of room left");
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 12, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn pockets_and_accents_keep_gaps_and_stay_inside_on_any_cup(
        top in 14.0..50.0_f64,
        lean in -0.3..0.3_f64,
        height in 8.0..30.0_f64,
        width in 60.0..330.0_f64,
        apart in 3.0..12.0_f64,
        pockets in any::<bool>(),
    ) {
        let region = format!(
            "{}\nwindow = {{ from = \"-20 deg\", to = \"{} deg\" }}", band(10.0, 10.0 + height), width - 20.0
        );
        let sizes = [("SS20", 50.0), ("SS6", 30.0), ("SS5", 20.0)];
        let text = body(&[(0.0, top), (80.0, top + 80.0 * lean.max((8.0 - top) / 80.0))], &scatter("tide", &region, &sizes, 0.1));
        let laid = if pockets {
            lay_as(&text, with_pockets)
        } else {
            lay_as(&text, laid_out(Layout::Sparse { apart_mm: apart, per_mm2: None }))
        };
        check_pairs(&laid, 0.1);
        if !pockets {
            prop_assert!(nearest_mm(&laid) >= apart - 1e-6);
        }
    }
}
