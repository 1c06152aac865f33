//! What is told of the use of a piece, against what the rules name.

use coats::use_notes::{FOOD_CONTACT, about};
use piece::{Piece, Severity};

const CUP: &str = r##"cupwright = 1
title = "Trial"
drinks = "hot"
for_child = true
[colours]
"reed" = "#556b2f"
[[part]]
name = "body"
revolved = [{ along = "0 mm", diameter = "74 mm" }, { along = "205 mm", diameter = "74 mm" }]
[[zone]]
name = "ground"
part = "body"
paint = { colour = "reed" }
[[zone]]
name = "clear"
part = "body"
resin = {}
[[zone]]
name = "tide"
part = "body"
stones = { layout = "rows", size = "SS10", colour = "reed", material = "lead-crystal" }
"##;

fn words(softens_c: Option<f64>) -> String {
    let piece: Piece = CUP.parse().unwrap_or_else(|faults| panic!("{faults:?}"));
    let notes = about(&piece, softens_c);
    assert!(notes.iter().all(|note| note.severity == Severity::Caution), "{notes:?}");
    format!("{notes:?}")
}

#[test]
fn a_cup_for_a_child_is_told_of_lead_in_stones_and_paint_and_of_small_parts() {
    // 15 U.S.C. 1278a: 100 ppm, a coating makes no part inaccessible; 16 CFR 1303: 90 ppm in paint;
    // 16 CFR 1501: cylinder of 1.25 in, 1.00 to 2.25 in deep, for articles for under 3 years.
    let words = words(None);
    for told in [
        "100 ppm",
        "does not change that",
        "90 ppm",
        "16 CFR 1303",
        "16 CFR 1501",
        "31.7 mm",
        "under 3",
    ] {
        assert!(words.contains(told), "{told}: {words}");
    }
    assert!((31.7..31.8).contains(&(1.25 * 25.4)));
}

#[test]
fn hot_drinks_are_held_against_where_the_resin_softens() {
    // Drinks are poured at 80 to 90 °C, many clear resins soften from 50 to 60 °C (from memory).
    assert!(words(None).contains("about 50 to 60 °C"));
    assert!(
        words(Some(52.0)).contains("softens at 52 °C")
            && words(Some(52.0)).contains("takes prints")
    );
    assert!(!words(Some(120.0)).contains("takes prints"));
}

#[test]
fn nothing_is_ever_called_safe_for_food() {
    let all = FOOD_CONTACT.join(" ") + &words(None);
    assert!(!all.to_lowercase().contains("food safe") && !all.contains("food-safe"));
    // 21 CFR 175.300, ASTM C927 with ISO 6486 for the top 20 mm, ASTM F22 for the water-break test.
    for named in [
        "21 CFR 175.300",
        "has not been tested",
        "20 mm",
        "ASTM C927",
        "ISO 6486",
        "ASTM F22",
        "within a minute",
    ] {
        assert!(all.contains(named), "{named}");
    }
}
