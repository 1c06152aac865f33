//! Stones that would keep a lid from seating.

mod support;

use piece::Severity;
use support::{Laid, band, lay, rows};

/// A cup with a lid that goes 6 mm over its rim, or into it, and rows between two distances from the
/// rim of either.
fn cup(lid_radius_mm: f64, part: &str, from_mm: f64, to_mm: f64) -> Laid {
    let zone = rows("wall", &band(from_mm, to_mm), "level", "SS10", 0.1)
        .replace("part = \"body\"", &format!("part = \"{part}\""));
    lay(&format!(
        "cupwright = 1\ntitle = \"Trial\"\n[colours]\nebb = \"#1f6f78\"\nfoam = \"#e8eef0\"\n\
         [[part]]\nname = \"body\"\nrevolved = [ {{ along = \"0 mm\", radius = \"43 mm\" }}, \
         {{ along = \"120 mm\", radius = \"40 mm\" }} ]\n\
         [[part]]\nname = \"lid\"\nsits_on = {{ part = \"body\", sink = \"6 mm\" }}\n\
         revolved = [ {{ along = \"0 mm\", radius = \"10 mm\" }}, \
         {{ along = \"40 mm\", radius = \"{lid_radius_mm} mm\" }}, \
         {{ along = \"55 mm\", radius = \"{lid_radius_mm} mm\" }} ]\n{zone}"
    ))
}

fn told(laid: &Laid) -> Vec<&str> {
    let warnings = laid.stones.notes.iter().filter(|note| note.severity == Severity::Warning);
    warnings.map(|note| note.message.as_str()).filter(|text| text.contains("seating")).collect()
}

#[test]
fn stones_under_a_skirt_are_told_with_their_number() {
    let laid = cup(45.0, "body", 2.0, 60.0);
    // By the definition of `sink`: whatever reaches above 6 mm below the rim, on a wall that leans by
    // atan(3 / 120), 0.9997 of it upright.
    let under = laid.stones.stones.iter();
    let under = under.filter(|stone| stone.at.along_mm * 0.9997 - 1.4 < 6.0).count();
    let told = told(&laid);
    assert_eq!(told.len(), 1, "{told:?}");
    assert!(told[0].starts_with(&format!("{under} stones of zone \"wall\"")), "{told:?} {under}");
}

#[test]
fn stones_clear_of_a_skirt_are_not_told() {
    assert!(told(&cup(45.0, "body", 8.0, 60.0)).is_empty());
    // Nor is a plug in the way of what lies outside the cup.
    assert!(told(&cup(41.0, "body", 2.0, 60.0)).is_empty());
    assert!(told(&cup(45.0, "lid", 41.0, 54.0)).is_empty());
}

#[test]
fn stones_on_a_plug_are_told() {
    assert_eq!(told(&cup(41.0, "lid", 41.0, 54.0)).len(), 1);
    assert!(told(&cup(41.0, "lid", 41.0, 48.0)).is_empty());
}
