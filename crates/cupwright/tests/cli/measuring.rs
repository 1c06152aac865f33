//! Shapes told and drawn, generic blanks listed, and a cup measured by question and answer.

use crate::room::{CUP, Ran, Room};
use serde_json::Value;
use std::io::Write;
use std::process::Stdio;

/// A tapered cup read with a tape of whole millimetres on a smooth wall, with a handle.
const READ: &str = r#"
cupwright = 1
title = "Reed cutter's mug"
[[part]]
name = "body"
capacity = "20 fl oz"
read_to = "1 mm"
handle = { from = "30 mm", to = "120 mm", width = "30 mm", around = "60 deg" }
revolved = [
  { along = "0 mm", circumference = "273 mm" },
  { along = "40 mm", circumference = "259 mm", run = "smooth" },
  { along = "85 mm", circumference = "243 mm", run = "smooth" },
  { along = "130 mm", circumference = "228 mm", run = "smooth" },
  { along = "170 mm", circumference = "214 mm", run = "smooth" },
]
[[part]]
name = "topper"
flat = { width = "40 mm", height = "30 mm" }
"#;

/// Runs `cupwright measure` with these lines of answer.
fn measure(room: &Room, out: &str, answers: &[&str]) -> Ran {
    let mut command = room.command(&["measure", out]);
    command.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
    let mut child = command.spawn().expect("the program starts");
    let mut answers: String = answers.join("\n");
    answers.push('\n');
    // It may end before it has heard everything.
    let _ = child.stdin.take().expect("a pipe").write_all(answers.as_bytes());
    Ran::of(child.wait_with_output().expect("ended"))
}

fn json(ran: &Ran) -> Value {
    serde_json::from_str(&ran.stdout).expect("one JSON document")
}

#[test]
fn a_shape_is_told_with_its_family_its_cone_and_its_capacity() {
    let room = Room::new();
    room.write("cup.toml", CUP);
    let ran = room.run(&["shape", "cup.toml"]);
    ran.ended(0, &[]);
    assert!(ran.stdout.starts_with("body: tapered, since it narrows evenly"), "{}", ran.stdout);
    // sin of the lean is 5 mm over 120 mm: 2.388 degrees; height sqrt(120² - 5²) = 119.896 mm.
    for words in ["leans 2.39 deg, cone of 4.78 deg", "119.9 mm high", "188.5 mm"] {
        assert!(ran.stdout.contains(words), "{words}: {}", ran.stdout);
    }
    // π h (r1² + r1 r2 + r2²) / 3 (CRC Standard Mathematical Tables, frustum): 398.63 ml.
    let told = json(&room.run(&["shape", "cup.toml", "--json"]));
    let outside_ml = told["parts"][0]["outside_ml"].as_f64().expect("a volume");
    let expected = std::f64::consts::PI
        * (120.0_f64 * 120.0 - 25.0).sqrt()
        * (35.0 * 35.0 + 35.0 * 30.0 + 30.0 * 30.0)
        / 3000.0;
    assert!((outside_ml - expected).abs() < 1e-9, "{outside_ml} {expected}");
}

#[test]
fn readings_of_a_tape_are_told_with_what_they_are_off() {
    let room = Room::new();
    room.write("mug.toml", READ);
    let ran = room.run(&["shape", "mug.toml"]);
    ran.ended(0, &[]);
    assert!(ran.stdout.contains("body: mug with handle"), "{}", ran.stdout);
    assert!(ran.stdout.contains("mm round (read to +/-0.50 mm)"), "{}", ran.stdout);
    assert!(ran.stdout.contains("handle: from 30 mm to 120 mm"), "{}", ran.stdout);
    let told = json(&room.run(&["shape", "mug.toml", "--json"]));
    let handle = &told["parts"][0]["handle"];
    assert!((handle["around_deg"].as_f64().expect("an angle") - 60.0).abs() < 1e-9);
    let readings = told["parts"][0]["readings"].as_array().expect("readings");
    // 1 mm of girth is 1 / 2π = 0.159155 mm of radius.
    for reading in readings {
        let step = reading["read_to_mm"].as_f64().expect("a step");
        assert!((step - 0.159_154_943).abs() < 1e-8);
        assert!(reading["wall_off_mm"].as_f64().expect("an offset").abs() <= step / 2.0 + 1e-9);
    }
    assert!(readings.iter().any(|reading| reading["wall_off_mm"].as_f64() != Some(0.0)));
}

#[test]
fn profiles_are_drawn_at_true_size_in_three_forms() {
    let room = Room::new();
    room.write("mug.toml", READ);
    for name in ["mug.svg", "mug.png", "mug.pdf"] {
        room.run(&["shape", "mug.toml", "--out", name]).ended(0, &[&format!("Wrote {name}.")]);
    }
    let svg = std::fs::read_to_string(room.path("mug.svg")).expect("a drawing");
    // One unit of the drawing is 1 mm, so a print has true size.
    let tag = |name: &str| -> String {
        let from = svg.split(&format!(" {name}=\"")).nth(1).expect("an attribute");
        from.split('"').next().expect("a value").to_owned()
    };
    let view: Vec<f64> =
        tag("viewBox").split(' ').map(|number| number.parse().expect("a number")).collect();
    assert_eq!(tag("width"), format!("{}mm", view[2]));
    assert_eq!(tag("height"), format!("{}mm", view[3]));
    // Cup 170 mm high at most, with words above and a line to check below; both parts side by side.
    assert!(view[3] > 190.0 && view[3] < 240.0, "{view:?}");
    assert!(view[2] > 87.0 + 40.0 && view[2] < 500.0, "{view:?}");
    let png = image::open(room.path("mug.png")).expect("a picture");
    let inches = f64::from(png.height()) / 192.0;
    assert!((inches * 25.4 - view[3]).abs() < 0.3, "{inches} {view:?}");
    let pdf = std::fs::read(room.path("mug.pdf")).expect("a page");
    assert!(pdf.starts_with(b"%PDF-"));
    // A second time it is not written over, unless that is asked for.
    room.run(&["shape", "mug.toml", "--out", "mug.svg"]).ended(3, &["already", "--replace"]);
    room.run(&["shape", "mug.toml", "--out", "mug.svg", "--replace"]).ended(0, &[]);
    room.run(&["shape", "mug.toml", "--out", "mug.jpg"]).ended(2, &[".svg, .png or .pdf"]);
    assert_eq!(room.names(), ["mug.pdf", "mug.png", "mug.svg", "mug.toml"]);
}

#[test]
fn a_wall_that_cannot_be_is_told_in_its_place() {
    let room = Room::new();
    room.write(
        "bad.toml",
        CUP.replace("120 mm\", diameter = \"60 mm", "120 mm\", diameter = \"6 mm"),
    );
    room.run(&["shape", "bad.toml", "--out", "bad.svg"]).ended(0, &["bad.toml:11", "thinner than"]);
    room.write("bad.toml", CUP.replace("\"120 mm\", diameter", "\"2 mm\", diameter"));
    room.run(&["shape", "bad.toml", "--out", "worse.svg"])
        .ended(1, &["bad.toml:11", "no wall can do"]);
    assert_eq!(room.names(), ["bad.svg", "bad.toml"]);
}

#[test]
fn every_generic_blank_can_be_listed_and_used_and_says_that_it_is_a_guess() {
    let room = Room::new();
    let ran = room.run(&["blanks"]);
    ran.ended(0, &["Measure yours: makers differ by several mm."]);
    let told = json(&room.run(&["blanks", "--json"]));
    let blanks = told["blanks"].as_array().expect("blanks");
    assert_eq!(ran.stdout.lines().filter(|line| line.contains(" ml ")).count(), blanks.len());
    for blank in blanks {
        let name = blank["name"].as_str().expect("a name");
        room.write(
            "cup.toml",
            format!(
                "cupwright = 1\ntitle = \"Sketch\"\n[[part]]\nname = \"body\"\nblank = \"{name}\"\n"
            ),
        );
        let ran = room.run(&["shape", "cup.toml"]);
        ran.ended(0, &["are a guess", "Measure yours"]);
        let family = blank["family"].as_str().expect("a family");
        assert!(ran.stdout.starts_with(&format!("body: {family}, since ")), "{}", ran.stdout);
    }
}

#[test]
fn a_cup_is_measured_by_question_and_answer() {
    let room = Room::new();
    let answers =
        ["Heron \"low\" tide", "mm", "", "20 fl oz", "273", "170", "214", "", "", "no", "write"];
    let ran = measure(&room, "cup.toml", &answers);
    ran.ended(0, &["below the rolled rim", "tapered, since", "Wrote cup.toml."]);
    assert_eq!(ran.stdout, "");
    let told = json(&room.run(&["shape", "cup.toml", "--json"]));
    assert_eq!(told["exit_code"], 0);
    assert_eq!(told["diagnostics"], serde_json::json!([]));
    let part = &told["parts"][0];
    assert_eq!(part["family"], "tapered");
    assert_eq!(part["wall_mm"].as_f64(), Some(170.0));
    let text = std::fs::read_to_string(room.path("cup.toml")).expect("a piece file");
    assert!(text.contains("title = \"Heron \\\"low\\\" tide\""), "{text}");
    assert!(text.contains("{ along = \"170 mm\", circumference = \"214 mm\" },"), "{text}");
    // It is never written over.
    measure(&room, "cup.toml", &answers).ended(3, &["already"]);
}

#[test]
fn a_bad_answer_is_asked_again_with_the_reason() {
    let room = Room::new();
    let answers = [
        "Mug", "feet", "in", "2 in", "1/16", "600", "12 fl oz",
        // A mouth measured across, then in another unit.
        "3 3/8", "270 mm", "",
        // Not beyond the mouth; fine; a girth that no wall can reach.
        "0", "1/4", "6", "10 1/2", "curve", "4", "10", "curve", "", "yes", "9", "1/2", "3 1/4", "0",
        "1 1/8", "write",
    ];
    let ran = measure(&room, "mug.toml", &answers);
    // An empty answer where there is no usual one is asked again too.
    ran.ended(
        0,
        &[
            "`feet` is none of",
            "more than 0 and at most 5 mm",
            "`600` has no unit",
            "measured across instead of round",
            "is not beyond the place before",
            "which no wall can do",
            "9 in is beyond the last place",
            "handles are 1 to 100 mm wide",
            "mug with handle",
            "Wrote mug.toml.",
        ],
    );
    let text = std::fs::read_to_string(room.path("mug.toml")).expect("a piece file");
    assert!(text.contains("read_to = \"1/16 in\""), "{text}");
    assert!(text.contains("circumference = \"10 1/2 in\", run = \"smooth\""), "{text}");
    room.run(&["check", "mug.toml"]).ended(0, &[]);
}

#[test]
fn a_capacity_that_cannot_be_is_told_before_anything_is_written() {
    let room = Room::new();
    let answers = [
        "Pint", "", "", "40 fl oz", "236", "100", "236", "", "", "", "again", "30 ml", "236",
        "236", "100", "236", "", "", "", "again", "10 fl oz", "236", "100", "236", "", "", "",
        "write",
    ];
    let ran = measure(&room, "pint.toml", &answers);
    ran.ended(
        0,
        &[
            "No cup can have these",
            "which is impossible",
            "to keep it, type it once more",
            "Doubtful: ",
            "Wrote pint.toml.",
        ],
    );
}

#[test]
fn stopped_early_it_leaves_nothing() {
    let room = Room::new();
    measure(&room, "cup.toml", &["Heron", "mm"]).ended(130, &["nothing was written"]);
    let answers = ["", "", "", "", "273", "170", "214", "", "", "", "stop"];
    measure(&room, "cup.toml", &answers).ended(0, &["Nothing was written."]);
    assert!(room.names().is_empty());
}

#[test]
fn a_pipe_that_answers_without_end_is_left_alone() {
    let room = Room::new();
    let ran = room.shell("yes tide | $CUPWRIGHT measure cup.toml");
    ran.ended(130, &["`tide` is none of", "none of many answers"]);
    let ran = room.shell("head -c 2000000 /dev/zero | $CUPWRIGHT measure cup.toml");
    ran.ended(130, &["letters; at most 120"]);
    assert!(room.names().is_empty());
}

#[cfg(unix)]
#[test]
fn ctrl_c_in_the_middle_of_the_questions_leaves_nothing() {
    use std::io::Read;
    use std::os::unix::process::ExitStatusExt;
    let room = Room::new();
    let mut command = room.command(&["measure", "cup.toml"]);
    command.stdin(Stdio::piped()).stdout(Stdio::null()).stderr(Stdio::piped());
    let mut child = command.spawn().expect("the program starts");
    let mut stdin = child.stdin.take().expect("a pipe");
    stdin.write_all(b"Heron\n").expect("heard");
    // It has asked, so it waits for the next answer.
    let mut first = [0_u8; 1];
    child.stderr.as_mut().expect("a pipe").read_exact(&mut first).expect("a question");
    room.shell(&format!("kill -INT {}", child.id())).ended(0, &[]);
    let status = child.wait().expect("ended");
    assert_eq!(status.signal(), Some(2));
    drop(stdin);
    assert!(room.names().is_empty());
}

#[test]
fn a_test_print_is_drawn_of_a_round_part() {
    let room = Room::new();
    room.write("mug.toml", READ);
    room.run(&["grid", "mug.toml", "--out", "mug.svg"]).ended(0, &["Wrote mug.svg."]);
    let svg = std::fs::read_to_string(room.path("mug.svg")).expect("a drawing");
    assert!(svg.contains("id=\"grid\"") && svg.contains("id=\"scale\""));
    room.run(&["grid", "mug.toml", "--out", "mug.pdf", "--part", "body"]).ended(0, &[]);
    assert!(std::fs::read(room.path("mug.pdf")).expect("pages").starts_with(b"%PDF-"));
    room.run(&["grid", "mug.toml", "--out", "mug.svg"]).ended(3, &["already", "--replace"]);
    room.run(&["grid", "mug.toml", "--out", "mug.svg", "--replace"]).ended(0, &[]);
    room.run(&["grid", "mug.toml", "--out", "mug.png"]).ended(2, &[".svg or .pdf"]);
    room.run(&["grid", "mug.toml", "--out", "no.svg", "--part", "topper"]).ended(2, &["is flat"]);
    room.run(&["grid", "mug.toml", "--out", "no.svg", "--part", "lid"])
        .ended(2, &["no part called lid", "body, topper"]);
    assert!(!room.path("no.svg").exists());
}
