//! What still fits once everything is coated, by plain geometry.

use coats::{FitKind, Fits, plan_fits, pull_tape_min};
use piece::{Piece, Settings};

fn near(found: f64, expected: f64, tolerance: f64) {
    assert!((found - expected).abs() <= tolerance, "{found} is not {expected} within {tolerance}");
}

/// A straight cup and a lid that goes into it, with these keys and zones.
fn fits(body: &str, lid: &str, seat: &str, zones: &str) -> Fits {
    let text = format!(
        r##"cupwright = 1
title = "Trial"
[colours]
"reed" = "#556b2f"
[[part]]
name = "body"
revolved = [{{ along = "0 mm", diameter = "74 mm" }}, {{ along = "200 mm", diameter = "74 mm" }}]
{body}
[[part]]
name = "lid"
revolved = [{{ along = "0 mm", diameter = "10 mm" }}, {{ along = "30 mm", diameter = "70 mm" }}, {{ along = "42 mm", diameter = "70 mm" }}]
{lid}
sits_on = {{ part = "body", sink = "8 mm"{seat} }}
{zones}"##
    );
    let piece: Piece = text.parse().unwrap_or_else(|faults| panic!("{faults:?}"));
    let settings = Settings::demo();
    let shape = shape::shape(&piece, &settings).unwrap_or_else(|faults| panic!("{faults:?}"));
    plan_fits(&piece, &shape, &settings, None)
}

fn zone(part: &str, from: &str, to: &str, finish: &str) -> String {
    format!(
        "[[zone]]\nname = \"z{part}{}\"\npart = \"{part}\"\nband = {{ from = \"{from}\", to = \"{to}\" }}\n{finish}\n",
        from.replace(' ', "")
    )
}

fn of(fits: &Fits, kind: FitKind) -> (f64, Option<bool>) {
    let check = fits.checks.iter().find(|check| check.kind == kind).expect("looked at");
    (check.coated_mm, check.fits())
}

const TWO: &str = "resin = { coats = 2, film = \"0.25 mm\" }";

#[test]
fn a_lid_seats_while_its_skirt_is_thinner_than_the_room_beside_it() {
    let skirt = zone("lid", "31 mm", "42 mm", TWO);
    let tight = fits("", "", ", clearance = \"0.4 mm\"", &skirt);
    assert_eq!(of(&tight, FitKind::Lid), (0.5, Some(false)));
    assert!(tight.notes.iter().any(|note| note.message.contains("no longer seats")));
    let roomy = fits("", "", ", clearance = \"0.6 mm\"", &skirt);
    assert_eq!(of(&roomy, FitKind::Lid), (0.5, Some(true)));
    assert_eq!(roomy.notes, []);
    let unknown = fits("", "", "", &skirt);
    assert_eq!(of(&unknown, FitKind::Lid), (0.5, None));
    assert!(unknown.notes[0].hints[0].contains("paper"), "{unknown:?}");
    // Above the 8 mm that sink into the rim nothing is in the way.
    let top = fits("", "", "", &zone("lid", "5 mm", "29 mm", TWO));
    assert_eq!(of(&top, FitKind::Lid), (0.0, Some(true)));
    assert_eq!(top.notes, []);
}

#[test]
fn a_lid_that_hangs_over_the_rim_meets_the_coats_of_the_body() {
    let wide = zone("body", "2 mm", "100 mm", TWO);
    let over = fits("", "", ", clearance = \"0.3 mm\"", &wide);
    // The lid of 70 mm goes inside: what is outside the body is not in its way.
    assert_eq!(of(&over, FitKind::Lid), (0.0, Some(true)));
    let text = r##"cupwright = 1
title = "Trial"
[[part]]
name = "body"
revolved = [{ along = "0 mm", diameter = "60 mm" }, { along = "150 mm", diameter = "60 mm" }]
[[part]]
name = "lid"
revolved = [{ along = "0 mm", diameter = "10 mm" }, { along = "27 mm", diameter = "62 mm" }, { along = "40 mm", diameter = "62 mm" }]
sits_on = { part = "body", sink = "9 mm", clearance = "0.3 mm" }
[[zone]]
name = "clear"
part = "body"
band = { from = "4 mm", to = "100 mm" }
resin = { coats = 2, film = "0.25 mm" }
"##;
    let piece: Piece = text.parse().unwrap_or_else(|faults| panic!("{faults:?}"));
    let settings = Settings::demo();
    let shape = shape::shape(&piece, &settings).expect("a shape");
    let fits = plan_fits(&piece, &shape, &settings, Some(120.0));
    assert_eq!(of(&fits, FitKind::Lid), (0.5, Some(false)));
    // Edges at 4 and 100 mm are masked; tape is pulled half as late where resin gels twice as fast.
    let edges: Vec<(f64, bool)> =
        fits.masks.iter().map(|mask| (mask.along_mm, mask.above)).collect();
    assert_eq!(edges.len(), 2);
    near(edges[0].0, 4.0, 1e-6);
    near(edges[1].0, 100.0, 1e-6);
    assert!(edges[0].1 && !edges[1].1);
    assert_eq!(fits.masks[0].pull_min, (15.0, 30.0));
}

#[test]
fn tape_is_pulled_while_the_resin_is_soft() {
    // Common practice: 30 to 60 min after the pour of a slow resin; one board builder about 1 h.
    assert_eq!(pull_tape_min(None), (30.0, 60.0));
    assert_eq!(pull_tape_min(Some(240.0)), (30.0, 60.0));
    // A quarter of the time to gel: a quarter of the wait.
    assert_eq!(pull_tape_min(Some(60.0)), (7.5, 15.0));
}

#[test]
fn foot_straw_and_holder_are_measured_against_what_is_coated() {
    let zones = zone("body", "100 mm", "200 mm", TWO) + &zone("lid", "0 mm", "20 mm", TWO);
    let all = |foot: &str, straw: &str, holder: &str| {
        fits(
            &format!("foot = \"{foot}\"\nholder = \"{holder}\""),
            &format!("straw = \"{straw}\""),
            ", clearance = \"1 mm\"",
            &zones,
        )
    };
    let good = all("2 mm", "8 mm", "76 mm");
    assert_eq!(of(&good, FitKind::Foot), (0.5, Some(true)));
    // The hole of 10 mm keeps 9 mm, and the cup of 74 mm grows to 75 mm.
    assert_eq!(of(&good, FitKind::Straw), (0.5, Some(true)));
    assert_eq!(of(&good, FitKind::Holder), (0.5, Some(true)));
    assert_eq!(good.notes, []);
    let bad = all("0.3 mm", "9.5 mm", "74.8 mm");
    for kind in [FitKind::Foot, FitKind::Straw, FitKind::Holder] {
        assert_eq!(of(&bad, kind), (0.5, Some(false)), "{kind:?}");
    }
    assert_eq!(bad.notes.len(), 3, "{:?}", bad.notes);
    // The bare cup of 74 mm does not go into 73 mm, and no straw of 11 mm through a hole of 10 mm.
    let never = fits("holder = \"73 mm\"", "straw = \"11 mm\"", "", "");
    for kind in [FitKind::Straw, FitKind::Holder] {
        assert_eq!(of(&never, kind), (0.0, Some(false)), "{kind:?}");
    }
    assert_eq!(never.notes.len(), 2, "{:?}", never.notes);
    assert!(never.notes.iter().all(|note| note.message.ends_with("even without coats")));
    let bare = fits("", "", "", &zone("body", "100 mm", "190 mm", TWO));
    assert_eq!(of(&bare, FitKind::Foot), (0.0, Some(true)));
    assert_eq!(bare.notes, []);
}

#[test]
fn a_handle_closes_over_what_runs_on_beneath_it_if_there_is_room() {
    let handle = |clearance: &str| {
        let body = format!(
            "handle = {{ from = \"20 mm\", to = \"120 mm\", width = \"20 mm\", clearance = \"{clearance}\", beneath = [\"zbody50mm\"] }}"
        );
        fits(&body, "", ", clearance = \"1 mm\"", &zone("body", "50 mm", "150 mm", TWO))
    };
    assert_eq!(of(&handle("0.6 mm"), FitKind::Handle), (0.5, Some(true)));
    let tight = handle("0.4 mm");
    assert_eq!(of(&tight, FitKind::Handle), (0.5, Some(false)));
    assert!(tight.notes[0].message.contains("no longer closes"), "{tight:?}");
}
