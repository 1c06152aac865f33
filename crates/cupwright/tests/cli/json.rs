//! `--json`: one document on the output stream, whatever happens.

use crate::room::{CUP, Room, SMALL};
use serde_json::Value;

fn room() -> Room {
    let room = Room::new();
    room.write("piece.toml", SMALL);
    room.write("bad.toml", SMALL.replace("colour = \"foam\"", "colour = \"faom\""));
    room
}

/// Runs, and reads what it printed as one JSON document.
fn document(room: &Room, args: &[&str], code: i32) -> Value {
    let ran = room.run(args);
    assert_eq!(ran.code, Some(code), "{}", ran.stderr);
    let document: Value = serde_json::from_str(&ran.stdout).expect("one JSON document");
    assert_eq!(document["exit_code"], code);
    assert_eq!(document["cupwright"], env!("CARGO_PKG_VERSION"));
    document
}

#[test]
fn a_plan_is_told_with_its_files_and_summary() {
    let room = room();
    let told = document(&room, &["plan", "piece.toml", "--out", "out", "--json"], 0);
    let files: Vec<&str> =
        told["files"].as_array().expect("files").iter().filter_map(Value::as_str).collect();
    let mut found = crate::room::names(&room.path("out"));
    found.retain(|name| name != ".cupwright");
    let mut sorted = files.clone();
    sorted.sort_unstable();
    assert_eq!(sorted, found);
    assert_eq!(told["summary"]["title"], "Shell");
    assert_eq!(told["folder"], "out");
    assert_eq!(told["trouble"], Value::Null);
}

#[test]
fn nothing_is_said_beside_the_document() {
    let room = room();
    let ran = room.run(&["plan", "piece.toml", "--out", "out", "--json"]);
    assert_eq!(ran.stderr, "");
    let ran = room.run(&["check", "piece.toml", "bad.toml", "none.toml", "--json"]);
    assert_eq!(ran.stderr, "");
}

#[test]
fn a_mistake_is_told_with_line_and_column() {
    let room = room();
    let told = document(&room, &["plan", "bad.toml", "--out", "out", "--json"], 1);
    let found = told["diagnostics"].as_array().expect("diagnostics");
    let mistake = found.iter().find(|found| found["severity"] == "error").expect("an error");
    assert_eq!(mistake["severity"], "error");
    assert_eq!(mistake["file"], "bad.toml");
    assert_eq!(mistake["path"], "zone[0].stones.colour");
    // Line 17 is `colour = "faom"`; the value begins at column 10.
    assert_eq!((mistake["line"].as_u64(), mistake["column"].as_u64()), (Some(17), Some(10)));
    assert!(mistake["message"].as_str().is_some_and(|message| message.contains("faom")));
    assert_eq!(
        (&told["files"], &told["summary"], &told["folder"]),
        (&Value::Null, &Value::Null, &Value::Null)
    );
}

#[test]
fn a_mistake_that_only_the_road_finds_has_its_place_too() {
    let room = Room::new();
    room.write("piece.toml", CUP.replace("to = \"60 mm\"", "to = \"600 mm\""));
    let told = document(&room, &["check", "piece.toml", "--json"], 1);
    let mistake = &told["pieces"][0]["diagnostics"][0];
    assert_eq!(mistake["line"].as_u64(), Some(16), "{mistake}");
    assert!(
        mistake["path"].as_str().is_some_and(|path| path.starts_with("zone[0].band")),
        "{mistake}"
    );
}

#[test]
fn trouble_is_told() {
    let room = room();
    room.write("out/mine.txt", "mine");
    let told = document(&room, &["plan", "piece.toml", "--out", "out", "--json"], 3);
    assert!(
        told["trouble"]["message"].as_str().is_some_and(|message| message.contains("mine.txt"))
    );
    assert!(told["trouble"]["hints"].as_array().is_some_and(|hints| !hints.is_empty()));
    let told = document(&room, &["plan", "piece.toml", "--json"], 2);
    assert!(
        told["trouble"]["message"]
            .as_str()
            .is_some_and(|message| message.contains("--out") || message.contains("required"))
    );
}

#[test]
fn check_tells_of_every_piece() {
    let room = room();
    let told = document(&room, &["check", "piece.toml", "bad.toml", "none.toml", "--json"], 3);
    let codes: Vec<_> = told["pieces"]
        .as_array()
        .expect("pieces")
        .iter()
        .map(|piece| piece["exit_code"].as_u64())
        .collect();
    assert_eq!(codes, [Some(0), Some(1), Some(3)]);
    let summary = &told["pieces"][0]["summary"];
    assert_eq!(summary["title"], "Shell");
    // A disc of 24 mm: pi times 12 mm squared.
    let area_mm2 = summary["parts"][0]["area_mm2"].as_f64().expect("area");
    assert!((area_mm2 - std::f64::consts::PI * 144.0).abs() < 0.1, "{area_mm2}");
}

#[test]
fn plan_and_check_sum_a_piece_up_alike_and_as_the_file_does() {
    let room = Room::new();
    room.write("piece.toml", CUP);
    let planned = document(&room, &["plan", "piece.toml", "--out", "out", "--json"], 0);
    let checked = document(&room, &["check", "piece.toml", "--json"], 0);
    assert_eq!(planned["summary"], checked["pieces"][0]["summary"]);
    let file = std::fs::read(room.path("out/summary.json")).expect("the file");
    let file: Value = serde_json::from_slice(&file).expect("JSON");
    assert_eq!(planned["summary"], file);
    assert_eq!(file["zones"][0]["stones"], file["stones"]["count"]);
    // The wall of a frustum between 40 and 60 mm along a wall of 120 mm from 70 to 60 mm across:
    // pi times the mean diameter of 65.833 mm times 20 mm.
    let area_mm2 = file["zones"][0]["area_mm2"].as_f64().expect("area");
    let mean_mm = 70.0 - 10.0 * 50.0 / 120.0;
    assert!((area_mm2 - std::f64::consts::PI * mean_mm * 20.0).abs() < 0.1, "{area_mm2}");
}

#[test]
fn a_studio_that_needs_mending_is_told() {
    let room = room();
    room.write("studio.toml", "cupwright_settings = 1\n");
    let told = document(&room, &["check", "piece.toml", "--studio", "studio.toml", "--json"], 1);
    assert_eq!(told["diagnostics"][0]["file"], "studio.toml");
    let told = document(&room, &["check", "piece.toml", "--studio", "none.toml", "--json"], 3);
    assert!(
        told["trouble"]["message"].as_str().is_some_and(|message| message.contains("none.toml"))
    );
}
