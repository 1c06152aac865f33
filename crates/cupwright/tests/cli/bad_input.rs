//! Pieces that cannot be made, and files that are no pieces.

use crate::room::{CUP, Ran, Room, SMALL};
use std::fmt::Write;

/// Plans this text; whatever is wrong with it, nothing may be written.
fn plan(text: impl AsRef<[u8]>) -> Ran {
    let room = Room::new();
    room.write("piece.toml", text);
    let ran = room.run(&["plan", "piece.toml", "--out", "out"]);
    assert_eq!(room.names(), ["piece.toml"]);
    ran
}

/// The cup with one thing changed.
#[track_caller]
fn cup(from: &str, to: &str) -> String {
    assert!(CUP.contains(from));
    CUP.replace(from, to)
}

/// The topper with one thing changed.
#[track_caller]
fn topper(from: &str, to: &str) -> String {
    assert!(SMALL.contains(from));
    SMALL.replace(from, to)
}

#[test]
fn a_wall_steeper_than_its_length_is_refused() {
    plan(cup(
        "along = \"120 mm\", diameter = \"60 mm\"",
        "along = \"10 mm\", diameter = \"20 mm\"",
    ))
    .ended(1, &["piece.toml:11", "10 mm"]);
}

#[test]
fn an_outline_that_crosses_itself_is_refused() {
    plan(topper(
        "{ circle = \"24 mm\" }",
        "{ path = \"M0 0 L10 10 L10 0 L0 10 Z\", width = \"30 mm\" }",
    ))
    .ended(1, &["piece.toml:9", "cross"]);
}

#[test]
fn sizes_that_are_none_are_refused() {
    for (size, words) in [
        ("\"0 mm\"", "more than 0"),
        ("\"-24 mm\"", "-24 mm"),
        ("\"nan mm\"", "nan"),
        ("\"inf mm\"", "inf"),
        ("\"1e999 mm\"", "1e999"),
        ("\"24\"", "unit"),
        ("24", "24"),
        ("nan", "nan"),
        ("\"\"", "length"),
    ] {
        plan(topper("\"24 mm\"", size)).ended(1, &["piece.toml:9", words]);
    }
}

#[test]
fn a_zone_outside_its_part_is_refused() {
    plan(cup("to = \"60 mm\"", "to = \"600 mm\"")).ended(1, &["piece.toml:16", "600"]);
}

#[test]
fn a_stone_larger_than_its_zone_is_refused() {
    plan(cup("to = \"60 mm\"", "to = \"43 mm\"")).ended(1, &["piece.toml:1", "SS30"]);
}

#[test]
fn an_unknown_colour_is_refused_with_the_nearest_one() {
    plan(topper("colour = \"foam\"", "colour = \"faom\""))
        .ended(1, &["piece.toml:17", "faom", "foam"]);
}

#[test]
fn a_blend_that_is_not_a_hundred_percent_is_refused() {
    let blend = "colours = [ { colour = \"foam\", share = \"50 %\" }, { colour = \"ebb\", share = \"40 %\" } ]";
    plan(topper("colour = \"foam\"", blend)).ended(1, &["piece.toml:17", "90 %", "100 %"]);
}

#[test]
fn an_unknown_key_is_refused_with_the_nearest_one() {
    plan(topper("inset =", "insert =")).ended(1, &["piece.toml:13:1", "insert", "inset"]);
}

#[test]
fn all_mistakes_are_shown_at_once() {
    let text = topper("\"24 mm\"", "\"0 mm\"").replace("colour = \"foam\"", "colour = \"mud\"");
    plan(text).ended(1, &["piece.toml:9", "piece.toml:17"]);
}

#[test]
fn text_that_is_no_piece_is_refused() {
    plan("").ended(1, &["cupwright"]);
    plan("cupwright = 2\n").ended(1, &["piece.toml:1", "format 2"]);
    plan("cupwright = 1\ntitle = \"half").ended(1, &["piece.toml:2"]);
    plan(b"cupwright = 1\ntitle = \"\xff\xfe\"\n").ended(1, &["UTF-8", "line 2"]);
    plan(vec![0; 1000]).ended(1, &[]);
}

#[test]
fn a_file_of_fifty_megabytes_is_refused_quickly() {
    let started = std::time::Instant::now();
    plan(" ".repeat(50_000_000)).ended(1, &["50.0 MB"]);
    assert!(started.elapsed().as_secs() < 5);
}

#[cfg(unix)]
#[test]
fn a_piece_that_never_ends_is_refused() {
    let room = Room::new();
    room.shell("$CUPWRIGHT check <(yes)").ended(1, &["more than 4 MB"]);
    room.run(&["check", "/dev/zero"]).ended(1, &["more than 4 MB"]);
}

#[test]
fn deep_nesting_is_refused() {
    for (open, close) in [("[", "]"), ("{a=", "}")] {
        let text =
            format!("cupwright = 1\ntitle = {}1{}\n", open.repeat(50_000), close.repeat(50_000));
        plan(text).ended(1, &[]);
    }
}

#[test]
fn thousands_of_mistakes_end_in_a_short_report() {
    let mut text = CUP.to_owned();
    for index in 0..20_000 {
        let _ = writeln!(text, "mistake{index} = 1");
    }
    let ran = plan(text);
    ran.ended(1, &[]);
    assert!(ran.stderr.len() < 200_000, "{} bytes", ran.stderr.len());
}

#[test]
fn control_characters_never_reach_the_terminal() {
    let ran =
        plan("cupwright = 1\ntitle = \"\\u001b[31mred\\u0007\"\n[[part]]\nname = \"\u{1b}[2J\"\n");
    assert_eq!(ran.code, Some(1));
    assert!(!ran.stderr.contains(['\u{7}', '\u{1b}']), "{:?}", ran.stderr);
}

/// Checks this text beside other files and gives what was said.
fn checked(name: &str, text: &str) -> Ran {
    let room = Room::new();
    room.write(name, text);
    room.run(&["check", name])
}

#[test]
fn mistakes_of_one_room_hide_none_of_another() {
    let zone = "[[zone]]\nname = \"low\"\npart = \"bodi\"\npaint = { colour = \"foom\" }\n";
    let text = cup("to = \"60 mm\"", "to = \"160 mm\"") + zone;
    checked("piece.toml", &text)
        .ended(1, &["called `bodi`", "called `foom`", "past the end of the part", "3 places"]);
    // The form is wrong in one place and the sense in two others.
    checked("piece.toml", &text.replace("SS30", "30ss").replace("bodi", "body"))
        .ended(1, &["Did you mean \"SS30\"?", "called `foom`", "past the end", "3 places"]);
}

#[test]
fn a_studio_file_is_known_as_one() {
    let room = Room::new();
    room.run(&["demo", "marsh"]).ended(0, &[]);
    room.run(&["plan", "marsh/studio.toml", "--out", "out"])
        .ended(1, &["this is a studio file", "--studio marsh/studio.toml"]);
    let ran = room.run(&["check", "marsh/studio.toml"]);
    assert_eq!(ran.code, Some(0), "{ran:?}");
    assert!(ran.stdout.contains("a studio file"), "{ran:?}");
    // And a piece given as a studio is known as a piece.
    room.write("piece.toml", SMALL);
    room.run(&["plan", "piece.toml", "--out", "out", "--studio", "piece.toml"])
        .ended(1, &["this is a piece file", "cupwright demo DIR"]);
}

#[test]
fn a_name_or_a_day_that_is_none_is_told_with_what_to_do() {
    let room = Room::new();
    room.run(&["plan", "nosuch.toml", "--out", "out"]).ended(3, &["cupwright demo DIR"]);
    room.run(&["check", "."]).ended(3, &["it is a folder", "ends in .toml"]);
    room.write("piece.toml", SMALL);
    room.run(&["plan", "piece.toml", "--out", "out", "--begin", "tomorrow"])
        .ended(2, &["YYYY-MM-DD"]);
}

#[test]
fn words_beyond_a_part_are_called_lettering_and_level_edges_have_no_waves() {
    let words =
        "lettering = { text = \"Tide\", height = \"12 mm\", along = \"2 mm\" }\n[zone.stones]";
    checked("piece.toml", &cup("[zone.stones]", words)).ended(1, &["the lettering reaches"]);
    let ran = checked("piece.toml", &cup("to = \"60 mm\"", "to = \"160 mm\""));
    ran.ended(1, &["Move it up."]);
    assert!(!ran.stderr.contains("wave"), "{}", ran.stderr);
}

#[test]
fn a_picture_of_pixels_is_no_drawing() {
    let room = Room::new();
    room.write("reeds.svg", b"\xff\xd8\xff\xe0\x00\x10JFIF");
    let art = "art = { file = \"reeds.svg\", width = \"20 mm\", along = \"50 mm\" }\n[zone.stones]";
    room.write("piece.toml", cup("[zone.stones]", art));
    room.run(&["check", "piece.toml"]).ended(1, &["a picture of pixels, not an SVG"]);
}

#[test]
fn check_prints_the_days_to_begin_and_to_be_ready() {
    let text = CUP.replace("title =", "due = 2027-03-20\ntitle =");
    let ran = checked("piece.toml", &text);
    assert_eq!(ran.code, Some(0), "{ran:?}");
    assert!(ran.stdout.contains("Begin on 2027-0") && ran.stdout.contains("ready on 2027-03-"));
}
