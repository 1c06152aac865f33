//! What comes of slips in typing, in every layout: far too many stones, zones too thin, gaps too wide.

mod support;

use piece::{Layout, Severity, StoneFinish, StoneLayer};
use support::{band, body, check_pairs, plate, scatter, try_lay_as};

const WALL: [(f64, f64); 2] = [(0.0, 37.4), (120.0, 37.4)];
/// A cup 2 m high and 1 m wide.
const SLIP: [(f64, f64); 2] = [(0.0, 500.0), (2000.0, 500.0)];
const SPARSE: Layout = Layout::Sparse { apart_mm: 6.0, per_mm2: None };
const LAYOUTS: [Layout; 6] = [
    Layout::Scatter { rounds: None },
    Layout::Outline { rows: 1 },
    Layout::Outline { rows: 3 },
    Layout::Rings,
    SPARSE,
    Layout::Pockets,
];

/// The layout; pockets after a first row along the edges.
fn laid_as(layout: Layout) -> impl Fn(&mut StoneFinish) {
    move |finish| {
        let first = finish.layers[0].clone();
        finish.layers = vec![StoneLayer { layout, ..first.clone() }];
        if layout == Layout::Pockets {
            let row = Layout::Outline { rows: 1 };
            finish.layers.insert(0, StoneLayer { layout: row, ..first });
        }
    }
}

#[test]
fn far_too_many_stones_are_refused_before_any_is_laid() {
    let text = body(&SLIP, &scatter("all", "", &[("SS5", 100.0)], 0.1));
    // The wall is 6.28 m²: over honeycomb cells of 0.866 x 1.9² mm² (Thue) 2,010 thousand stones, or
    // of 0.866 x 6² mm² where they lie 6 mm apart, 202 thousand.
    for (layout, about) in [
        (Layout::Scatter { rounds: None }, "about 2010 thousand"),
        (Layout::Rings, "about 2010 thousand"),
        (SPARSE, "about 202 thousand"),
        (Layout::Sparse { apart_mm: 6.0, per_mm2: Some(0.01) }, "about 63 thousand"),
    ] {
        let begun = std::time::Instant::now();
        let faults = try_lay_as(&text, laid_as(layout)).err().expect("too many stones");
        assert!(faults[0].message.contains(about), "{layout:?}: {}", faults[0].message);
        assert!(begun.elapsed().as_secs() < 20, "{layout:?} began to lay them");
    }
}

#[test]
fn very_many_stones_are_told_before_any_is_laid() {
    // 1.26 m² over honeycomb cells of 0.866 x 2.9² mm² (Thue) are 173 thousand.
    let many = body(&[(0.0, 200.0), (1000.0, 200.0)], &scatter("all", "", &[("SS10", 100.0)], 0.1));
    let few = body(&WALL, &scatter("all", "", &[("SS10", 100.0)], 0.1));
    let told = |text: &str| {
        let piece = support::read(text);
        stones::long_work(&piece, &shape::shape(&piece, &piece::Settings::demo()).expect("a cup"))
    };
    let [found] = &told(&many)[..] else { panic!("one warning") };
    assert!(found.severity == Severity::Warning, "{found:?}");
    assert!(found.message.contains("about 173 thousand stones"), "{}", found.message);
    assert!(told(&few).is_empty());
}

#[test]
fn a_layout_that_finds_the_zone_full_says_so() {
    let text = body(&WALL, &scatter("line", &band(20.0, 25.0), &[("SS10", 100.0)], 0.1));
    let twice = |finish: &mut StoneFinish| {
        let first = finish.layers[0].clone();
        let rows = Layout::Outline { rows: 3 };
        finish.layers = vec![StoneLayer { layout: rows, ..first.clone() }, first];
    };
    let faults = try_lay_as(&text, twice).err().expect("nothing is left");
    let message = &faults[0].message;
    let full = "no stone of SS10 (2.8 mm) fits between those that the layouts before this one lay";
    assert!(message.contains(full), "{message}");
}

#[test]
fn single_stones_and_outlines_on_a_large_wall_are_not_taken_for_a_slip() {
    // Filled with SS5 it would take 100,000 and more; few and far apart, or along its edges, it does not.
    let wall = [(0.0, 100.0), (520.0, 100.0)];
    let text = body(&wall, &scatter("all", "", &[("SS5", 100.0)], 0.1));
    for (layout, least, most) in [
        // The wall is 326,700 mm²; a honeycomb at 30 mm holds 419.
        (Layout::Sparse { apart_mm: 30.0, per_mm2: None }, 250, 419),
        (Layout::Sparse { apart_mm: 20.0, per_mm2: Some(0.001) }, 326, 328),
        // Two edges of 628.3 mm at 1.9 mm.
        (Layout::Outline { rows: 1 }, 658, 660),
    ] {
        let laid = try_lay_as(&text, laid_as(layout)).expect("a large piece");
        let count = laid.stones.stones.len();
        assert!(count >= least && count <= most, "{layout:?}: {count}");
        let many = laid.stones.notes.iter().find(|note| note.message.contains("thousand"));
        assert!(many.is_none(), "{layout:?}: {many:?}");
    }
}

#[test]
fn a_zone_too_thin_for_any_stone_says_how_wide_it_is_in_every_layout() {
    for layout in LAYOUTS {
        let text = body(&WALL, &scatter("line", &band(20.0, 22.0), &[("SS10", 100.0)], 0.1));
        let faults = try_lay_as(&text, laid_as(layout)).err().expect("too thin");
        assert_eq!(
            faults[0].message,
            "a stone of SS10 (2.8 mm) is larger than zone \"line\" can hold: its widest place takes 2.0 mm",
            "{layout:?}"
        );
    }
}

#[test]
fn a_gap_larger_than_the_zone_is_told_and_kept() {
    for layout in LAYOUTS {
        let text = body(&WALL, &scatter("line", &band(20.0, 30.0), &[("SS10", 100.0)], 25.0));
        let laid = try_lay_as(&text, laid_as(layout)).expect("few stones");
        check_pairs(&laid, 25.0);
        // Chords of 27.8 mm on a circle of radius 37.4 mm: floor(pi / asin(27.8 / 74.8)) = 8.
        let count = laid.stones.stones.len();
        assert!((1..=9).contains(&count), "{layout:?}: {count}");
        let told = laid.stones.notes.iter().any(|note| {
            note.severity == Severity::Warning
                && note.message.contains("the gap of 25 mm is larger than zone \"line\"")
        });
        assert!(told, "{layout:?}: {:?}", laid.stones.notes);
    }
}

#[test]
fn rules_that_conflict_are_both_named_in_every_layout() {
    let text = body(&WALL, &scatter("rim", &band(0.5, 7.0), &[("SS20", 50.0), ("SS6", 50.0)], 0.1));
    for layout in LAYOUTS {
        let faults = try_lay_as(&text, |finish| {
            laid_as(layout)(finish);
            finish.rules.wear = Some((8.0, 4.0));
            finish.rules.bond_line_mm = Some(0.03);
        });
        let message = faults.err().expect("a conflict").remove(0).message;
        assert!(message.contains("\"wear\"") && message.contains("\"bond_line\""), "{message}");
    }
}

#[test]
fn a_grade_of_sizes_is_refused_where_one_size_belongs() {
    for (layout, what) in
        [("outline", "an outline is of one size"), ("rings", "rings are of one size")]
    {
        let text = plate("circle = \"50 mm\"", "", &[("SS10", 50.0), ("SS6", 50.0)])
            .replace("layout = \"scatter\"", &format!("layout = \"{layout}\""))
            .replace(", share = \"50 %\"", "")
            .replace("gap =", "grade = { wall = [\"-20 mm\", \"20 mm\"] }, gap =");
        let faults = text.parse::<piece::Piece>().expect_err("two sizes");
        assert!(faults.iter().any(|fault| fault.message.contains(what)), "{faults:?}");
    }
}

#[test]
fn words_in_single_stones_keep_a_gap_larger_than_they_are_and_name_rules_that_conflict() {
    let words = |sizes: &[(&str, f64)], gap_mm: f64| {
        let drawn = "lettering = { text = \"eel\", height = \"14 mm\", along = \"60 mm\" }";
        body(&WALL, &scatter("line", drawn, sizes, gap_mm))
    };
    let laid =
        try_lay_as(&words(&[("SS10", 100.0)], 25.0), laid_as(Layout::Line)).expect("few stones");
    check_pairs(&laid, 25.0);
    // Three letters are about 25 mm wide.
    assert!((1..=3).contains(&laid.stones.stones.len()), "{}", laid.stones.stones.len());
    let told = laid
        .shape
        .notes
        .iter()
        .any(|note| note.severity == Severity::Warning && note.message.contains("25 mm apart"));
    assert!(told, "{:?}", laid.shape.notes);
    let faults = try_lay_as(&words(&[("SS20", 50.0), ("SS6", 50.0)], 0.1), |finish| {
        laid_as(Layout::Line)(finish);
        finish.rules.wear = Some((80.0, 4.0));
        finish.rules.bond_line_mm = Some(0.03);
    });
    let message = faults.err().expect("a conflict").remove(0).message;
    assert!(message.contains("\"wear\"") && message.contains("\"bond_line\""), "{message}");
}
