//! `cupwright timetable`: many pieces over makers, spindles and hours.

use crate::room::{Room, SMALL, arg, example};
use serde_json::Value;

/// Hours of one maker, and two orders of the small topper.
const HOURS: &str = r#"
cupwright_hours = 1
time_zone = "Europe/London"
begin = 2027-03-15
spindles = 1

[[maker]]
name = "Sedge"
[maker.hours]
monday = ["09:00-12:00"]
tuesday = ["09:00-12:00"]
thursday = ["09:00-12:00"]

[[order]]
file = "shell.toml"
due = 2027-05-01

[[order]]
file = "shell.toml"
name = "more-shells"
quantity = 3
due = 2027-03-20
"#;

fn room() -> Room {
    let room = Room::new();
    room.write("shell.toml", SMALL);
    room.write("hours.toml", HOURS);
    room
}

const TIMETABLE: [&str; 5] = ["timetable", "--hours", "hours.toml", "--rounds", "2"];

fn with<'a>(more: &[&'a str]) -> Vec<&'a str> {
    TIMETABLE.iter().copied().chain(more.iter().copied()).collect()
}

#[test]
fn the_example_is_planned_and_told_order_by_order() {
    let room = Room::new();
    let hours = example("hours.toml");
    let ran = room.run(&["timetable", "--hours", arg(&hours), "--rounds", "2"]);
    ran.ended(0, &[]);
    for words in [
        "Planned from Mon 2027-03-15 00:00, Europe/London",
        "heron-low-tide",
        "regatta-pair",
        "samphire-bottle",
        "frost",
        "tern-topper",
        "Sedge: ",
        "Rush: ",
        "This rests on",
        "safety data sheet",
    ] {
        assert!(ran.stdout.contains(words), "{words}\n{}", ran.stdout);
    }
    room.run(&["check", arg(&hours)]).ended(0, &[]);
}

#[test]
fn the_same_files_and_rounds_give_the_same_bytes_on_one_thread_or_many() {
    let hours = example("hours.toml");
    let args = ["timetable", "--hours", arg(&hours), "--rounds", "2", "--json"];
    let room = Room::new();
    let one = room.run(&args);
    one.ended(0, &[]);
    let again = room.command(&args).env("RAYON_NUM_THREADS", "1").output().expect("it starts");
    assert!(one.stdout.as_bytes() == again.stdout);
}

#[test]
fn a_late_order_is_told_where_it_stands_in_the_hours_file() {
    let room = room();
    let ran = room.run(&TIMETABLE);
    ran.ended(0, &["warning: `more-shells` leaves on ", "after it should", "--> hours.toml:"]);
    let row = |name: &str| ran.stdout.lines().find(|line| line.starts_with(name)).expect("a row");
    assert!(row("more-shells").contains("  3  ") && row("more-shells").contains("late by"));
    assert!(row("shell").contains("in time, "), "{}", ran.stdout);
}

#[test]
fn a_script_is_told_every_sitting() {
    let room = room();
    let ran = room.run(&with(&["--json"]));
    ran.ended(0, &[]);
    let told: Value = serde_json::from_str(&ran.stdout).expect("JSON");
    assert_eq!((&told["command"], &told["hours"]), (&"timetable".into(), &"hours.toml".into()));
    assert_eq!(told["stopped"], false);
    let table = &told["timetable"];
    assert_eq!(table["time_zone"], "Europe/London");
    assert_eq!(table["orders"][1]["order"], "more-shells");
    assert_eq!(table["orders"][1]["late"], true);
    let sittings = table["sittings"].as_array().expect("a list");
    assert!(sittings.len() > 8, "{sittings:#?}");
    let page = std::fs::read_to_string(
        std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs/handbook/timetable.md"),
    )
    .expect("a page of the handbook");
    for key in sittings[0].as_object().expect("a table").keys() {
        assert!(page.contains(&format!("`{key}`")), "{key} is not explained");
    }
    // Each moment has its offset, that of winter before 28 March and that of summer after.
    let begins = sittings[0]["begins"].as_str().expect("a moment");
    assert_eq!(begins, "2027-03-15T09:00:00+00:00");
}

#[test]
fn piece_files_are_orders_too_and_none_is_made_twice() {
    let room = room();
    room.write("other.toml", SMALL.replace("Shell", "Other shell"));
    let ran = room.run(&with(&["other.toml", "./shell.toml", "--json"]));
    let told: Value = serde_json::from_str(&ran.stdout).expect("JSON");
    let orders = told["timetable"]["orders"].as_array().expect("a list");
    let names: Vec<&str> = orders.iter().filter_map(|order| order["order"].as_str()).collect();
    assert_eq!(names, ["shell", "more-shells", "other"]);
    room.write("elsewhere/shell.toml", SMALL);
    room.run(&with(&["elsewhere/shell.toml"])).ended(2, &["two orders would be called shell"]);
    let none = HOURS.split("[[order]]").next().expect("a beginning");
    room.write("hours.toml", none);
    room.run(&TIMETABLE).ended(2, &["nothing is ordered"]);
}

#[test]
fn the_day_to_begin_is_asked_for_and_can_be_given() {
    let room = room();
    room.write("hours.toml", HOURS.replace("begin = 2027-03-15\n", ""));
    room.run(&TIMETABLE).ended(1, &["nobody says when to begin", "`--begin`"]);
    let ran = room.run(&with(&["--begin", "2027-04-01T10:00"]));
    ran.ended(0, &[]);
    assert!(ran.stdout.contains("Planned from Thu 2027-04-01 10:00"), "{}", ran.stdout);
    room.run(&with(&["--begin", "tomorrow"])).ended(2, &["such as 2027-03-15"]);
}

#[test]
fn mistakes_are_pointed_at_in_the_file_that_they_are_in() {
    let room = room();
    room.write("hours.toml", HOURS.replace("Europe/London", "Europe/Lundon"));
    room.run(&TIMETABLE).ended(1, &["hours.toml:3", "Did you mean \"Europe/London\"?"]);
    room.write("hours.toml", HOURS.replace("2027-05-01", "2027-02-30"));
    room.run(&TIMETABLE).ended(1, &["hours.toml:"]);
    room.write("hours.toml", HOURS.replacen("shell.toml", "shall.toml", 1));
    room.run(&TIMETABLE).ended(3, &["shall.toml", "there is no such file"]);
    room.write("hours.toml", HOURS);
    room.write("shell.toml", SMALL.replace("\"24 mm\"", "\"2.5 mm\""));
    room.run(&TIMETABLE).ended(1, &["shell.toml:"]);
    room.run(&["plan", "hours.toml", "--out", "out"])
        .ended(1, &["this is an hours file", "--hours"]);
    room.run(&["timetable", "--hours", "shell.toml"]).ended(1, &["this is a piece file"]);
}
