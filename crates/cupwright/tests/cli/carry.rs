//! A design carried to another cup by the program, and what it tells of it.

use crate::room::{CUP, Room, SMALL, arg, example};
use serde_json::Value;
use std::fs;

/// A design whose elements each keep something else.
const DESIGN: &str = r##"
cupwright = 1
title = "Neap tide"
due = 2027-06-19
[colours]
"foam" = "#e8eef0"
"ebb" = "#1f6f78"

# The ferry's cup, of 20 oz.
[[part]]
name = "body"
blank = "straight 20 fl oz"

[[zone]]
name = "rail"
part = "body"
band = { from = "24 mm", to = "30 mm" }   # from the rim
stones = { layout = "rows", size = "SS20", colour = "foam" }

[[zone]]
name = "words"
part = "body"
lettering = { text = "NEAP", height = "9 mm", along = "50 %" }
vinyl = { colour = "ebb" }

[[zone]]
name = "wave"
part = "body"
art = { path = "M0 0H30V4H0Z", round = "25 %", along = "60 mm from foot" }
vinyl = { colour = "ebb" }

[[zone]]
name = "foot"
part = "body"
band = { from = "20 mm from foot", to = "9 mm from foot" }
stones = { layout = "rows", size = "SS20", colour = "foam" }
"##;

fn room() -> Room {
    let room = Room::new();
    room.write("neap.toml", DESIGN);
    room
}

fn carried(room: &Room, to: &str, out: &str, code: i32) -> Value {
    let ran = room.run(&["carry", "neap.toml", "--to", to, "--out", out, "--json"]);
    assert_eq!(ran.code, Some(code), "{} {}", ran.stdout, ran.stderr);
    assert_eq!(ran.stderr, "");
    serde_json::from_str(&ran.stdout).expect("one JSON document")
}

#[track_caller]
fn near(value: &Value, expected: f64, within: f64) {
    let found = value.as_f64().unwrap_or(f64::NAN);
    assert!((found - expected).abs() <= within, "found {value}, expected {expected}");
}

/// Distances that are stated are kept to 0.01 mm on cups of other lengths and tapers. Lengths of walls are
/// those that `cupwright blanks` lists.
#[test]
fn each_element_keeps_what_it_says() {
    let room = room();
    for (name, wall_mm) in [
        ("straight 30 fl oz", 242.0),
        ("tapered 20 fl oz", 170.0),
        ("tapered 30 fl oz", 206.0),
        ("handled 40 fl oz", 243.0),
    ] {
        let told = carried(&room, name, &format!("{wall_mm}.toml"), 0);
        let zones = &told["carried"]["zones"];
        near(&told["carried"]["parts"][0]["wall_mm"]["after"], wall_mm, 1e-9);
        near(&zones[0]["along_mm"]["after"][0], 24.0, 0.01);
        near(&zones[0]["along_mm"]["after"][1], 30.0, 0.01);
        // Capitals 9 mm high about the middle; letters such as A and E have no overshoot, P neither.
        let middle = &zones[1]["along_mm"]["after"];
        near(&middle[0], wall_mm / 2.0 - 4.5, 0.2);
        near(&middle[1], wall_mm / 2.0 + 4.5, 0.2);
        near(&zones[2]["round_share"]["after"], 0.25, 1e-3);
        near(&zones[3]["from_foot_mm"]["after"], 9.0, 0.01);
        near(&zones[3]["along_mm"]["after"][0], wall_mm - 20.0, 0.01);
        assert!(zones[3]["stones"]["after"].as_u64().is_some_and(|count| count > 40), "{told}");
        // What was written can be checked.
        room.run(&["check", &format!("{wall_mm}.toml")]).ended(0, &["are a guess"]);
    }
}

#[test]
fn only_measurements_change_and_the_way_back_gives_the_same_piece() {
    let room = room();
    carried(&room, "tapered 30 fl oz", "there.toml", 0);
    let there = fs::read_to_string(room.path("there.toml")).expect("a piece file");
    assert_eq!(there, DESIGN.replace("straight 20 fl oz", "tapered 30 fl oz"));
    room.run(&["carry", "there.toml", "--to", "neap.toml", "--out", "back.toml"])
        .ended(0, &["Wrote back.toml"]);
    assert_eq!(fs::read_to_string(room.path("back.toml")).expect("a piece file"), DESIGN);
    // And an example with a lid, which comes back with the comments beside its measurements.
    let heron = example("heron-low-tide.toml");
    room.run(&["carry", arg(&heron), "--to", "tapered 30 fl oz", "--out", "heron.toml"])
        .ended(0, &["`lid` is still the one for a rim 87.9 mm across"]);
    room.run(&["carry", "heron.toml", "--to", arg(&heron), "--out", "home.toml"]).ended(0, &[]);
    let text = |file: &std::path::Path| fs::read_to_string(file).expect("a piece file");
    assert_eq!(text(&room.path("home.toml")), text(&heron));
}

#[test]
fn what_could_not_be_kept_is_told_with_its_line_and_what_to_write() {
    let room = Room::new();
    room.write(
        "neap.toml",
        DESIGN
            .replace("\"20 mm from foot\"", "\"185 mm\"")
            .replace("\"9 mm from foot\"", "\"196 mm\""),
    );
    // The longer cup leaves wall bare at the foot; line 35 is the band.
    let ran = room.run(&["carry", "neap.toml", "--to", "straight 30 fl oz", "--out", "long.toml"]);
    ran.ended(0, &["long.toml:35", "46.0 mm of wall stay bare", "\"9 mm from foot\" keeps that"]);
    assert!(ran.stdout.contains("wall 205 mm → 242 mm"), "{}", ran.stdout);
    assert!(ran.stdout.contains("whole piece: "), "{}", ran.stdout);
    // The shorter one has no such place. The file is written, and says so by its code.
    let ran = room.run(&["carry", "neap.toml", "--to", "straight 12 fl oz", "--out", "short.toml"]);
    ran.ended(
        1,
        &["short.toml:35", "past the end", "\"20 mm from foot\"", "to be mended in 2 places"],
    );
    room.run(&["check", "short.toml"]).ended(1, &["past the end"]);
    let short = fs::read_to_string(room.path("short.toml")).expect("a piece file");
    // Written as it advises, it is sound.
    room.write(
        "short.toml",
        short
            .replace("\"185 mm\"", "\"20 mm from foot\"")
            .replace("\"196 mm\"", "\"9 mm from foot\""),
    );
    room.run(&["check", "short.toml"]).ended(0, &[]);
}

#[test]
fn a_document_tells_before_and_after() {
    let room = room();
    let told = carried(&room, "straight 30 fl oz", "long.toml", 0);
    assert_eq!((&told["command"], &told["file"]), (&"carry".into(), &"long.toml".into()));
    let part = &told["carried"]["parts"][0];
    assert_eq!(part["wall_mm"]["before"], 205.0);
    // 20 and 30 fl oz (NIST SP 811: 29.57353 ml each).
    near(&part["capacity_ml"]["before"], 591.47, 0.01);
    near(&part["capacity_ml"]["after"], 887.21, 0.01);
    let rail = &told["carried"]["zones"][0];
    assert!(rail["stones"]["after"].as_u64() > rail["stones"]["before"].as_u64(), "{rail}");
    let not_kept = told["not_kept"].as_array().expect("a list");
    assert!(not_kept.iter().all(|found| found["file"] == "long.toml"), "{told}");
    // A file that must be mended has no figures after.
    let bad = DESIGN.replace("\"24 mm\", to = \"30 mm\"", "\"160 mm\", to = \"170 mm\"");
    room.write("neap.toml", bad);
    let told = carried(&room, "straight 12 fl oz", "short.toml", 1);
    assert_eq!(told["carried"]["stones"]["after"], Value::Null);
    assert_eq!(told["carried"]["parts"][0]["wall_mm"]["after"], 148.0);
    assert_eq!(told["not_kept"][0]["severity"], "error");
    assert_eq!(told["not_kept"][0]["line"], 17);
}

#[test]
fn drawings_come_along_to_another_folder() {
    let room = room();
    let heron = "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 30 20'><path d='M0 0H30V20H0Z'/></svg>";
    fs::create_dir_all(room.path("art")).expect("a folder");
    fs::create_dir(room.path("ferry")).expect("a folder");
    room.write("art/heron.svg", heron);
    let art = "art = { file = \"art/heron.svg\", width = \"30 mm\", along = \"60 mm from foot\" }";
    let path = "art = { path = \"M0 0H30V4H0Z\", round = \"25 %\", along = \"60 mm from foot\" }";
    assert!(DESIGN.contains(path));
    room.write("neap.toml", DESIGN.replace(path, art));
    let told = carried(&room, "straight 30 fl oz", "ferry/long.toml", 0);
    assert_eq!(told["carried"]["copied"][0], "art/heron.svg");
    assert_eq!(fs::read_to_string(room.path("ferry/art/heron.svg")).expect("a copy"), heron);
    room.run(&["check", "ferry/long.toml"]).ended(0, &["are a guess"]);
    // What lies there already stays as it is, and that is told.
    room.write("ferry/art/heron.svg", heron.replace("H30V20", "H30V10"));
    let ran = room.run(&[
        "carry",
        "neap.toml",
        "--to",
        "straight 30 fl oz",
        "--out",
        "ferry/long.toml",
        "--replace",
    ]);
    ran.ended(0, &[]);
    assert!(ran.stdout.contains("art/heron.svg: another file of this name"), "{}", ran.stdout);
    let kept = fs::read_to_string(room.path("ferry/art/heron.svg")).expect("a file");
    assert!(kept.contains("H30V10"));
    // Beside the old file nothing is copied.
    let told = carried(&room, "straight 30 fl oz", "long.toml", 0);
    assert_eq!(told["carried"]["copied"], Value::Array(Vec::new()));
}

#[test]
fn nothing_is_written_over_and_nothing_without_a_cup() {
    let room = room();
    room.write("cup.toml", CUP);
    room.write("shell.toml", SMALL);
    let to = |to: &str, out: &str| room.run(&["carry", "neap.toml", "--to", to, "--out", out]);
    to("straight 20 floz", "new.toml")
        .ended(3, &["no generic blank called", "\"straight 20 fl oz\""]);
    to("none.toml", "new.toml").ended(3, &["no file and no generic blank"]);
    to("shell.toml", "new.toml").ended(2, &["no part of `body`", "`topper`"]);
    to("cup.toml", "neap.toml").ended(3, &["one of the files to be read"]);
    to("cup.toml", "cup.toml").ended(3, &["one of the files to be read"]);
    room.run(&["carry", "neap.toml", "--to", "cup.toml", "--part", "bodi", "--out", "new.toml"])
        .ended(2, &["`bodi`", "Did you mean `body`"]);
    room.write("mine.toml", "mine");
    to("cup.toml", "mine.toml").ended(3, &["already", "--replace"]);
    to("cup.toml", "none/new.toml").ended(3, &["no such folder"]);
    assert_eq!(fs::read_to_string(room.path("mine.toml")).expect("a file"), "mine");
    room.write("bad.toml", CUP.replace("70 mm", "70 nm"));
    to("bad.toml", "new.toml").ended(1, &["70 nm", "Nothing was written."]);
    assert_eq!(room.names(), ["bad.toml", "cup.toml", "mine.toml", "neap.toml", "shell.toml"]);
    room.run(&["carry", "neap.toml", "--to", "cup.toml", "--out", "mine.toml", "--replace"])
        .ended(0, &["Wrote mine.toml"]);
}
