//! Stones in a line along strokes: what letters they make, how evenly, and that nothing overlaps.

mod support;

use piece::Severity;
use support::{Laid, band, body, check_pairs, lay, try_lay};

const CAN: [(f64, f64); 2] = [(0.0, 40.0), (160.0, 40.0)];
const CONE: [(f64, f64); 2] = [(0.0, 44.0), (160.0, 33.0)];
const FONTS: [&str; 4] = ["rubik-bold", "bitter-bold", "nunito-extrabold", "pacifico"];
const PITCH_MM: f64 = 2.1;

/// A zone of SS6 along words or a drawing.
fn line(drawn: &str) -> String {
    format!(
        "[[zone]]\nname = \"name\"\npart = \"body\"\n{drawn}\n\
         stones = {{ layout = \"line\", size = \"SS6\", gap = \"0.1 mm\", colour = \"ebb\" }}\n"
    )
}

fn words(text: &str, font: &str, height_mm: f64) -> String {
    line(&format!(
        "lettering = {{ text = \"{text}\", font = \"{font}\", height = \"{height_mm} mm\", along = \"80 mm\" }}"
    ))
}

fn path(data: &str, size: &str) -> Laid {
    lay(&body(&CAN, &line(&format!("art = {{ path = \"{data}\", {size}, along = \"80 mm\" }}"))))
}

/// Pieces of the strokes of the first zone, and how many of them are rings: the first two Betti numbers of
/// a graph (Hatcher, Algebraic Topology, section 2.2), rings being lines less knots and pieces.
fn pieces_and_rings(laid: &Laid) -> (usize, usize) {
    let strokes = &laid.shape.zones[0].strokes;
    let mut knots: Vec<(u64, u64)> = Vec::new();
    let mut group: Vec<usize> = Vec::new();
    let mut lines = 0;
    for stroke in strokes {
        let mut number = |at: &shape::SurfacePoint| {
            let key = (at.around.to_bits(), at.along_mm.to_bits());
            knots.iter().position(|knot| *knot == key).unwrap_or_else(|| {
                knots.push(key);
                group.push(group.len());
                group.len() - 1
            })
        };
        let (a, b) = (number(&stroke[0]), number(&stroke[stroke.len() - 1]));
        let (from, to) = (group[b], group[a]);
        group.iter_mut().filter(|one| **one == from).for_each(|one| *one = to);
        lines += usize::from(stroke.len() > 1);
    }
    let mut pieces = group;
    pieces.sort_unstable();
    pieces.dedup();
    (pieces.len(), lines + pieces.len() - knots.len())
}

#[test]
fn letters_have_as_many_pieces_and_rings_as_they_are_written_with() {
    let letters = [
        ("O", 1, 1),
        ("B", 1, 2),
        ("8", 1, 2),
        ("A", 1, 1),
        ("D", 1, 1),
        ("e", 1, 1),
        ("i", 2, 0),
        ("l", 1, 0),
        ("T", 1, 0),
        ("H", 1, 0),
        ("s", 1, 0),
        ("É", 2, 0),
    ];
    for font in &FONTS[..3] {
        for (letter, pieces, rings) in letters {
            let laid = lay(&body(&CAN, &words(letter, font, 24.0)));
            assert_eq!(pieces_and_rings(&laid), (pieces, rings), "{letter} in {font}");
        }
    }
    // In the script these have loops of their own.
    for (letter, pieces, rings) in [("O", 1, 1), ("i", 2, 0)] {
        let laid = lay(&body(&CAN, &words(letter, "pacifico", 30.0)));
        assert_eq!(pieces_and_rings(&laid), (pieces, rings), "{letter} in pacifico");
    }
}

#[test]
fn an_e_keeps_its_middle_bar_and_an_f_too() {
    for font in &FONTS[..3] {
        for letter in ["E", "F"] {
            let laid = lay(&body(&CAN, &words(letter, font, 22.0)));
            let stones = &laid.stones.stones;
            let left = stones.iter().map(|stone| stone.around_mm).fold(f64::INFINITY, f64::min);
            // Right of the stem and well within the letter, which is 22 mm high about 80 mm.
            let on_bar = stones.iter().filter(|stone| {
                stone.around_mm > left + 1.5 && (stone.at.along_mm - 80.0).abs() < 4.0
            });
            assert!(on_bar.count() >= 2, "{letter} in {font}");
        }
    }
}

#[test]
fn stems_are_straight_and_bars_level() {
    let laid = lay(&body(&CAN, &words("H", "rubik-bold", 24.0)));
    // Round the can each stem lies at one angle, and the bar at one height, but for the ends of the letter.
    let mut columns: Vec<f64> = laid.stones.stones.iter().map(|stone| stone.around_mm).collect();
    columns.sort_by(f64::total_cmp);
    let (left, right) = (columns[0], columns[columns.len() - 1]);
    let near = |at: f64, of: f64| (at - of).abs() < 0.03;
    let on_bar: Vec<&stones::Stone> = laid
        .stones
        .stones
        .iter()
        .filter(|stone| !near(stone.around_mm, left) && !near(stone.around_mm, right))
        .collect();
    assert!((3..12).contains(&on_bar.len()), "{} on the bar", on_bar.len());
    for stone in &on_bar {
        assert!((stone.at.along_mm - on_bar[0].at.along_mm).abs() < 0.03, "{stone:?}");
    }
    // A stone where the bar meets each stem.
    for side in [left, right] {
        let meets = |stone: &&stones::Stone| {
            near(stone.around_mm, side) && (stone.at.along_mm - on_bar[0].at.along_mm).abs() < 0.03
        };
        assert_eq!(laid.stones.stones.iter().filter(meets).count(), 1);
    }
}

#[test]
fn names_keep_their_gaps_everywhere() {
    let lies = ["", ", lie = \"straight\"", ", lie = \"rising\", rise = \"10 deg\""];
    for (wall, font, lie) in [
        (CAN, "rubik-bold", lies[0]),
        (CONE, "rubik-bold", lies[1]),
        (CONE, "bitter-bold", lies[2]),
        (CONE, "nunito-extrabold", lies[0]),
        (CAN, "pacifico", lies[0]),
    ] {
        for text in ["HERON", "Marsh Wren", "Égret", "tide 8"] {
            let zone = words(text, font, 18.0).replace(" }\nstones", &format!("{lie} }}\nstones"));
            assert!(zone.contains(lie), "{zone}");
            let laid = lay(&body(&wall, &zone));
            check_pairs(&laid, 0.1);
            assert!(laid.stones.stones.len() > 12 * text.len() / 2, "{text} in {font}");
        }
    }
}

#[test]
fn a_path_is_followed_at_even_gaps_with_stones_on_ends_corners_and_crossings() {
    // An L of 20 and 12.8 mm: from the end to the corner 20 / 2.1 = 9 steps, then 6.
    let laid = path("M0 0 V20 H12.8", "height = \"20 mm\"");
    assert_eq!(laid.stones.stones.len(), 1 + 9 + 6);
    check_pairs(&laid, 0.1);
    let mut along: Vec<f64> = laid
        .stones
        .stones
        .iter()
        .filter(|stone| (stone.at.along_mm - 90.0).abs() > 0.01)
        .map(|stone| stone.at.along_mm)
        .collect();
    along.sort_by(f64::total_cmp);
    assert!((along[0] - 70.0).abs() < 1e-6, "{along:?}");
    for pair in along.windows(2) {
        // On a straight upright line the step is the ninth part of it.
        assert!((pair[1] - pair[0] - 20.0 / 9.0).abs() < 1e-3, "{along:?}");
    }
    // A cross has a stone in its middle and one on each of its four ends.
    let cross = path("M-10 0 H10 M0 -10 V10", "height = \"20 mm\"");
    let at = |around_mm: f64, along_mm: f64| {
        cross.stones.stones.iter().any(|stone| {
            (stone.around_mm - around_mm).abs() < 0.01
                && (stone.at.along_mm - along_mm).abs() < 0.01
        })
    };
    for (around, along) in [(0.0, 80.0), (-10.0, 80.0), (10.0, 80.0), (0.0, 70.0), (0.0, 90.0)] {
        assert!(at(around, along), "no stone at {around}, {along}");
    }
    // 10 mm hold four steps of 2.1 mm.
    assert_eq!(cross.stones.stones.len(), 1 + 4 * 4);
    check_pairs(&cross, 0.1);
}

#[test]
fn a_ring_closes_evenly() {
    // A circle of 10 mm radius: its chords of 2.1 mm span 2 asin(2.1 / 20), of which 29 fit round.
    let laid = path("M10 0 A10 10 0 1 1 -10 0 A10 10 0 1 1 10 0 Z", "height = \"20 mm\"");
    let most = std::f64::consts::PI / libm::asin(PITCH_MM / 20.0);
    assert_eq!(laid.stones.stones.len(), most as usize);
    check_pairs(&laid, 0.1);
    let nearest = |one: &stones::Stone| {
        let others = laid.stones.stones.iter().filter(|other| *other != one);
        others.map(|other| other.centre_mm.distance(one.centre_mm)).fold(f64::INFINITY, f64::min)
    };
    let gaps: Vec<f64> = laid.stones.stones.iter().map(nearest).collect();
    let spread = gaps.iter().fold(0.0, |most: f64, gap| most.max((gap - gaps[0]).abs()));
    assert!(spread < 0.01, "{gaps:?}");
}

#[test]
fn letters_too_low_for_the_stones_are_told_with_a_height_that_is_enough() {
    let told = |height_mm: f64| {
        let laid = lay(&body(&CAN, &words("wren", "rubik-bold", height_mm)));
        check_pairs(&laid, 0.1);
        let found =
            laid.shape.notes.iter().find(|note| note.message.contains("nearer to each other"));
        found.map(|note| {
            assert_eq!(note.path.0, "zone[0].lettering.height");
            let typed = note.hints[0].split('"').nth(1).expect("a height in quotation marks");
            typed.trim_end_matches(" mm").parse::<f64>().expect("a number")
        })
    };
    let enough_mm = told(5.0).expect("letters of 5 mm are too low for stones of 2 mm");
    assert!((6.0..20.0).contains(&enough_mm), "{enough_mm}");
    assert_eq!(told(enough_mm), None);
}

#[test]
fn strokes_far_shorter_than_the_stones_are_told_and_dots_are_not() {
    let told = |zone: &str| -> Vec<String> {
        let laid = lay(&body(&CAN, zone));
        check_pairs(&laid, 0.1);
        let found = laid.shape.notes.iter().filter(|note| note.message.contains("too short"));
        found.map(|note| format!("{} {}", note.message, note.hints.join(" "))).collect()
    };
    let larger = |zone: String, size: &str| zone.replace("SS6", size);
    for letter in ["E", "l", "X", "L", "S"] {
        let found = told(&larger(words(letter, "rubik-bold", 8.0), "SS48"));
        assert_eq!(found.len(), 1, "{letter}: {found:?}");
        assert!(found[0].contains("11 mm") && found[0].contains("height = "), "{found:?}");
    }
    // Three arms of 4 mm from one place, in stones of 11 mm.
    let star = "art = { path = \"M0 0 V-4 M0 0 L3.5 2 M0 0 L-3.5 2\", height = \"6 mm\", along = \"80 mm\" }";
    assert_eq!(told(&larger(line(star), "SS48")).len(), 1);
    // The same letters in stones that suit them, and a dot in one as wide as itself.
    assert!(told(&words("EX", "rubik-bold", 24.0)).is_empty());
    assert!(told(&words(".", "rubik-bold", 12.0)).is_empty());
}

#[test]
fn the_least_ring_is_one_stone_wide() {
    // Two stones of 2 mm with a gap of 0.1 mm lie 2.1 mm apart across a ring as wide.
    let ring = |width_mm: f64| {
        let data = "M10 0 A10 10 0 1 1 -10 0 A10 10 0 1 1 10 0 Z";
        let laid = path(data, &format!("width = \"{width_mm} mm\""));
        laid.shape.notes.iter().any(|note| note.message.contains("nearer to each other"))
    };
    assert!(ring(2.0) && !ring(2.2));
}

#[test]
fn a_name_is_left_out_of_a_fill_and_has_its_stones_on_a_plate() {
    let fill = format!(
        "[[zone]]\nname = \"ground\"\npart = \"body\"\n{}\nleave_out = [ {{ zone = \"name\", margin = \"0.5 mm\" }} ]\n\
         stones = {{ layout = \"rows\", size = \"SS10\", gap = \"0.1 mm\", colour = \"foam\" }}\n",
        band(60.0, 100.0)
    );
    let laid = lay(&body(&CAN, &(fill + &words("WREN", "rubik-bold", 20.0))));
    let stones = &laid.stones.stones;
    for (i, a) in stones.iter().enumerate() {
        for b in stones[..i].iter().filter(|b| b.zone != a.zone) {
            let clear = a.centre_mm.distance(b.centre_mm) - (a.diameter_mm + b.diameter_mm) / 2.0;
            assert!(clear > 0.55, "{clear}");
        }
    }
    let flat = "cupwright = 1\ntitle = \"Trial\"\n[colours]\n\"ebb\" = \"#1f6f78\"\n[[part]]\nname = \"body\"\n\
                role = \"topper\"\nflat = { circle = \"70 mm\" }\n";
    let plate = lay(&(flat.to_owned() + &words("8", "rubik-bold", 30.0).replace("80 mm", "0 mm")));
    check_pairs(&plate, 0.1);
    assert!(plate.stones.stones.len() > 25);
}

#[test]
fn what_a_line_cannot_follow_is_refused() {
    let wrong = |zone: &str| -> Vec<String> {
        let text = body(&CAN, zone);
        let found = text.parse::<piece::Piece>().err().unwrap_or_default();
        let found = found.into_iter().filter(|one| one.severity == Severity::Error);
        found.map(|one| format!("{} {}", one.path.0, one.message)).collect()
    };
    let bare = wrong(&line(&band(20.0, 60.0)));
    assert!(
        bare[0].starts_with("zone[0].stones.layout ") && bare[0].contains("follows strokes"),
        "{bare:?}"
    );
    let outlined =
        words("WREN", "rubik-bold", 20.0).replace("height", "outline = \"1 mm\", height");
    assert!(wrong(&outlined)[0].starts_with("zone[0].lettering.outline "), "{outlined}");
    let layers = words("WREN", "rubik-bold", 20.0).replace("stones = {", "stones = [ {").replace(
        "colour = \"ebb\" }",
        "colour = \"ebb\" }, { layout = \"pockets\", size = \"SS5\", colour = \"foam\" } ]",
    );
    assert!(wrong(&layers)[0].starts_with("zone[0].stones[0].layout "), "{layers}");
    let point = "art = { path = \"M0 0\", width = \"10 mm\", along = \"80 mm\" }";
    let found = try_lay(&body(&CAN, &line(point))).err().expect("a point is no line");
    assert!(found[0].message.contains("no line"), "{found:?}");
}

/// Places where exactly one stroke ends.
fn free_ends(laid: &Laid) -> Vec<shape::SurfacePoint> {
    let strokes = laid.shape.zones[0].strokes.iter().filter(|stroke| stroke.len() > 1);
    let ends: Vec<shape::SurfacePoint> =
        strokes.flat_map(|stroke| [stroke[0], stroke[stroke.len() - 1]]).collect();
    ends.iter()
        .filter(|end| ends.iter().filter(|other| other == end).count() == 1)
        .copied()
        .collect()
}

#[test]
fn an_a_ends_below_its_bowl_and_where_it_cannot_it_is_named_with_a_height_that_is_enough() {
    for font in ["pacifico", "nunito-extrabold"] {
        let laid = lay(&body(&CAN, &words("a", font, 24.0)));
        let foot = laid.stones.stones.iter().map(|stone| stone.at.along_mm).fold(0.0, f64::max);
        let middle = laid.stones.stones.iter().map(|stone| stone.at.around).sum::<f64>()
            / laid.stones.stones.len() as f64;
        // An a without the foot of its stem is an o (any reader's own eyes): the stem ends on the right, lower
        // than where it meets the bowl, and a stone lies there.
        let ends = free_ends(&laid);
        let stem = ends.iter().find(|end| end.around > middle && end.along_mm > foot - 2.5);
        let stem = stem.unwrap_or_else(|| panic!("{font}: {ends:?}"));
        let near = |stone: &&stones::Stone| (stone.at.along_mm - stem.along_mm).abs() < 0.01;
        assert!(laid.stones.stones.iter().any(|stone| near(&stone)), "{font}");
        let told = |height_mm: f64| {
            let laid = lay(&body(&CAN, &words("a", font, height_mm)));
            let mut notes = laid.shape.notes.into_iter();
            notes.find(|note| note.message.contains("short end of a stroke"))
        };
        assert!(told(24.0).is_none());
        let low = told(16.0).expect("a foot too short for a stone");
        assert!(low.message.contains("the letter `a`"), "{}", low.message);
        let enough = low.hints[0].split('"').nth(1).and_then(|mm| mm.strip_suffix(" mm"));
        let enough: f64 = enough.expect("a height").parse().expect("a height");
        assert!(told(enough).is_none() && told(0.97 * enough).is_some(), "{font} {enough}");
    }
}
