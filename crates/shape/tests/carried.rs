//! What is told of a design that was carried to another cup.

use piece::blanks::find;
use piece::carry::{Onto, text};
use piece::{Diagnostic, Piece, Settings};
use proptest::prelude::*;
use shape::carried::{Laid, not_kept};
use shape::{Shape, shape};

const HEAD: &str = "\
cupwright = 1
title = \"Slack water\"
colours = { reed = \"#4a6b3f\" }
[[part]]
name = \"body\"
blank = \"straight 20 fl oz\"
";

const LID: &str = "\
[[part]]
name = \"lid\"
sits_on = { part = \"body\", sink = \"6 mm\" }
revolved = [ { along = \"0 mm\", radius = \"0 mm\" }, { along = \"37 mm\", radius = \"37 mm\" }, { along = \"48 mm\", radius = \"38 mm\" } ]
";

fn shaped(text: &str) -> (Piece, Shape) {
    let piece: Piece = text.parse().unwrap_or_else(|wrong| panic!("{wrong:?}"));
    let shape = shape(&piece, &Settings::demo()).unwrap_or_else(|wrong| panic!("{wrong:?}"));
    (piece, shape)
}

/// What is told when a straight 20 oz cup (wall 205 mm, 74 mm across) becomes this blank.
fn told(zones: &str, blank: &str) -> Vec<Diagnostic> {
    let old = format!("{HEAD}{zones}");
    let blank = find(blank).expect("a blank");
    let new = text(&old, &[(0, Onto::Blank(blank))]).expect("carried");
    let ((old, old_shape), (new, new_shape)) = (shaped(&old), shaped(&new));
    not_kept(Laid { piece: &old, shape: &old_shape }, Laid { piece: &new, shape: &new_shape }, &[0])
}

fn zone(name: &str, where_to: &str) -> String {
    format!(
        "[[zone]]\nname = \"{name}\"\npart = \"body\"\n{where_to}\nvinyl = {{ colour = \"reed\" }}\n"
    )
}

#[track_caller]
fn only(told: &[Diagnostic], path: &str, words: &[&str]) {
    let [only] = told else { panic!("{told:?}") };
    assert_eq!(only.path.0, path);
    for word in words {
        assert!(only.message.contains(word), "{}", only.message);
    }
}

#[test]
fn wall_that_stays_bare_at_the_foot_is_told() {
    // 205 - 196 = 9 mm before; 242 - 196 = 46 mm on the wall of 242 mm.
    let tide = zone("tide", "band = { from = \"60 mm\", to = \"196 mm\" }");
    only(&told(&tide, "straight 30 fl oz"), "zone[0].band.to", &["46.0 mm", "9.0 mm", "`tide`"]);
    let kept = zone("tide", "band = { from = \"60 mm\", to = \"9 mm from foot\" }");
    assert_eq!(told(&kept, "straight 30 fl oz"), []);
    assert_eq!(told(&tide, "straight 20 fl oz"), []);
}

#[test]
fn a_drawing_that_one_no_longer_sees_at_once_is_told() {
    // 90 mm of 2π · 37 mm are 139 degrees, of 2π · 33 mm 156 degrees: more than 150.
    let bird =
        zone("bird", "art = { path = \"M0 0H90V20H0Z\", width = \"90 mm\", along = \"50 %\" }");
    let told = told(&bird, "slim tapered 20 fl oz");
    assert_eq!(told, [], "at half of its wall the slim cup is 71 mm across: 145 degrees");
    let low = bird.replace("50 %", "15 mm from foot");
    let told = self::told(&low, "slim tapered 20 fl oz");
    only(&told, "zone[0].art", &["`bird`", "155 degrees", "it was 139"]);
}

#[test]
fn copies_that_run_into_each_other_are_told() {
    // Five copies of 45 mm go round 2π · 37 = 232 mm, and not round 2π · 35 = 220 mm.
    let birds = zone(
        "birds",
        "art = { path = \"M0 0H45V20H0Z\", width = \"45 mm\", along = \"60 mm\", repeat = 5 }",
    );
    // Any plan tells it, so it is among what is told of the shape.
    let notes = |blank: &str| {
        let new =
            text(&format!("{HEAD}{birds}"), &[(0, Onto::Blank(find(blank).expect("a blank")))]);
        shaped(&new.expect("carried")).1.notes
    };
    let told: Vec<Diagnostic> = notes("straight 12 fl oz")
        .into_iter()
        .filter(|note| note.path.0 == "zone[0].art.repeat")
        .collect();
    only(&told, "zone[0].art.repeat", &["5 copies", "1.0 mm into the next"]);
    assert!(told[0].hints[0].contains("repeat = 4"), "{:?}", told[0].hints);
    assert!(notes("straight 20 fl oz").iter().all(|note| note.path.0 != "zone[0].art.repeat"));
}

#[test]
fn zones_that_come_to_lie_on_each_other_are_told() {
    let zones =
        zone("words", "lettering = { text = \"EBB\", height = \"9 mm\", along = \"110 mm\" }")
            + &zone("tide", "band = { from = \"80 mm from foot\", to = \"5 mm from foot\" }");
    // The band begins at 125 mm of 205 mm, and at 68 mm of 148 mm.
    let found = told(&zones, "straight 12 fl oz");
    only(&found, "zone[1]", &["`tide`", "`words`", "cm²"]);
    assert_eq!(told(&zones, "straight 30 fl oz"), []);
}

#[test]
fn a_lid_of_the_old_rim_is_told() {
    let tide = zone("tide", "band = { from = \"10 %\", to = \"90 %\" }");
    let zones = format!("{LID}{tide}");
    let found: Vec<Diagnostic> = told(&zones, "straight 30 fl oz");
    let lid: Vec<&Diagnostic> =
        found.iter().filter(|one| one.path.0 == "part[1].sits_on").collect();
    assert_eq!(lid.len(), 1, "{found:?}");
    // The blanks are 74 mm and 81 mm across.
    assert!(lid[0].message.contains("74.0 mm") && lid[0].message.contains("81.0 mm"));
    assert_eq!(told(&zones, "straight 20 fl oz"), []);
}

#[test]
fn art_that_a_handle_cuts_and_a_handle_that_is_gone_are_told() {
    let at_side = zone(
        "name",
        "lettering = { text = \"HERON\", height = \"9 mm\", along = \"50 mm\", around = \"60 deg\" }",
    );
    let found = told(&at_side, "mug 12 fl oz");
    only(&found, "zone[0]", &["cut away", "`name`"]);
    let old = format!("{HEAD}{at_side}").replace("straight 20 fl oz", "mug 12 fl oz");
    let new = text(&old, &[(0, Onto::Blank(find("straight 20 fl oz").expect("a blank")))]);
    let ((old, old_shape), (new, new_shape)) = (shaped(&old), shaped(&new.expect("carried")));
    let found = not_kept(
        Laid { piece: &old, shape: &old_shape },
        Laid { piece: &new, shape: &new_shape },
        &[0],
    );
    let handle =
        found.iter().any(|one| one.path.0 == "part[0]" && one.message.contains("no handle"));
    assert!(handle, "{found:?}");
}

/// A tapered cup, so long, so wide at the rim, and narrower by so much at the foot, mm.
fn cup(wall_mm: f64, rim_mm: f64, less_mm: f64, handle: bool) -> String {
    let handle = if handle {
        "handle = { from = \"9 mm\", to = \"30 mm\", width = \"15 mm\" }\n"
    } else {
        ""
    };
    format!(
        "cupwright = 1\ntitle = \"Cup\"\n[[part]]\nname = \"body\"\n{handle}revolved = [ {{ along = \"0 mm\", diameter = \"{rim_mm:.1} mm\" }}, {{ along = \"{wall_mm:.1} mm\", diameter = \"{:.1} mm\" }} ]\n",
        rim_mm - less_mm
    )
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 60, failure_persistence: None, ..ProptestConfig::default() })]

    /// On whatever cup, a piece can be told of or says what is wrong with it, and what states its distance
    /// keeps it.
    #[test]
    fn any_cup_can_be_told_of(
        wall_mm in 40.0..400.0_f64, rim_mm in 40.0..150.0_f64, less_mm in -10.0..30.0_f64, handle: bool,
    ) {
        let zones = zone("words", "lettering = { text = \"EBB\", height = \"9 mm\", along = \"30 %\", repeat = 3 }")
            + &zone("bird", "art = { path = \"M0 0H30V20H0Z\", width = \"30 mm\", along = \"40 mm\" }")
            + &zone("tide", "band = { from = { along = \"40 % from foot\", wave = \"sine\", amplitude = \"2 %\", count = 4 }, to = \"9 mm from foot\" }");
        let old = format!("{HEAD}{zones}");
        let new_cup = cup(wall_mm, rim_mm, less_mm, handle);
        let new = text(&old, &[(0, Onto::Part(&new_cup, 0))]).expect("carried");
        let piece: Piece = new.parse().expect("shares and distances that fit on 40 mm");
        let (was, was_shape) = shaped(&old);
        if let Ok(is) = shape(&piece, &Settings::demo()) {
            let (_, end_mm) = is.zones[2].area.along_range_mm().expect("a band");
            let foot_mm = is.parts[0].wall_mm;
            prop_assert!((foot_mm - end_mm - 9.0).abs() < 0.01, "{foot_mm} {end_mm}");
            let found = not_kept(
                Laid { piece: &was, shape: &was_shape },
                Laid { piece: &piece, shape: &is },
                &[0],
            );
            prop_assert!(found.iter().all(|one| !one.hints.is_empty()));
        }
    }
}
