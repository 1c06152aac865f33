//! `cupwright demo`.

use crate::room::{Room, example, names};
use std::fs;

#[test]
fn the_examples_are_written_and_can_be_planned() {
    let room = Room::new();
    let ran = room.run(&["demo", "marsh"]);
    ran.ended(
        0,
        &[
            "14 example files are in marsh.",
            "Next: cupwright plan marsh/heron-low-tide.toml --out marsh/heron",
        ],
    );
    assert_eq!(names(&room.path("marsh")), names(&example("")));
    for name in names(&room.path("marsh")) {
        assert!(
            fs::read(room.path("marsh").join(&name)).ok() == fs::read(example(&name)).ok(),
            "{name}"
        );
    }
    room.run(&[
        "plan",
        "marsh/tern-topper.toml",
        "--out",
        "marsh/tern",
        "--studio",
        "marsh/studio.toml",
    ])
    .ended(0, &[]);
}

#[test]
fn nothing_is_overwritten() {
    let room = Room::new();
    room.write("marsh/studio.toml", "my own prices");
    room.run(&["demo", "marsh"]).ended(0, &["Already there and left as they are: 1."]);
    assert_eq!(fs::read_to_string(room.path("marsh/studio.toml")).expect("kept"), "my own prices");
    assert_eq!(names(&room.path("marsh")), names(&example("")));
}

#[test]
fn a_folder_that_cannot_be_made_is_said_so() {
    let room = Room::new();
    room.write("marsh", "a file");
    assert_eq!(room.run(&["demo", "marsh"]).code, Some(3));
    assert_eq!(fs::read_to_string(room.path("marsh")).expect("kept"), "a file");
}
