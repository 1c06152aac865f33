//! The command line itself: help, schema, completions, pipes.

use crate::room::{Room, SMALL};

#[test]
fn help_is_data_and_names_every_command() {
    let ran = Room::new().run(&["--help"]);
    ran.ended(0, &[]);
    let commands = [
        "plan",
        "check",
        "compare",
        "shape",
        "grid",
        "measure",
        "blanks",
        "schema",
        "completions",
        "demo",
        "licences",
    ];
    for words in commands.into_iter().chain(["Exit codes:"]) {
        assert!(ran.stdout.contains(words), "{}", ran.stdout);
    }
    for command in commands {
        let ran = Room::new().run(&[command, "--help"]);
        ran.ended(0, &[]);
        assert!(ran.stdout.contains("Usage: cupwright"), "{}", ran.stdout);
    }
}

#[test]
fn a_line_that_is_not_understood_ends_with_two() {
    let room = Room::new();
    room.write("piece.toml", SMALL);
    for args in [
        &["plan"][..],
        &["plan", "piece.toml"],
        &["plan", "piece.toml", "--out", "out", "--begin", "2026-02-30"],
        &["plan", "piece.toml", "--out", "out", "--begin", "tomorrow"],
        &["paln"],
        &["completions", "nonsense"],
        &["schema", "lid"],
        &["check"],
        &[],
    ] {
        assert_eq!(room.run(args).code, Some(2), "{args:?}");
    }
    assert_eq!(room.names(), ["piece.toml"]);
}

#[test]
fn the_schemas_are_json_schemas() {
    for of in ["piece", "studio"] {
        let ran = Room::new().run(&["schema", of]);
        ran.ended(0, &[]);
        let schema: serde_json::Value = serde_json::from_str(&ran.stdout).expect("JSON");
        assert_eq!(schema["$schema"], "https://json-schema.org/draft/2020-12/schema");
        assert!(schema["title"].as_str().is_some_and(|title| title.starts_with("Cupwright")));
    }
    let room = Room::new();
    assert_eq!(room.run(&["schema"]).stdout, room.run(&["schema", "piece"]).stdout);
}

#[test]
fn completions_are_printed_for_every_shell() {
    for shell in ["bash", "zsh", "fish", "elvish", "powershell"] {
        let ran = Room::new().run(&["completions", shell]);
        ran.ended(0, &[]);
        assert!(ran.stdout.contains("cupwright") && ran.stdout.contains("studio"), "{shell}");
    }
    // Bash itself finds no fault with its script.
    Room::new().shell("$CUPWRIGHT completions bash | bash -n").ended(0, &[]);
}

#[cfg(target_os = "linux")]
#[test]
fn a_reader_who_hangs_up_is_no_fault() {
    let room = Room::new();
    room.write("piece.toml", SMALL);
    for line in [
        "$CUPWRIGHT schema | head -n 1 >/dev/null; exit ${PIPESTATUS[0]}",
        "$CUPWRIGHT completions bash | true; exit ${PIPESTATUS[0]}",
        "$CUPWRIGHT check piece.toml | true; exit ${PIPESTATUS[0]}",
        "$CUPWRIGHT plan piece.toml --out out --json | true; exit ${PIPESTATUS[0]}",
        "$CUPWRIGHT --help | true; exit ${PIPESTATUS[0]}",
        "$CUPWRIGHT check piece.toml 2>&- >&-",
    ] {
        room.shell(line).ended(0, &[]);
    }
}

#[cfg(target_os = "linux")]
#[test]
fn output_that_cannot_be_written_is_said_so() {
    let room = Room::new();
    room.write("piece.toml", SMALL);
    room.shell("$CUPWRIGHT schema >/dev/full").ended(3, &["could not print: the disk is full"]);
    room.shell("$CUPWRIGHT check piece.toml >/dev/full").ended(3, &["the disk is full"]);
    room.shell("$CUPWRIGHT plan piece.toml --out out 2>/dev/full").ended(0, &[]);
    room.shell("$CUPWRIGHT plan nothing.toml --out out 2>/dev/full").ended(3, &[]);
}

#[test]
fn colour_is_kept_from_what_is_no_terminal() {
    let room = Room::new();
    room.write("bad.toml", SMALL.replace("inset", "insert"));
    let ran = room.run(&["check", "bad.toml"]);
    ran.ended(1, &["bad.toml"]);
    assert!(!ran.stderr.contains('\u{1b}'), "{:?}", ran.stderr);
}

#[test]
fn a_day_to_begin_changes_the_calendar_only_from_then_on() {
    let room = Room::new();
    room.write("piece.toml", SMALL);
    room.run(&["plan", "piece.toml", "--out", "out", "--begin", "2027-03-01"]).ended(0, &[]);
    let calendar = std::fs::read_to_string(room.path("out/calendar.ics")).expect("calendar");
    let starts: Vec<&str> =
        calendar.lines().filter_map(|line| line.strip_prefix("DTSTART")).collect();
    assert!(!starts.is_empty());
    // iCalendar dates (RFC 5545, 3.3.4) sort as text.
    for start in starts {
        let day = start.rsplit(':').next().unwrap_or_default();
        assert!(day >= "20270301", "{start}");
    }
}

#[test]
fn the_licence_of_every_typeface_inside_is_printed_whole() {
    let ran = Room::new().run(&["licences"]);
    ran.ended(0, &[]);
    for font in shape::shipped_fonts() {
        assert!(ran.stdout.contains(&format!("typeface {}", font.name)), "{}", font.name);
    }
    for family in ["Alegreya,", "Alegreya Sans,"] {
        assert!(ran.stdout.contains(&format!("typeface {family}")), "{family}");
    }
    // The headings of the licence texts as published (SPDX: OFL-1.1, MIT, Apache-2.0).
    assert_eq!(ran.stdout.matches("SIL OPEN FONT LICENSE Version 1.1").count(), 6);
    assert!(ran.stdout.contains("MIT License") && ran.stdout.contains("Apache License"));
}

#[test]
fn a_day_to_begin_that_is_past_is_warned_of() {
    let room = Room::new();
    room.write("piece.toml", SMALL);
    let at = |begin: &str| room.run(&["plan", "piece.toml", "--out", "out", "--begin", begin]);
    // The tests run on 1 July 2026.
    let (past, to_come) = (at("2026-06-01"), at("2026-08-03"));
    past.ended(0, &[]);
    assert!(past.stdout.contains("which is past") || past.stderr.contains("which is past"));
    assert!(!to_come.stdout.contains("past") && !to_come.stderr.contains("past"));
}
