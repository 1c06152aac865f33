//! Counts and coverage against figures of the trade and the theory of packings.

mod support;

use piece::fnv::{EMPTY, fnv1a_64};
use std::f64::consts::PI;
use support::{band, body, lay, rows, scatter, try_lay};

/// Stones for a full wall, touching, on a square grid and as an ideal honeycomb (wall area over d² and
/// over d² √3/2), for SS10, SS12, SS16, SS20, SS30: a table of the trade, reckoned from the cups' sizes,
/// that agrees with sellers' counts per square inch. Its figures belong to a wall 25 mm shorter than
/// the cup: 20 mm bare at the lip and 5 mm at the foot.
const FULL_WALL: [Wall; 6] = [
    Wall {
        cup: "12 oz slim",
        across_mm: (70.0, 70.0),
        height_mm: 150.0,
        counts: [(3510, 4050), (2860, 3300), (1810, 2090), (1240, 1440), (670, 770)],
    },
    Wall {
        cup: "20 oz wide taper",
        across_mm: (88.0, 67.0),
        height_mm: 172.0,
        counts: [(4520, 5220), (3690, 4260), (2330, 2690), (1600, 1850), (870, 1000)],
    },
    Wall {
        cup: "20 oz skinny",
        across_mm: (74.0, 74.0),
        height_mm: 205.0,
        counts: [(5340, 6160), (4350, 5030), (2750, 3180), (1890, 2190), (1020, 1180)],
    },
    Wall {
        cup: "30 oz wide taper",
        across_mm: (103.0, 72.0),
        height_mm: 200.0,
        counts: [(6080, 7020), (4960, 5720), (3130, 3620), (2160, 2490), (1160, 1340)],
    },
    Wall {
        cup: "30 oz skinny",
        across_mm: (81.0, 81.0),
        height_mm: 235.0,
        counts: [(6820, 7870), (5560, 6420), (3510, 4060), (2420, 2790), (1300, 1510)],
    },
    Wall {
        cup: "40 oz upper body",
        across_mm: (99.0, 88.0),
        height_mm: 150.0,
        counts: [(4660, 5380), (3800, 4390), (2400, 2770), (1650, 1910), (890, 1030)],
    },
];

/// A line of the table.
struct Wall {
    cup: &'static str,
    across_mm: (f64, f64),
    height_mm: f64,
    counts: [(u32, u32); 5],
}

const SIZES: [&str; 5] = ["SS10", "SS12", "SS16", "SS20", "SS30"];

#[test]
fn a_full_wall_takes_as_many_stones_as_the_trade_reckons() {
    let mut straight = Vec::new();
    for Wall { cup: name, across_mm: (top, bottom), height_mm: height, counts } in FULL_WALL {
        for (size, (square, honeycomb)) in SIZES.into_iter().zip(counts) {
            let (square, honeycomb) = (f64::from(square), f64::from(honeycomb));
            let zone = rows("wall", &band(20.0, height - 5.0), "level", size, 0.0);
            let laid = lay(&body(&[(0.0, top / 2.0), (height, bottom / 2.0)], &zone));
            let count = laid.stones.stones.len() as f64;
            eprintln!(
                "{name} {size}: {count} of {square} to {honeycomb}, {:.3}",
                count / honeycomb
            );
            assert!(count > square && count < 1.005 * honeycomb, "{name} {size}: {count}");
            // Only whole stones go round and only whole rows fit: at worst one of each is lost. On a
            // taper one stone fewer every few rows costs the nesting there.
            let diameter = laid.stones.stones[0].diameter_mm;
            let whole =
                (1.0 - diameter / (PI * top.min(bottom))) * (1.0 - diameter / (height - 25.0));
            let nesting = if top == bottom { 1.0 } else { 0.965 };
            assert!(count >= nesting * whole * honeycomb, "{name} {size}: {count} of {honeycomb}");
            if top == bottom {
                straight.push(count / honeycomb);
            }
        }
    }
    let mean = straight.iter().sum::<f64>() / straight.len() as f64;
    assert!(mean > 0.97, "straight cups take {mean} of the honeycomb figure on average");
}

#[test]
fn a_square_inch_takes_as_many_stones_as_the_trade_says() {
    // Stones per square inch, square grid (sellers' charts: SS12 67, SS16 42, SS20 29, SS30 15.7; the
    // rest reckoned) and honeycomb, 15 % more.
    let per_in2 =
        [("SS6", 161.0, 186.0), ("SS10", 82.0, 95.0), ("SS16", 42.0, 49.0), ("SS30", 15.7, 18.0)];
    for (size, square, honeycomb) in per_in2 {
        let text = format!(
            "cupwright = 1\ntitle = \"Trial\"\n[colours]\n\"ebb\" = \"#1f6f78\"\n\
             [[part]]\nname = \"topper\"\nflat = {{ width = \"254 mm\", height = \"127 mm\" }}\n\
             [[zone]]\nname = \"field\"\npart = \"topper\"\n\
             stones = {{ layout = \"rows\", size = \"{size}\", colour = \"ebb\", gap = \"0 mm\" }}\n"
        );
        let count = lay(&text).stones.stones.len() as f64 / 50.0;
        eprintln!("{size}: {count} to the square inch, {square} to {honeycomb}");
        assert!(count > square && count < 1.01 * honeycomb, "{size}: {count}");
        // The ragged sides cost about half a stone in every row and every column.
        assert!(count > 0.95 * honeycomb, "{size}: {count}");
    }
}

#[test]
fn no_level_band_round_a_cylinder_is_denser_than_the_densest_packing_of_circles() {
    // Thue; L. Fejes Tóth 1943: circles of one size cover at most pi/sqrt(12) of the plane. Unrolled and
    // laid side by side and row over row, copies of a level band with whole stones in it cover the plane,
    // so the bound is the band's too. It is not that of every zone: one just as large as its only stone
    // is covered wholly.
    for follow in ["level", "edge"] {
        let laid = lay(&body(
            &[(0.0, 40.0), (140.0, 40.0)],
            &rows("wall", &band(15.0, 130.0), follow, "SS6", 0.0),
        ));
        let coverage = laid.stones.zones[0].coverage;
        assert!(coverage < PI / 12.0_f64.sqrt(), "{follow}: {coverage}");
        assert!(coverage > 0.87, "{follow}: {coverage}");
        assert_eq!(laid.stones.zones[0].coverage, laid.stones.zones[0].effective_coverage);
    }
}

#[test]
fn coverage_is_the_circles_over_the_area() {
    let laid = lay(&body(
        &[(0.0, 40.0), (100.0, 40.0)],
        &rows("wall", &band(20.0, 80.0), "level", "SS10", 0.2),
    ));
    let zone = &laid.stones.zones[0];
    let area = 2.0 * PI * 40.0 * 60.0;
    assert!((zone.area_mm2 - area).abs() < 1e-3 * area);
    let circles = |d: f64| zone.count as f64 * PI / 4.0 * d * d / area;
    assert!((zone.coverage - circles(2.8)).abs() < 1e-3);
    assert!((zone.effective_coverage - circles(3.0)).abs() < 1e-3);
}

/// The blend of the packing trials: 40 % SS10, 30 % SS8, 30 % SS6 by count.
const BLEND: [(&str, f64); 3] = [("SS10", 40.0), ("SS8", 30.0), ("SS6", 30.0)];

#[test]
fn a_blend_packs_as_densely_as_the_trials_and_keeps_its_shares() {
    // Own trials with throwaway code: front placement with gap fill covers 0.758 of a strip of
    // 235 x 120 mm closed in the round, at a gap of 0.1 mm. No more than random packings of discs of
    // mixed sizes reach without a gap, about 0.840 (Meer 2024), and the gap takes its part.
    let radius = 235.0 / (2.0 * PI);
    let laid = lay(&body(
        &[(0.0, radius), (150.0, radius)],
        &scatter("strip", &band(15.0, 135.0), &BLEND, 0.1),
    ));
    let coverage = laid.stones.zones[0].coverage;
    eprintln!("strip blend: {coverage}");
    assert!(coverage > 0.75 && coverage < 0.84, "{coverage}");
    for (size, (_, share)) in BLEND.iter().enumerate() {
        let count = laid.stones.stones.iter().filter(|stone| stone.size == size).count();
        let is = 100.0 * count as f64 / laid.stones.stones.len() as f64;
        assert!((is - share).abs() < 2.0, "{is} %, {share} % asked");
    }
    assert!(laid.stones.notes.is_empty(), "{:?}", laid.stones.notes);
}

#[test]
fn a_small_lid_keeps_its_blend_too() {
    // The same trials on an annulus of radius 30 to 44 mm: 0.716.
    let text = "cupwright = 1\ntitle = \"Trial\"\n[colours]\n\"ebb\" = \"#1f6f78\"\n\
        [[part]]\nname = \"body\"\nrole = \"lid\"\n\
        revolved = [ { along = \"0 mm\", radius = \"30 mm\" }, { along = \"14 mm\", radius = \"44 mm\" } ]\n"
        .to_owned()
        + &scatter("top", "inset = \"0 mm\"", &BLEND, 0.1);
    let laid = lay(&text);
    let coverage = laid.stones.zones[0].coverage;
    eprintln!("annulus blend: {coverage}");
    assert!(coverage > 0.70, "{coverage}");
    assert!(laid.stones.notes.is_empty(), "{:?}", laid.stones.notes);
}

#[test]
fn rows_of_equal_count_beat_a_change_in_every_row_on_a_taper() {
    // Own trials on this cone (radius 32 to 44 mm, SS10, gap 0.1 mm): a new count in every row covers
    // 0.754, seven rows of equal count 0.810.
    let laid = lay(&body(
        &[(0.0, 32.0), (120.0, 44.0)],
        &rows("cone", "inset = \"0 mm\"", "level", "SS10", 0.1),
    ));
    let coverage = laid.stones.zones[0].coverage;
    eprintln!("cone rows: {coverage}");
    assert!(coverage > 0.805, "{coverage}");
}

#[test]
fn a_stone_larger_than_its_zone_is_refused_by_name() {
    let zones = rows("tide", &band(20.0, 40.0), "level", "SS10", 0.1)
        + &rows("line", &band(50.0, 53.0), "level", "SS16", 0.1);
    let faults = try_lay(&body(&[(0.0, 40.0), (100.0, 40.0)], &zones)).err().expect("no room");
    assert_eq!(faults.len(), 1);
    assert_eq!(faults[0].path.to_string(), "zone[1].stones.size");
    assert_eq!(
        faults[0].message,
        "a stone of SS16 (3.9 mm) is larger than zone \"line\" can hold: its widest place takes 3.0 mm"
    );
}

#[test]
fn a_blend_that_cannot_be_met_is_told() {
    // The band takes no SS20, so half the stones asked for cannot be laid.
    let zone = scatter("line", &band(50.0, 54.0), &[("SS20", 50.0), ("SS6", 50.0)], 0.1);
    let laid = lay(&body(&[(0.0, 40.0), (100.0, 40.0)], &zone));
    let note =
        laid.stones.notes.iter().find(|note| note.path.to_string() == "zone[0].stones.sizes");
    let note = note.expect("a warning");
    assert!(note.message.contains("SS20 came to 0 %"), "{}", note.message);
}

#[test]
fn stones_of_one_layout_stay_where_they_are_from_version_to_version() {
    // A golden value: a changed layout is no fault, but nobody's half-set cup should change unseen.
    let laid = lay(&body(
        &[(0.0, 43.9), (168.0, 33.7)],
        &(rows(
            "tide",
            "band = { from = { along = \"90 mm\", wave = \"sine\", amplitude = \"5 mm\", count = 5, crest = \"0 deg\" }, to = \"150 mm\" }",
            "edge",
            "SS10",
            0.1,
        ) + &scatter("sky", &band(20.0, 60.0), &BLEND, 0.1)),
    ));
    // FNV-1a over places rounded to 1 µm and colours.
    let mut hash = EMPTY;
    for stone in &laid.stones.stones {
        for value in [stone.centre_mm.x, stone.centre_mm.y, stone.centre_mm.z] {
            hash = fnv1a_64(hash, &((value * 1000.0).round() as i64).to_le_bytes());
        }
        hash = fnv1a_64(hash, &[stone.colour as u8]);
    }
    assert_eq!(
        (laid.stones.stones.len(), format!("{hash:016x}")),
        (3382, "df30492c2f7a66b0".to_owned())
    );
}
