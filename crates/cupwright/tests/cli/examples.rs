//! The examples that ship with the program.

use crate::room::{Room, arg, contents, example};
use std::fs;

/// Every example, and the warnings that are meant.
const EXAMPLES: [(&str, &[&str]); 7] = [
    // Two coats of resin in a studio that works in the evenings; a comment in the file says so.
    ("heron-low-tide", &["in the maker's hours"]),
    // Two cups turn at the same time; a comment in the file says so.
    ("regatta-pair", &["spindles"]),
    ("rain-regatta", &[]),
    ("samphire-bottle", &[]),
    ("frost-lid", &[]),
    ("moon-tide", &[]),
    ("tern-topper", &[]),
];

#[test]
fn every_example_is_checked_without_a_warning_that_is_not_meant() {
    let room = Room::new();
    for (name, meant) in EXAMPLES {
        let ran = room.run(&["check", arg(&example(&format!("{name}.toml")))]);
        ran.ended(0, meant);
        let warnings: Vec<&str> =
            ran.stderr.lines().filter(|line| line.starts_with("warning")).collect();
        for warning in &warnings {
            assert!(meant.iter().any(|words| warning.contains(words)), "{name}: {warning}");
        }
        assert!(
            ran.stdout.contains("stones, ") && ran.stdout.contains(" h of work, price "),
            "{}",
            ran.stdout
        );
    }
}

#[test]
fn every_toml_file_among_the_examples_is_tested() {
    let entries = fs::read_dir(example("")).expect("examples");
    let mut found: Vec<String> = entries
        .map(|entry| entry.expect("entry").file_name().to_string_lossy().into_owned())
        .filter_map(|name| name.strip_suffix(".toml").map(str::to_owned))
        .filter(|name| !["studio", "hours", "stock", "sellers"].contains(&name.as_str()))
        .collect();
    found.sort();
    let mut tested: Vec<&str> = EXAMPLES.iter().map(|(name, _)| *name).collect();
    tested.sort_unstable();
    assert_eq!(found, tested);
}

#[test]
fn every_example_is_planned_twice_with_the_same_bytes() {
    let room = Room::new();
    for (name, _) in EXAMPLES {
        let piece = example(&format!("{name}.toml"));
        room.run(&["plan", arg(&piece), "--out", "one", "--quiet"]).ended(0, &[]);
        // Another number of threads must not matter either.
        let mut again = room.command(&["plan", arg(&piece), "--out", "two", "--quiet"]);
        let again = again.env("RAYON_NUM_THREADS", "1").output().expect("the program starts");
        assert!(again.status.success());
        let (one, two) = (contents(&room.path("one")), contents(&room.path("two")));
        assert!(one.len() > 10, "{name} gives only {:?}", one.keys());
        for (file, bytes) in &one {
            assert!(two.get(file) == Some(bytes), "{name}: {file} differs");
        }
        assert_eq!(one.len(), two.len());
    }
}

#[test]
fn the_demo_piece_has_more_than_three_thousand_stones() {
    let room = Room::new();
    let ran = room.run(&["plan", arg(&example("heron-low-tide.toml")), "--out", "demo"]);
    ran.ended(
        0,
        &["stones,", "h of work, price", "Begin on ", "Wrote demo; open demo/workbook.pdf first."],
    );
    // Counted in the table itself: one line a stone, and a header.
    let stones = fs::read_to_string(room.path("demo/stones.csv")).expect("stones.csv");
    let n_stones = stones.lines().count() - 1;
    assert!(n_stones >= 3000, "{n_stones}");
    let summary = fs::read_to_string(room.path("demo/summary.json")).expect("summary.json");
    let summary: serde_json::Value = serde_json::from_str(&summary).expect("JSON");
    assert_eq!(summary["stones"]["count"], n_stones);
}

#[test]
fn the_shipped_studio_is_the_one_used_without_a_studio_file() {
    let room = Room::new();
    let piece = example("frost-lid.toml");
    room.run(&["plan", arg(&piece), "--out", "without"]).ended(0, &[]);
    room.run(&["plan", arg(&piece), "--out", "with", "--studio", arg(&example("studio.toml"))])
        .ended(0, &[]);
    assert!(contents(&room.path("without")) == contents(&room.path("with")));
}
