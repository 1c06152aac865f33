//! The folder: whole or not at all, and never over what is not ours.

use crate::room::{Room, SMALL, contents, names};
use std::fs;

/// A room with two pieces and a plan of the first in `out`.
fn planned() -> Room {
    let room = Room::new();
    room.write("first.toml", SMALL);
    room.write("second.toml", SMALL.replace("Shell", "Second shell"));
    room.run(&["plan", "first.toml", "--out", "out"])
        .ended(0, &["Wrote out; open out/workbook.pdf first"]);
    room
}

const SECOND: [&str; 4] = ["plan", "second.toml", "--out", "out"];

#[test]
fn a_plan_writes_every_file_that_it_says() {
    let room = planned();
    let found = names(&room.path("out"));
    for file in [
        "bill.csv",
        "piece.glb",
        "preview.png",
        "price.csv",
        "stones.csv",
        "summary.json",
        "workbook.pdf",
    ] {
        assert!(found.iter().any(|name| name == file), "{file} is missing from {found:?}");
    }
    assert_eq!(room.names(), ["first.toml", "out", "second.toml"]);
    for (name, bytes) in contents(&room.path("out")) {
        assert!(!bytes.is_empty(), "{name} is empty");
    }
}

#[test]
fn planning_again_replaces_the_folder() {
    let room = planned();
    let first = contents(&room.path("out"));
    room.run(&SECOND).ended(0, &["Replaced out; open"]);
    let second = contents(&room.path("out"));
    assert!(first["summary.json"] != second["summary.json"]);
    assert_eq!(room.names(), ["first.toml", "out", "second.toml"]);
}

#[test]
fn an_empty_folder_is_filled() {
    let room = planned();
    fs::create_dir(room.path("empty")).expect("folder");
    room.run(&["plan", "first.toml", "--out", "empty"]).ended(0, &[]);
    assert!(contents(&room.path("empty")) == contents(&room.path("out")));
}

#[test]
fn folders_above_are_made_and_go_again_if_nothing_comes_of_it() {
    let room = planned();
    room.run(&["plan", "first.toml", "--out", "a/b/c"]).ended(0, &[]);
    assert!(contents(&room.path("a/b/c")) == contents(&room.path("out")));
    room.write("bad.toml", SMALL.replace("\"24 mm\"", "\"2.5 mm\""));
    room.run(&["plan", "bad.toml", "--out", "d/e/f"]).ended(1, &["Nothing was written."]);
    assert!(!room.path("d").exists());
}

#[test]
fn a_folder_with_someone_elses_file_is_left_alone() {
    let room = planned();
    room.write("out/notes.txt", "call her about the colour");
    let before = contents(&room.path("out"));
    room.run(&SECOND)
        .ended(3, &["out holds notes.txt, which Cupwright did not write", "Nothing was changed"]);
    assert!(contents(&room.path("out")) == before);
    assert_eq!(room.names(), ["first.toml", "out", "second.toml"]);
    fs::remove_file(room.path("out/notes.txt")).expect("removed");
    room.run(&SECOND).ended(0, &["Replaced out"]);
}

#[test]
fn a_folder_that_is_not_ours_is_left_alone() {
    let room = planned();
    room.write("photos/cup.jpg", "a photo");
    room.run(&["plan", "first.toml", "--out", "photos"]).ended(3, &["photos holds cup.jpg"]);
    assert_eq!(names(&room.path("photos")), ["cup.jpg"]);
    // A copy of the list does not make it ours.
    fs::copy(room.path("out/.cupwright"), room.path("photos/.cupwright")).expect("copied");
    room.run(&["plan", "first.toml", "--out", "photos"]).ended(3, &["photos holds cup.jpg"]);
    // Files of ours without the list are not known either.
    fs::remove_file(room.path("out/.cupwright")).expect("removed");
    room.run(&SECOND).ended(3, &["which Cupwright did not write"]);
}

#[test]
fn a_file_of_ours_that_someone_changed_is_not_lost() {
    let room = planned();
    room.write("out/bill.csv", "with my own notes");
    room.run(&SECOND).ended(3, &["out holds bill.csv, which was changed since Cupwright wrote it"]);
    assert_eq!(fs::read_to_string(room.path("out/bill.csv")).expect("kept"), "with my own notes");
}

#[test]
fn a_folder_inside_is_not_lost() {
    let room = planned();
    room.write("out/stones.d/list.txt", "mine");
    room.run(&SECOND).ended(3, &["out holds stones.d"]);
    assert!(room.path("out/stones.d/list.txt").exists());
}

#[test]
fn litter_of_file_browsers_does_not_stand_in_the_way() {
    let room = planned();
    room.write("out/.DS_Store", "x");
    room.write("out/Thumbs.db", "x");
    room.run(&SECOND).ended(0, &["Replaced out"]);
    assert!(!room.path("out/.DS_Store").exists());
}

#[test]
fn a_piece_that_needs_mending_leaves_the_old_folder() {
    let room = planned();
    let before = contents(&room.path("out"));
    room.write("second.toml", "cupwright = 1\n");
    room.run(&SECOND).ended(1, &["Nothing was written."]);
    assert!(contents(&room.path("out")) == before);
}
