//! What can be made and is most often a slip is warned of, and planned all the same.

use crate::room::{CUP, Room};

/// A lid for the cup, so wide and sinking so far.
fn lid(radius_mm: u32, sink_mm: u32) -> String {
    format!(
        "[[part]]\nname = \"lid\"\nsits_on = {{ part = \"body\", sink = \"{sink_mm} mm\" }}\n\
         revolved = [ {{ along = \"0 mm\", radius = \"0 mm\" }}, {{ along = \"{radius_mm} mm\", \
         radius = \"{radius_mm} mm\" }}, {{ along = \"{} mm\", radius = \"{radius_mm} mm\" }} ]\n",
        radius_mm + 10
    )
}

fn letters(height_mm: f64, along_mm: u32) -> String {
    format!(
        "[[zone]]\nname = \"name\"\npart = \"body\"\nvinyl = {{ colour = \"ebb\" }}\nlettering = \
         {{ text = \"HERON\", height = \"{height_mm} mm\", along = \"{along_mm} mm\" }}\n"
    )
}

/// Checks the text twice: as it is it has the warning, and mended it has not.
#[track_caller]
fn warned(slip: &str, mended: &str, words: &str) {
    let room = Room::new();
    let head = "warning: ";
    let warnings = |text: &str| {
        room.write("piece.toml", text);
        let ran = room.run(&["check", "piece.toml"]);
        ran.ended(0, &[]);
        let lines = ran.stderr.lines().filter(|line| line.starts_with(head));
        lines.filter(|line| line.contains(words)).count()
    };
    assert_eq!(warnings(slip), 1, "{slip}");
    assert_eq!(warnings(mended), 0, "{mended}");
}

#[test]
fn stones_far_apart_are_warned_of() {
    // SS30 is 6.4 mm wide.
    let gap =
        |gap: &str| CUP.replace("colour = \"foam\"", &format!("colour = \"foam\"\ngap = {gap}"));
    warned(&gap("\"20 mm\""), &gap("\"2 mm\""), "at most 6.4 mm wide and 20 mm apart");
}

#[test]
fn a_lid_of_another_cup_is_warned_of() {
    let with = |radius_mm| CUP.replace("[[zone]]", &(lid(radius_mm, 5) + "[[zone]]"));
    warned(
        &with(60),
        &with(37),
        "120.0 mm across where it is widest, and the rim of `body` is 70.0",
    );
}

#[test]
fn a_lid_that_sinks_out_of_sight_is_warned_of() {
    let with = |sink_mm| CUP.replace("[[zone]]", &(lid(37, sink_mm) + "[[zone]]"));
    warned(&with(10), &with(9), "is 10.0 mm high and sinks 10 mm");
}

#[test]
fn letters_too_fine_to_weed_are_warned_of() {
    let with = |height_mm| CUP.to_owned() + &letters(height_mm, 80);
    warned(&with(4.0), &with(9.0), "capitals 4.0 mm high; below 6 mm");
}

#[test]
fn letters_under_stones_are_warned_of() {
    let (before, zone) = CUP.split_once("[[zone]]").expect("a zone");
    let with = |along_mm| format!("{before}{}[[zone]]{zone}", letters(8.0, along_mm));
    warned(&with(50), &with(80), "the stones of zone `band` hide 100 % of zone `name`");
}
