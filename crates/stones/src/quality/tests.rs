//! The figures against closed forms and against looking at all stones.

use super::*;
use piece::Settings;
use proptest::prelude::*;
use shape::{Field, Shape};
use std::f64::consts::TAU;

/// Diameter of an SS10, mm.
const WIDE_MM: f64 = 2.8;

fn shape(part: &str, region: &str) -> Shape {
    let text = format!(
        "cupwright = 1\ntitle = \"Trial\"\n[colours]\n\"ebb\" = \"#1f6f78\"\n[[part]]\n{part}\n\
         [[zone]]\nname = \"face\"\npart = \"face\"\n{region}\n\
         stones = {{ layout = \"rows\", size = \"SS10\", colour = \"ebb\" }}\n"
    );
    let piece = text.parse().unwrap_or_else(|faults| panic!("{faults:?}\n{text}"));
    shape::shape(&piece, &Settings::demo()).expect("a sound piece")
}

fn plate(width_mm: f64, height_mm: f64) -> Shape {
    let part = format!(
        "name = \"face\"\nrole = \"topper\"\n\
         flat = {{ width = \"{width_mm} mm\", height = \"{height_mm} mm\", corner = \"0 mm\" }}"
    );
    shape(&part, "inset = \"0 mm\"")
}

fn cylinder(radius_mm: f64) -> Shape {
    let part = format!(
        "name = \"face\"\nrole = \"body\"\nrevolved = [ {{ along = \"0 mm\", radius = \"{radius_mm} mm\" }}, \
         {{ along = \"60 mm\", radius = \"{radius_mm} mm\" }} ]"
    );
    shape(&part, "band = { from = \"15 mm\", to = \"45 mm\" }")
}

/// Looks at discs of a radius, in places of the surface, on the only zone.
fn look(shape: &Shape, places: &[(f64, f64)], radius_mm: f64, smallest: Smallest) -> Quality {
    let discs: Vec<(f64, f64, f64)> =
        places.iter().map(|(around, along)| (*around, *along, radius_mm)).collect();
    look_at(shape, &discs, smallest)
}

fn look_at(shape: &Shape, places: &[(f64, f64, f64)], smallest: Smallest) -> Quality {
    let zone = &shape.zones[0];
    let field = Field::new(&zone.surface, &zone.area);
    let ground = Ground::new(&zone.surface, &field, &zone.area, &[]).expect("some area");
    Seen::of(&ground, &discs(shape, places), Some(smallest), &|_| 0, Going::always()).figures(0)
}

fn discs(shape: &Shape, places: &[(f64, f64, f64)]) -> Vec<Disc> {
    let disc = |(around, along_mm, radius_mm): &(f64, f64, f64)| {
        let at = SurfacePoint { around: *around, along_mm: *along_mm };
        let centre_mm = shape.zones[0].surface.world_from_surface(at);
        Disc { zone: 0, at, centre_mm, radius_mm: *radius_mm, gap_mm: 0.0 }
    };
    places.iter().map(disc).collect()
}

fn near(is: f64, expected: f64) {
    assert!((is - expected).abs() < 1e-6, "{is} instead of {expected}");
}

/// Columns and rows of a square lattice that lies flush in a plate of its own size.
fn square(columns: u32, rows: u32, gap_mm: f64) -> (Shape, Vec<(f64, f64)>) {
    let pitch_mm = WIDE_MM + gap_mm;
    let side = |count: u32| f64::from(count) * pitch_mm - gap_mm;
    let at =
        |index: u32, count: u32| WIDE_MM / 2.0 + f64::from(index) * pitch_mm - side(count) / 2.0;
    let place = |row: u32| move |column: u32| (at(column, columns), at(row, rows));
    let places = (0..rows).flat_map(|row| (0..columns).map(place(row))).collect();
    (plate(side(columns), side(rows)), places)
}

#[test]
fn a_square_lattice_has_its_gap_four_ways_and_a_pocket_in_every_square() {
    let (columns, rows, gap_mm) = (9, 6, 0.3);
    let (shape, places) = square(columns, rows, gap_mm);
    // Half the diagonal of a square less the radius of a stone: 0.792 mm.
    let hole_mm = (WIDE_MM + gap_mm) / 2.0_f64.sqrt() - WIDE_MM / 2.0;
    let pockets = |smaller_mm: f64| {
        let smallest = Smallest { radius_mm: hole_mm - 0.1 - smaller_mm, gap_mm: 0.1 };
        look(&shape, &places, WIDE_MM / 2.0, smallest).pockets
    };
    // A stone that fits by 0.02 mm, and one that fails by as much.
    assert_eq!(pockets(0.02), Some(((columns - 1) * (rows - 1)) as usize));
    assert_eq!(pockets(-0.02), Some(0));
    let found = look(&shape, &places, WIDE_MM / 2.0, Smallest { radius_mm: 0.9, gap_mm: 0.1 });
    let gaps = found.gaps.expect("neighbours");
    // Across columns and across rows, never along a diagonal.
    assert_eq!(gaps.pairs, ((columns - 1) * rows + columns * (rows - 1)) as usize);
    for is in [gaps.mean_mm, gaps.least_mm, gaps.nine_in_ten_mm] {
        near(is, gap_mm);
    }
    near(gaps.spread_mm, 0.0);
    // No hole is 1.7 mm wide: the widest is 1.584 mm.
    assert_eq!(found.wide_holes, Some(0));
    // Every stone of the rim touches the edge, and no place of it is half a stone off.
    let edge = found.edge.expect("an edge");
    assert_eq!(edge.stones, (2 * (columns + rows) - 4) as usize);
    for is in [edge.mean_mm, edge.spread_mm, edge.bare] {
        near(is, 0.0);
    }
}

#[test]
fn a_stone_taken_out_is_a_wide_hole_and_a_ragged_edge() {
    let (shape, mut places) = square(9, 6, 0.3);
    let smallest = Smallest { radius_mm: WIDE_MM / 2.0, gap_mm: 0.3 };
    let whole = look(&shape, &places, WIDE_MM / 2.0, smallest);
    assert_eq!((whole.pockets, whole.wide_holes), (Some(0), Some(0)));
    let inner = places.remove(2 * 9 + 4);
    let holed = look(&shape, &places, WIDE_MM / 2.0, smallest);
    // Where it lay, one of its kind fits exactly, which rounding may deny; a hole it is.
    assert_eq!(holed.wide_holes, Some(1));
    let roomy = Smallest { radius_mm: WIDE_MM / 2.0 - 0.02, gap_mm: 0.3 };
    assert_eq!(look(&shape, &places, WIDE_MM / 2.0, roomy).pockets, Some(1));
    places.insert(2 * 9 + 4, inner);
    places.remove(4);
    let bitten = look(&shape, &places, WIDE_MM / 2.0, smallest).edge.expect("an edge");
    let whole = whole.edge.expect("an edge");
    assert_eq!(bitten.stones, whole.stones - 1);
    // A place of the edge is half a stone from the girdle of the next stone at sqrt(3) radii from
    // its foot; what is left between two of them is bare. The edge is looked at every half mm.
    let bare_mm = 2.0 * (3.1 - 3.0_f64.sqrt() * 1.4);
    let round_mm = 2.0 * (9.0 * 3.1 - 0.3 + 6.0 * 3.1 - 0.3);
    assert!((bitten.bare * round_mm - bare_mm).abs() < 0.5, "{bitten:?}");
}

#[test]
fn a_honeycomb_has_its_gap_six_ways() {
    let (columns, rows, gap_mm) = (10_u32, 7_u32, 0.15);
    let pitch_mm = WIDE_MM + gap_mm;
    let place = |row: u32, column: u32| {
        let shift = 0.5 * f64::from(row % 2);
        let down = f64::from(row) * 3.0_f64.sqrt() / 2.0;
        ((f64::from(column) + shift - 5.0) * pitch_mm, (down - 2.6) * pitch_mm)
    };
    let places: Vec<(f64, f64)> =
        (0..rows).flat_map(|row| (0..columns).map(move |column| place(row, column))).collect();
    let shape = plate(40.0, 30.0);
    let found = look(&shape, &places, WIDE_MM / 2.0, Smallest { radius_mm: 1.4, gap_mm });
    let gaps = found.gaps.expect("neighbours");
    // Along a row columns - 1; between two rows each stone has two below it but for one at an end.
    assert_eq!(gaps.pairs, (rows * (columns - 1) + (rows - 1) * (2 * columns - 1)) as usize);
    for is in [gaps.mean_mm, gaps.least_mm, gaps.nine_in_ten_mm] {
        near(is, gap_mm);
    }
    near(gaps.spread_mm, 0.0);
}

#[test]
fn gaps_on_a_wall_are_straight_ones_through_space_and_have_no_seam() {
    let radius_mm = 30.0;
    let shape = cylinder(radius_mm);
    let count = 60_u32;
    let places: Vec<(f64, f64)> =
        (0..count).map(|step| (TAU * f64::from(step) / f64::from(count) - 3.0, 30.0)).collect();
    let found = look(&shape, &places, WIDE_MM / 2.0, Smallest { radius_mm: 1.4, gap_mm: 0.1 });
    let gaps = found.gaps.expect("neighbours");
    // The chord of a sixtieth of the round, less two radii.
    let chord_mm = 2.0 * radius_mm * libm::sin(TAU / f64::from(count) / 2.0);
    assert_eq!(gaps.pairs, count as usize);
    for is in [gaps.mean_mm, gaps.least_mm, gaps.nine_in_ten_mm] {
        near(is, chord_mm - WIDE_MM);
    }
    // The edges are 15 mm off: no stone lies at them.
    assert_eq!(found.edge, None);
}

#[test]
fn nothing_is_said_of_what_is_not_there() {
    let shape = plate(20.0, 20.0);
    let none = look(&shape, &[], 1.4, Smallest { radius_mm: 1.4, gap_mm: 0.1 });
    assert_eq!((none.gaps, none.pockets, none.edge), (None, None, None));
    let one = look(&shape, &[(0.0, 0.0)], 1.4, Smallest { radius_mm: 1.4, gap_mm: 0.1 });
    assert_eq!(one.gaps, None);
    // An open place counts, however many it would take.
    assert_eq!((one.pockets > Some(0), one.wide_holes > Some(0)), (true, true));
}

/// Neighbours and their gaps, by looking at every pair and every third stone.
fn gaps_slowly(discs: &[Disc], own_mm: f64) -> Vec<f64> {
    let mut gaps = Vec::new();
    for (i, a) in discs.iter().enumerate() {
        for (j, b) in discs.iter().enumerate().skip(i + 1) {
            let apart_mm = a.centre_mm.distance(b.centre_mm);
            let gap_mm = apart_mm - a.radius_mm - b.radius_mm;
            let way = (b.centre_mm - a.centre_mm) / apart_mm;
            let middle = a.centre_mm + way * (a.radius_mm + gap_mm / 2.0);
            let free = discs.iter().enumerate().all(|(k, c)| {
                k == i || k == j || c.centre_mm.distance(middle) > c.radius_mm + gap_mm / 2.0 + 1e-6
            });
            if gap_mm <= own_mm && free {
                gaps.push(gap_mm);
            }
        }
    }
    gaps
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn scattered_stones_have_the_figures_that_looking_at_all_gives(
        tried in prop::collection::vec((-1.0..1.0_f64, -1.0..1.0_f64, 0.9..2.4_f64), 20..160),
        round in any::<bool>(),
    ) {
        let shape = if round { cylinder(14.0) } else { plate(60.0, 30.0) };
        let place = |(x, y, radius_mm): (f64, f64, f64)| if round {
            (x * TAU / 2.0, 30.0 + y * (15.0 - radius_mm), radius_mm)
        } else {
            (x * (30.0 - radius_mm), y * (15.0 - radius_mm), radius_mm)
        };
        let mut laid: Vec<Disc> = Vec::new();
        let mut places = Vec::new();
        for one in tried.into_iter().map(place) {
            let disc = discs(&shape, &[one])[0];
            let free = |other: &Disc| {
                other.centre_mm.distance(disc.centre_mm) >= other.radius_mm + disc.radius_mm
            };
            if laid.iter().all(free) {
                laid.push(disc);
                places.push(one);
            }
        }
        let smallest = Smallest { radius_mm: 0.9, gap_mm: 0.1 };
        let found = look_at(&shape, &places, smallest);
        let zone = &shape.zones[0];
        let own_mm = (zone.area_mm2 / laid.len() as f64).sqrt();
        let slow = gaps_slowly(&laid, own_mm);
        match found.gaps {
            None => prop_assert!(slow.is_empty()),
            Some(gaps) => {
                prop_assert_eq!(gaps.pairs, slow.len());
                let mean = slow.iter().sum::<f64>() / slow.len() as f64;
                let least = slow.iter().copied().fold(f64::INFINITY, f64::min);
                let wider = slow.iter().filter(|gap| **gap > gaps.nine_in_ten_mm + 1e-9).count();
                prop_assert!((gaps.mean_mm - mean).abs() < 1e-9);
                prop_assert!((gaps.least_mm - least).abs() < 1e-12);
                prop_assert!(10 * wider <= slow.len());
            }
        }
        // Free places on a fine grid: where one has room and to spare there must be a pocket, and
        // where a pocket is there must be one that nearly has room.
        let field = Field::new(&zone.surface, &zone.area);
        let mut widest_mm = f64::NEG_INFINITY;
        for i in 0..200 {
            for j in 0..100 {
                let (x, y) = (f64::from(i) / 99.5 - 1.0, f64::from(j) / 49.5 - 1.0);
                let (around, along_mm, _) = place((x, y, 0.9));
                let at = SurfacePoint { around, along_mm };
                let centre_mm = zone.surface.world_from_surface(at);
                let room_mm = laid.iter().map(|disc| {
                    disc.centre_mm.distance(centre_mm) - disc.radius_mm - smallest.gap_mm
                });
                widest_mm = widest_mm.max(room_mm.fold(field.clearance_mm(at), f64::min));
            }
        }
        if widest_mm > smallest.radius_mm + 0.01 {
            prop_assert!(found.pockets > Some(0), "{widest_mm} mm free");
        }
        // Steps of the grid are at most 0.45 mm, so that it misses no place by more than 0.32 mm.
        if found.pockets > Some(0) {
            prop_assert!(widest_mm > smallest.radius_mm - 0.33, "{widest_mm} mm free");
        }
    }
}

#[test]
fn a_honeycomb_that_closes_round_a_wall_covers_what_the_plane_lattice_does() {
    // Columns that close at just the gap, and a band that takes just so many rows: the honeycomb of
    // the plane (Thue) but for the strips outside the first and the last row, and the bend of the
    // wall, which is below 0.1 %.
    let (columns, rows, gap_mm) = (90_u32, 24_u32, 0.1);
    let pitch_mm = WIDE_MM + gap_mm;
    let radius_mm = 1.000_01 * pitch_mm / (2.0 * libm::sin(TAU / 2.0 / f64::from(columns)));
    let step_mm = 3.0_f64.sqrt() / 2.0 * pitch_mm;
    let high_mm = WIDE_MM + f64::from(rows - 1) * step_mm;
    let text = format!(
        "cupwright = 1\ntitle = \"Trial\"\n[colours]\n\"ebb\" = \"#1f6f78\"\n[[part]]\nname = \"body\"\n\
         revolved = [ {{ along = \"0 mm\", radius = \"{radius_mm} mm\" }}, {{ along = \"120 mm\", radius = \"{radius_mm} mm\" }} ]\n\
         [[zone]]\nname = \"tide\"\npart = \"body\"\nband = {{ from = \"20 mm\", to = \"{} mm\" }}\n\
         stones = {{ layout = \"rows\", size = \"SS10\", gap = \"{gap_mm} mm\", colour = \"ebb\" }}\n",
        20.001 + high_mm
    );
    let piece = text.parse().unwrap_or_else(|faults| panic!("{faults:?}\n{text}"));
    let shape = shape::shape(&piece, &Settings::demo()).expect("a sound piece");
    let laid = crate::lay_stones(&piece, &shape, &Settings::demo(), &mut |_| true).expect("stones");
    let (limit, filled) = (TAU / 2.0 / 12.0_f64.sqrt(), &laid.zones[0]);
    let bounded = f64::from(rows) * step_mm / high_mm;
    let share = WIDE_MM / pitch_mm;
    assert_eq!(filled.count, (columns * rows) as usize);
    assert!((filled.coverage - limit * share * share * bounded).abs() < 1e-3, "{filled:?}");
    assert!((filled.effective_coverage - limit * bounded).abs() < 1e-3, "{filled:?}");
    let gaps = filled.quality.gaps.expect("neighbours");
    assert!((gaps.mean_mm - gap_mm).abs() < 2e-3 && gaps.spread_mm < 2e-3, "{gaps:?}");
    assert_eq!((filled.quality.pockets, filled.quality.wide_holes), (Some(0), Some(0)));
}
