//! Outlines, rings, accents and pockets.

mod support;

use piece::{Blend, Layout, StoneFinish, StoneLayer};
use proptest::prelude::*;
use shape::{Field, Surface, SurfacePoint};
use std::f64::consts::PI;
use support::{Laid, band, body, check_pairs, lay_as, scatter};

const WALL: [(f64, f64); 2] = [(0.0, 37.4), (120.0, 37.4)];
const CONE: [(f64, f64); 2] = [(0.0, 44.0), (120.0, 33.0)];
const LID: [(f64, f64); 3] = [(0.0, 10.0), (33.0, 43.0), (43.0, 44.0)];

/// A plate with one zone all over it.
fn plate(outline: &str, region: &str, sizes: &[(&str, f64)]) -> String {
    let zone = scatter("face", region, sizes, 0.1);
    format!(
        "cupwright = 1\ntitle = \"Trial\"\nseed = 11\n\
         [colours]\n\"ebb\" = \"#1f6f78\"\n\"foam\" = \"#e8eef0\"\n\
         [[part]]\nname = \"body\"\nrole = \"topper\"\nflat = {{ {outline} }}\n{zone}"
    )
}

fn laid_out(layout: Layout) -> impl Fn(&mut StoneFinish) {
    move |finish| finish.layers[0].layout = layout
}

/// The most room that any point of a fine grid has for one more stone, mm, by looking at all stones.
fn most_room_mm(laid: &Laid, diameter_mm: f64, step_mm: f64) -> f64 {
    let zone = &laid.shape.zones[0];
    let field = Field::new(&zone.surface, &zone.area);
    let around: Vec<f64> = zone.area.loops.iter().flatten().map(|at| at.around).collect();
    let low = around.iter().copied().fold(f64::INFINITY, f64::min);
    let high = around.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let (top, bottom) = zone.area.along_range_mm().expect("an area");
    let mut most = f64::NEG_INFINITY;
    let mut along_mm = top;
    while along_mm < bottom {
        let mut turn = low;
        while turn < high {
            let at = SurfacePoint { around: turn, along_mm };
            let edge_mm = field.clearance_mm(at) - diameter_mm / 2.0;
            if edge_mm > most {
                let place = zone.surface.world_from_surface(at);
                let free = laid.stones.stones.iter().map(|stone| {
                    stone.centre_mm.distance(place) - (stone.diameter_mm + diameter_mm) / 2.0 - 0.1
                });
                most = most.max(free.fold(edge_mm, f64::min));
            }
            turn += step_mm / zone.surface.around_scale_mm(along_mm);
        }
        along_mm += step_mm;
    }
    most
}

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
        plate(
            "path = \"M0 -50 L14 -16 L50 -16 L20 6 L30 42 L0 20 L-30 42 L-20 6 L-50 -16 L-14 -16 Z\", width = \"60 mm\"",
            "",
            &sizes,
        ),
    ] {
        let laid = lay_as(&text, with_pockets);
        check_pairs(&laid, 0.1);
        assert!(laid.stones.stones.iter().any(|stone| stone.layer == 1), "no pocket filled");
        let room_mm = most_room_mm(&laid, 1.8, 0.12);
        assert!(room_mm < 1e-3, "{room_mm} mm of room left");
    }
}

const STAR: &str = "path = \"M0 -50 L14 -16 L50 -16 L20 6 L30 42 L0 20 L-30 42 L-20 6 L-50 -16 \
                    L-14 -16 Z\", width = \"60 mm\"";

/// Clear distances from each stone to its nearest other, mm.
fn gaps_mm(laid: &Laid) -> Vec<f64> {
    let stones = &laid.stones.stones;
    let nearest = |a: usize| {
        let others = (0..stones.len()).filter(|b| *b != a);
        let apart = others.map(|b| stones[a].centre_mm.distance(stones[b].centre_mm));
        apart.fold(f64::INFINITY, f64::min) - stones[a].diameter_mm
    };
    (0..stones.len()).map(nearest).collect()
}

#[test]
fn the_outline_of_a_disc_has_the_count_of_a_closed_ring_at_equal_gaps() {
    for across in [30.0, 50.0, 73.0_f64] {
        for (size, diameter_mm) in [("SS6", 2.0), ("SS16", 3.9_f64)] {
            let text = plate(&format!("circle = \"{across} mm\""), "", &[(size, 100.0)]);
            let laid = lay_as(&text, laid_out(Layout::Outline { rows: 1 }));
            check_pairs(&laid, 0.1);
            // Chords of a circle: n = floor(pi / asin(pitch / 2R)).
            let ring_mm = across / 2.0 - diameter_mm / 2.0;
            let count = (PI / libm::asin((diameter_mm + 0.1) / (2.0 * ring_mm))).floor();
            assert_eq!(laid.stones.stones.len(), count as usize, "{across} {size}");
            let gaps = gaps_mm(&laid);
            let (least, most) =
                gaps.iter().fold((f64::INFINITY, 0.0_f64), |(a, b), g| (a.min(*g), b.max(*g)));
            assert!(most - least < 1e-3, "gaps from {least} to {most} mm");
        }
    }
}

#[test]
fn the_outline_of_a_square_has_a_stone_in_each_corner_and_equal_gaps_between() {
    let text = plate("width = \"40 mm\", height = \"40 mm\"", "", &[("SS10", 100.0)]);
    let laid = lay_as(&text, laid_out(Layout::Outline { rows: 1 }));
    check_pairs(&laid, 0.1);
    for (x, y) in [(18.6, 18.6), (-18.6, 18.6), (18.6, -18.6), (-18.6, -18.6)] {
        let near = |at: SurfacePoint| libm::hypot(at.around - x, at.along_mm - y);
        let nearest = laid.stones.stones.iter().map(|stone| near(stone.at));
        let off = nearest.fold(f64::INFINITY, f64::min);
        assert!(off < 1e-3, "no stone in the corner {x} {y}: {off} mm");
    }
    // Between two corners 37.2 mm apart go floor(37.2 / 2.9) = 12 steps.
    assert_eq!(laid.stones.stones.len(), 4 * 12);
    for gap in gaps_mm(&laid) {
        assert!((gap - (37.2 / 12.0 - 2.8)).abs() < 1e-3, "{gap}");
    }
}

#[test]
fn the_outline_of_a_star_has_a_stone_in_each_tip_and_by_each_notch() {
    let laid = lay_as(&plate(STAR, "", &[("SS6", 100.0)]), laid_out(Layout::Outline { rows: 1 }));
    check_pairs(&laid, 0.1);
    let zone = &laid.shape.zones[0];
    // Corners of the drawing, 100 wide, scaled to 60 mm and centred on its box.
    for (index, (x, y)) in
        [(0.0, -50.0), (14.0, -16.0), (50.0, -16.0), (20.0, 6.0), (30.0, 42.0), (0.0, 20.0)]
            .into_iter()
            .enumerate()
    {
        let corner = zone
            .surface
            .world_from_surface(SurfacePoint { around: 0.6 * x, along_mm: 0.6 * (y + 4.0) });
        let nearest = laid.stones.stones.iter().map(|stone| stone.centre_mm.distance(corner));
        let nearest = nearest.fold(f64::INFINITY, f64::min);
        if index % 2 == 1 {
            assert!((nearest - 1.0).abs() < 1e-3, "no stone touches the notch: {nearest} mm");
        } else {
            // A stone in a tip of angle a lies r / sin(a / 2) from it: the two tips differ a little.
            assert!(nearest < 1.0 / libm::sin(0.25), "no stone in the tip: {nearest} mm");
        }
    }
}

#[test]
fn outlines_and_rings_keep_gaps_and_stay_inside_on_wall_cone_lid_and_plates() {
    let one = [("SS10", 100.0)];
    let window = "window = { from = \"120 deg\", to = \"230 deg\" }";
    let across_the_back = format!("{}\n{window}", band(15.0, 60.0));
    for text in [
        body(&WALL, &scatter("tide", &band(15.0, 40.0), &one, 0.1)),
        body(&CONE, &scatter("tide", &band(15.0, 40.0), &one, 0.1)),
        body(&LID, &scatter("tide", &band(0.0, 33.0), &one, 0.1)),
        body(&CONE, &scatter("tide", &across_the_back, &one, 0.1)),
        plate("width = \"40 mm\", height = \"40 mm\"", "", &one),
        plate("circle = \"50 mm\"", "", &one),
        plate(STAR, "", &one),
    ] {
        for layout in [Layout::Outline { rows: 1 }, Layout::Outline { rows: 3 }, Layout::Rings] {
            let laid = lay_as(&text, laid_out(layout));
            check_pairs(&laid, 0.1);
            if layout == Layout::Rings {
                assert!(most_room_mm(&laid, 2.8, 0.1) < 1e-3);
            }
        }
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
