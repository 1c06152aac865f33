//! Film on walls curved both ways: what is told of it, and how it is cut.

use coats::{Coats, Film, plan_coats};
use piece::lip::below_lip;
use piece::{Piece, Settings};

/// A bowl of 45 mm radius (a ball but for its ends), or a straight cup, with one zone of film.
fn planned(wall: &str, zone: &str, settings: &Settings) -> Coats {
    let text = format!(
        r##"cupwright = 1
title = "Bowl"
[colours]
"reed" = "#556b2f"
[[part]]
name = "body"
revolved = [ {wall} ]
[[zone]]
name = "leaf"
part = "body"
{zone}"##
    );
    let piece: Piece = text.parse().unwrap_or_else(|faults| panic!("{faults:?}"));
    let shape = shape::shape(&piece, settings).expect("the bowl has a shape");
    plan_coats(&piece, &shape, settings).expect("its resin can be poured")
}

fn ball() -> String {
    let measure = |step: u32| {
        let along = 5.0 * f64::from(step);
        let radius = 45.0 * libm::cos((along - 55.0) / 45.0);
        format!("{{ along = \"{along} mm\", radius = \"{radius:.5} mm\", run = \"smooth\" }}")
    };
    (0..=22).map(measure).collect::<Vec<_>>().join(", ")
}

fn studio(stretch: f64) -> Settings {
    let mut settings = Settings::demo();
    settings.vinyl.stretch = stretch;
    settings
}

const LEAF: &str = r#"art = { path = "M0 0H60V44H0Z", width = "60 mm", along = "55 mm" }"#;

/// Area of what is cut, holes taken away (Gauss's area formula).
fn cut_mm2(film: &Film) -> f64 {
    let twice = |one: &Vec<[f64; 2]>| -> f64 {
        one.iter().zip(one.iter().cycle().skip(1)).map(|(a, b)| a[0] * b[1] - b[0] * a[1]).sum()
    };
    let shapes = film.pieces.iter().flat_map(|piece| &piece.shapes);
    shapes.map(|shape| shape.iter().map(twice).sum::<f64>().abs() / 2.0).sum()
}

#[test]
fn film_that_would_stretch_too_much_is_told_and_relief_cuts_mend_it() {
    let settings = studio(0.04);
    let bare = planned(&ball(), &format!("{LEAF}\nvinyl = {{ colour = \"reed\" }}"), &settings);
    let told = bare.notes.iter().find(|note| note.path.0 == "zone[0].vinyl").expect("a warning");
    assert!(told.message.contains("your film bears 4.0 %"), "{}", told.message);
    assert!(told.hints[0].contains("relief = true"), "{told:?}");
    // Of a disc that covers as much, a = √(60 · 44 / π) = 29 mm: K a² (1 / 8 + 1 / 16) = 7.8 %
    // (film.rs of the crate `shape` has the source); a rectangle reaches farther at its corners and
    // less far between.
    let taut = bare.films[0].lie.expect("it is strained").strain.taut();
    assert!((0.05..0.10).contains(&taut), "{taut}");

    let relief = format!("{LEAF}\nvinyl = {{ colour = \"reed\", relief = true }}");
    let mended = planned(&ball(), &relief, &settings);
    assert!(mended.notes.iter().all(|note| !note.path.0.starts_with("zone[0].vinyl")));
    let film = &mended.films[0];
    let lie = film.lie.expect("it is strained");
    assert!(lie.strain.taut() <= 0.04 && lie.cuts >= 2 && lie.wedge_mm > 0.5, "{lie:?}");
    assert_eq!(film.pieces.len(), 1, "slits leave it in one piece");
    // The wedges are no part of the film: what is cut covers as much as what lies on the bowl.
    assert!((cut_mm2(film) / film.area_mm2 - 1.0).abs() < 0.01, "{}", cut_mm2(film));
}

#[test]
fn small_film_and_film_on_a_straight_wall_are_left_alone() {
    let dot = r#"art = { path = "M0 0H6V6H0Z", width = "6 mm", along = "55 mm" }
vinyl = { colour = "reed", relief = true }"#;
    let film = planned(&ball(), dot, &studio(0.02));
    assert_eq!(film.films[0].lie.expect("it is strained, a little").cuts, 0);
    assert!(film.notes.is_empty(), "{:?}", film.notes);
    let can = r#"{ along = "0 mm", diameter = "80 mm" }, { along = "110 mm", diameter = "70 mm" }"#;
    let film = planned(can, &format!("{LEAF}\nvinyl = {{ colour = \"reed\" }}"), &studio(0.001));
    assert!(film.films[0].lie.is_none() && film.notes.is_empty());
}

#[test]
fn a_zone_that_says_no_beginning_begins_below_the_lip() {
    let begins = |zone: &str, lip_mm: f64| {
        let mut settings = Settings::demo();
        settings.lip_mm = lip_mm;
        let text = format!(
            r##"cupwright = 1
title = "Can"
[colours]
"reed" = "#556b2f"
[[part]]
name = "body"
revolved = [ {{ along = "0 mm", diameter = "80 mm" }}, {{ along = "110 mm", diameter = "80 mm" }} ]
[[zone]]
name = "ground"
part = "body"
{zone}"##
        );
        let piece: Piece = text.parse().unwrap_or_else(|faults| panic!("{faults:?}"));
        let piece = below_lip(piece, &settings).map_err(|wrong| wrong[0].message.clone())?;
        let shape = shape::shape(&piece, &settings).expect("a shape");
        let range = shape.zones[0].area.along_range_mm().expect("not empty");
        Ok::<_, String>((range, shape.notes.len()))
    };
    let near = |found: Result<((f64, f64), usize), String>, from: f64, to: f64, notes: usize| {
        let ((a, b), count) = found.expect("it begins somewhere");
        assert!(
            (a - from).abs() < 1e-3 && (b - to).abs() < 1e-3 && count == notes,
            "{a} {b} {count}"
        );
    };
    // What may hold pigment: the 20 mm of ASTM C927 and ISO 6486, or the studio's own margin if that
    // is more. Clear resin: the studio's own.
    near(begins("paint = { colour = \"reed\" }", 12.0), 20.0, 110.0, 0);
    near(begins("paint = { colour = \"reed\" }", 25.0), 25.0, 110.0, 0);
    near(begins("resin = {}", 12.0), 12.0, 110.0, 0);
    near(begins("band = { to = \"90 mm\" }\nvinyl = { colour = \"reed\" }", 12.0), 20.0, 90.0, 0);
    near(
        begins(
            "window = { from = \"0 deg\", to = \"90 deg\" }\nglitter = { colour = \"reed\" }",
            0.0,
        ),
        20.0,
        110.0,
        0,
    );
    // Told otherwise, with a caution.
    near(
        begins("band = { from = \"15 mm\", to = \"90 mm\" }\npaint = { colour = \"reed\" }", 12.0),
        15.0,
        90.0,
        1,
    );
    near(begins("band = { from = \"5 mm\", to = \"90 mm\" }\nresin = {}", 12.0), 5.0, 90.0, 1);
    near(begins("band = { from = \"15 mm\", to = \"90 mm\" }\nresin = {}", 12.0), 15.0, 90.0, 0);
    near(begins("inset = \"3 mm\"\npaint = { colour = \"reed\" }", 12.0), 3.0, 107.0, 1);
    let wrong = begins("band = { to = \"18 mm\" }\npaint = { colour = \"reed\" }", 12.0);
    assert!(wrong.expect_err("nothing is left").contains("kept bare for lips"));
}
