//! What shares of sizes may mean, sizes that change along a way, and rules on where sizes may lie.

mod support;

use piece::{Blend, Finish, Layout, Settings, StoneFinish, Way};
use shape::shape;
use std::f64::consts::PI;
use stones::limits::rise_mm;
use stones::{Stones, lay_stones};
use support::{band, body, check_pairs, rows, scatter, try_lay_as};

const EIGHT: [&str; 8] = ["SS30", "SS20", "SS16", "SS12", "SS10", "SS8", "SS6", "SS5"];
const WALL: [(f64, f64); 2] = [(0.0, 37.4), (120.0, 37.4)];

fn eight() -> Vec<(&'static str, f64)> {
    EIGHT.iter().map(|name| (*name, 12.5)).collect()
}

fn square_mm2(stones: &Stones, size: usize) -> f64 {
    let of_size = stones.stones.iter().filter(|stone| stone.size == size);
    of_size.map(|stone| stone.diameter_mm * stone.diameter_mm).sum()
}

#[test]
fn shares_of_the_area_are_met_by_area() {
    let text = body(&WALL, &scatter("tide", &band(15.0, 105.0), &eight(), 0.1));
    let by_area = |finish: &mut StoneFinish| finish.layers[0].blend = Blend::Area;
    let laid = try_lay_as(&text, by_area).expect("a sound piece");
    check_pairs(&laid, 0.1);
    let total: f64 = (0..8).map(|size| square_mm2(&laid.stones, size)).sum();
    for (size, name) in EIGHT.iter().enumerate() {
        let share = square_mm2(&laid.stones, size) / total;
        assert!((share - 0.125).abs() < 0.007, "{name} came to {share}");
    }
    assert!(laid.stones.notes.is_empty(), "{:?}", laid.stones.notes);
}

#[test]
fn free_choice_covers_more_than_any_blend_and_heeds_the_weights() {
    let text = body(&WALL, &scatter("tide", &band(15.0, 75.0), &eight(), 0.1));
    let blend = try_lay_as(&text, |_| ()).expect("a sound piece");
    let free =
        try_lay_as(&text, |finish| finish.layers[0].blend = Blend::Free).expect("a sound piece");
    check_pairs(&free, 0.1);
    let (blend, most) = (blend.stones.zones[0].coverage, free.stones.zones[0].coverage);
    // Own trials on a strip twice as high: 0.814 for the blend, 0.838 for free choice in 3 s.
    assert!(most > blend + 0.01 && most > 0.815, "{most} against {blend}");
    let weighed = try_lay_as(&text, |finish| {
        finish.layers[0].blend = Blend::Free;
        finish.layers[0].sizes[0].1 = 0.001;
        finish.layers[0].sizes[4].1 = 0.874;
    });
    let weighed = weighed.expect("a sound piece").stones;
    let share = |stones: &Stones, size| square_mm2(stones, size) / square_mm2(stones, 0).max(1.0);
    assert!(square_mm2(&weighed, 0) < 0.5 * square_mm2(&free.stones, 0));
    assert!(share(&weighed, 4) > 3.0 * share(&free.stones, 4));
}

#[test]
fn sizes_that_change_along_a_way_fall_steadily() {
    let text = body(
        &WALL,
        &scatter("tide", &band(15.0, 105.0), &eight()[1..7], 0.1).replace("12.5 %", "16.6667 %"),
    );
    let ways = [
        Way::Wall { along_mm: (20.0, 100.0) },
        Way::Around { around: (-2.5, 2.5) },
        Way::Line { corners: vec![(-1.0, 30.0), (1.0, 90.0)] },
    ];
    for way in ways {
        let laid = try_lay_as(&text, |finish| finish.layers[0].grade = Some(way.clone()));
        let laid = laid.expect("a sound piece");
        check_pairs(&laid, 0.1);
        let share = |stone: &stones::Stone| match &way {
            Way::Wall { .. } => (stone.at.along_mm - 20.0) / 80.0,
            Way::Around { .. } => (stone.at.around + 2.5) / 5.0,
            // Unrolled, the wall is a plane and the line is straight.
            Way::Line { .. } => {
                let (x, y) = (stone.at.around * 37.4, stone.at.along_mm);
                let (dx, dy) = (74.8, 60.0);
                ((x + 37.4) * dx + (y - 30.0) * dy) / (dx * dx + dy * dy)
            }
        };
        // Far from the line's ends across the back its nearest point is another through space.
        let near = laid.stones.stones.iter().filter(|stone| stone.at.around.abs() < 2.0);
        let mut mean = [(0.0, 0.0); 10];
        for stone in near {
            let at = share(stone);
            if (0.0..1.0).contains(&at) {
                let (sum, count) = &mut mean[(10.0 * at) as usize];
                *sum += stone.diameter_mm;
                *count += 1.0;
            }
        }
        let mean: Vec<f64> =
            mean.iter().filter(|of| of.1 > 20.0).map(|(sum, count)| sum / count).collect();
        assert!(mean.len() >= 8, "{way:?}: {mean:?}");
        assert!(mean.windows(2).all(|pair| pair[1] < pair[0]), "{way:?}: {mean:?}");
        let coverage = laid.stones.zones[0].coverage;
        eprintln!("graded: {coverage} {mean:?}");
        assert!(coverage > 0.74, "{way:?}: {coverage}");
    }
}

#[test]
fn no_small_stone_lies_near_the_ends_of_the_part() {
    let text =
        body(&WALL, &scatter("tide", &band(0.5, 60.0), &[("SS10", 50.0), ("SS6", 50.0)], 0.1));
    let laid =
        try_lay_as(&text, |finish| finish.rules.wear = Some((8.0, 2.4))).expect("a sound piece");
    check_pairs(&laid, 0.1);
    let near = |stone: &&stones::Stone| stone.at.along_mm - stone.diameter_mm / 2.0 < 8.0;
    let (small, large): (Vec<_>, Vec<_>) =
        laid.stones.stones.iter().filter(near).partition(|stone| stone.diameter_mm < 2.4);
    assert!(small.is_empty(), "{small:?}");
    // 2.5 rows and more of SS10 round a girth of 235 mm.
    assert!(large.len() > 180, "{}", large.len());
    assert!(laid.stones.zones[0].coverage > 0.74, "{}", laid.stones.zones[0].coverage);
}

#[test]
fn no_flat_back_rises_above_the_bond_line() {
    // A cone: its radius falls from 40 to 12 mm, and with it the largest stone that beds.
    let cone = [(0.0, 40.0), (80.0, 12.0)];
    let text = body(
        &cone,
        &scatter("tide", &band(10.0, 70.0), &eight()[..5], 0.1).replace("12.5 %", "20 %"),
    );
    let laid =
        try_lay_as(&text, |finish| finish.rules.bond_line_mm = Some(0.1)).expect("a sound piece");
    check_pairs(&laid, 0.1);
    let surface = &laid.shape.zones[0].surface;
    for stone in &laid.stones.stones {
        let rise = rise_mm(surface, stone.at.along_mm, stone.diameter_mm / 2.0);
        assert!(rise <= 0.1 + 1e-4, "{rise} mm under {stone:?}");
    }
    let largest_below = |from: f64| {
        let below = laid.stones.stones.iter().filter(|stone| stone.at.along_mm > from);
        below.map(|stone| stone.diameter_mm).fold(0.0, f64::max)
    };
    // r²/2R with the curvature of the cone, its lean's cosine 0.937 over its radius: 5.6 mm bed at the
    // top, where the radius is 36.5 mm, and 3.87 mm where it is 17.6 mm.
    let largest = largest_below(0.0);
    assert!(largest > 4.6 && largest < 5.6, "{largest}");
    assert!(largest_below(64.0) < 3.9, "{}", largest_below(64.0));
}

#[test]
fn rules_that_leave_nothing_are_told_by_name() {
    let text =
        body(&WALL, &scatter("rim", &band(0.5, 20.0), &[("SS20", 50.0), ("SS6", 50.0)], 0.1));
    let faults = try_lay_as(&text, |finish| {
        finish.rules.wear = Some((8.0, 4.0));
        finish.rules.bond_line_mm = Some(0.03);
    });
    let message = faults.err().expect("a conflict").remove(0).message;
    assert!(message.contains("\"wear\"") && message.contains("\"bond_line\""), "{message}");
    let text = body(&WALL, &rows("rim", &band(0.5, 60.0), "level", "SS6", 0.1));
    let laid =
        try_lay_as(&text, |finish| finish.rules.wear = Some((8.0, 4.0))).expect("a part of it");
    assert!(laid.stones.stones.iter().all(|stone| stone.at.along_mm > 9.0 - 1e-9));
    let notes = &laid.stones.notes;
    assert!(notes.iter().any(|note| note.message.contains("stays bare")), "{notes:?}");
    assert!(notes.iter().any(|note| note.message.contains("left out of zone")), "{notes:?}");
}

#[test]
fn any_number_of_threads_lays_the_same_stones() {
    let text =
        body(&WALL, &scatter("tide", &band(15.0, 75.0), &[("SS10", 40.0), ("SS6", 60.0)], 0.1));
    for blend in [Blend::Count, Blend::Free] {
        let by = |threads: usize| {
            let pool =
                rayon::ThreadPoolBuilder::new().num_threads(threads).build().expect("threads");
            pool.install(|| {
                let laid = try_lay_as(&text, |finish| finish.layers[0].blend = blend);
                laid.expect("a sound piece").stones
            })
        };
        let (one, two) = (by(1), by(2));
        assert!(one.stones.len() > 1500 && one == two, "{blend:?}");
        assert!(one.zones[0].coverage < PI / 12.0_f64.sqrt());
    }
}

#[test]
fn no_more_is_planned_than_the_drawer_holds() {
    let text =
        body(&WALL, &scatter("tide", &band(15.0, 75.0), &[("SS10", 50.0), ("SS6", 50.0)], 0.1));
    let mut piece = support::read(&text);
    let Finish::Stones(finish) = &mut piece.zones[0].finish else { panic!("stones") };
    finish.rules.from_drawer = true;
    let (material, colour) = (finish.material, piece.colours[0].name.clone());
    let mut settings = Settings::demo();
    let held = |size: &str, count| piece::settings::DrawerStones {
        material,
        size: size.into(),
        colour: colour.clone(),
        count,
    };
    settings.drawer = vec![held("SS10", 400), held("SS6", 100_000)];
    let shape = shape(&piece, &settings).expect("a sound piece");
    let laid = lay_stones(&piece, &shape, &settings, &mut |_| true).expect("stones");
    let of = |size: usize| laid.stones.iter().filter(|stone| stone.size == size).count();
    // The zone takes 1,300 of either.
    assert!(of(0) <= 400 && of(0) >= 395 && of(1) > 2000, "{} and {}", of(0), of(1));
    assert!(laid.zones[0].coverage > 0.70, "{}", laid.zones[0].coverage);
    let short = |note: &piece::Diagnostic| note.message.contains("drawer is short");
    assert!(of(0) < 400 || laid.notes.iter().any(short), "{:?}", laid.notes);
    // Two of the piece share the drawer.
    piece.quantity = 2;
    let half = lay_stones(&piece, &shape, &settings, &mut |_| true).expect("stones");
    assert!(half.stones.iter().filter(|stone| stone.size == 0).count() <= 200);
}

#[test]
fn each_size_is_planned_in_the_colours_that_the_drawer_holds_it_in() {
    // The piece has a colour that the stones have not, and theirs in another order.
    let text =
        body(&WALL, &scatter("tide", &band(15.0, 75.0), &[("SS10", 50.0), ("SS6", 50.0)], 0.1))
            .replacen("[colours]", "[colours]\n\"sand\" = \"#c9b28f\"", 1)
            .replacen("name = \"body\"", "name = \"body\"\ncolour = \"sand\"", 1)
            .replacen("colour = \"ebb\" }", "colours = [\"foam\", \"ebb\"] }", 1);
    let mut piece = support::read(&text);
    let Finish::Stones(finish) = &mut piece.zones[0].finish else { panic!("stones") };
    finish.rules.from_drawer = true;
    let material = finish.material;
    let mut settings = Settings::demo();
    let held = |size: &str, colour: &str| piece::settings::DrawerStones {
        material,
        size: size.into(),
        colour: colour.into(),
        count: 300,
    };
    settings.drawer = vec![held("SS10", "ebb"), held("SS6", "foam")];
    let shape = shape(&piece, &settings).expect("a sound piece");
    let laid = lay_stones(&piece, &shape, &settings, &mut |_| true).expect("stones");
    assert!(laid.stones.len() > 500);
    for stone in &laid.stones {
        let colour = piece.colours[stone.colour].name.as_str();
        assert_eq!(colour, ["ebb", "foam"][stone.size], "{stone:?}");
    }
}

#[test]
fn a_blend_that_is_not_met_says_what_keeps_a_size_away() {
    let told = |text: &str, change: &dyn Fn(&mut StoneFinish)| {
        let laid = try_lay_as(text, change).expect("a warning only");
        let missed =
            laid.stones.notes.into_iter().find(|n| n.message.contains("blend was not met"));
        missed.expect("the blend is missed").message
    };
    let mixed = |to| scatter("tide", &band(15.0, to), &[("SS30", 50.0), ("SS6", 50.0)], 0.1);
    let low = told(&body(&WALL, &mixed(21.0)), &|_| {});
    assert!(low.contains("SS30 is 6.4 mm wide") && low.contains("takes 6.0 mm"), "{low}");
    // An SS30 stands 3.2² / (2 · 37.4) = 0.137 mm above this wall (the sagitta).
    let curved = told(&body(&WALL, &mixed(60.0)), &|finish| finish.rules.bond_line_mm = Some(0.1));
    assert!(curved.contains("\"bond_line\" keeps SS30 out of the whole zone"), "{curved}");
}

#[test]
fn an_empty_drawer_is_told_and_one_without_these_stones_is_refused() {
    let text =
        body(&WALL, &scatter("tide", &band(15.0, 40.0), &[("SS10", 50.0), ("SS6", 50.0)], 0.1));
    let mut piece = support::read(&text);
    let Finish::Stones(finish) = &mut piece.zones[0].finish else { panic!("stones") };
    finish.rules.from_drawer = true;
    let mut settings = Settings::demo();
    settings.drawer = Vec::new();
    let shape = shape(&piece, &settings).expect("a sound piece");
    let laid =
        lay_stones(&piece, &shape, &settings, &mut |_| true).expect("as if there were enough");
    assert!(laid.zones[0].coverage > 0.70);
    assert_eq!(laid.notes.len(), 1, "{:?}", laid.notes);
    assert!(laid.notes[0].message.contains("lists no stones in it"), "{:?}", laid.notes);
    settings.drawer = vec![piece::settings::DrawerStones {
        material: piece::StoneMaterial::Glass,
        size: "SS10".into(),
        colour: "of another piece".into(),
        count: 500,
    }];
    let faults = lay_stones(&piece, &shape, &settings, &mut |_| true).expect_err("none of them");
    assert!(faults[0].message.contains("holds no stone of SS10, SS6"), "{faults:?}");
}

#[test]
fn single_stones_and_pockets_take_the_size_asked_for_at_their_place() {
    let sizes: Vec<_> = EIGHT[3..].iter().map(|name| (*name, 20.0)).collect();
    let text = body(&WALL, &scatter("tide", &band(15.0, 55.0), &sizes, 0.1));
    let way = Way::Wall { along_mm: (20.0, 50.0) };
    for layout in [Layout::Sparse { apart_mm: 4.5, per_mm2: None }, Layout::Pockets] {
        let graded = |finish: &mut StoneFinish| {
            finish.layers[0].grade = Some(way.clone());
            finish.layers[0].layout = layout;
        };
        let laid = try_lay_as(&text, graded).expect("a sound piece");
        check_pairs(&laid, 0.1);
        for stone in &laid.stones.stones {
            // Five sizes, the largest (0) at 20 mm and the smallest (4) at 50 mm.
            let asked = 4.0 * ((stone.at.along_mm - 20.0) / 30.0).clamp(0.0, 1.0);
            // Between two sizes either may lie; at an edge or in a pocket a smaller one.
            let off = stone.size as f64 - asked;
            assert!(off > -1.0, "{off}: {stone:?}");
            if layout != Layout::Pockets && (23.0..47.0).contains(&stone.at.along_mm) {
                assert!(off < 1.0, "{off}: {stone:?}");
            }
        }
        let mut counts = [0; 5];
        laid.stones.stones.iter().for_each(|stone| counts[stone.size] += 1);
        assert!(counts.iter().all(|count| *count > 20), "{layout:?}: {counts:?}");
        assert!(laid.stones.notes.is_empty(), "{:?}", laid.stones.notes);
    }
}
