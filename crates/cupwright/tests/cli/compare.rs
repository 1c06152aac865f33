//! `cupwright compare`: one zone set in several ways.

use crate::room::{CUP, Room, SMALL, contents};
use serde_json::Value;

fn room() -> Room {
    let room = Room::new();
    room.write("cup.toml", CUP);
    room
}

fn told(room: &Room, args: &[&str]) -> Value {
    let ran = room.run(&[&["compare", "cup.toml", "--json"], args].concat());
    ran.ended(0, &[]);
    assert_eq!(ran.stderr, "");
    serde_json::from_str(&ran.stdout).expect("one JSON document")
}

fn ways(told: &Value) -> Vec<&str> {
    let ways = told["comparison"]["ways"].as_array().expect("ways");
    ways.iter().filter_map(|way| way["way"].as_str()).collect()
}

#[test]
fn without_a_word_it_tries_stocked_sizes_near_the_present_one_rings_a_scatter_and_layers() {
    let room = room();
    let told = told(&room, &[]);
    // The shipped studio prices SS5 to SS50; SS30 is there now, and is not tried again.
    assert_eq!(
        ways(&told),
        [
            "rows, SS30",
            "rows, SS16",
            "rows, SS20",
            "rows, SS34",
            "rows, SS40",
            "rows, SS42",
            "rows, SS48",
            "rings, SS30",
            "scatter, SS20+SS30+SS34",
            "outline+scatter+pockets, SS20+SS30+SS34",
        ]
    );
    let ways = told["comparison"]["ways"].as_array().expect("ways");
    assert_eq!((&ways[0]["present"], &ways[1]["present"]), (&true.into(), &false.into()));
    let number = |way: &Value, key: &str| way[key].as_f64().expect("a number");
    // Smaller stones: more of them and longer work.
    for key in ["stones", "hours"] {
        assert!(number(&ways[1], key) > number(&ways[2], key));
        assert!(number(&ways[2], key) > number(&ways[0], key));
    }
    assert_eq!(told["folder"], Value::Null);
    assert_eq!(room.names(), ["cup.toml"]);
}

#[test]
fn every_way_is_what_the_piece_would_give_if_it_said_so() {
    let room = room();
    let compared = told(&room, &["--sizes", "SS16,SS20+SS12"]);
    assert_eq!(ways(&compared), ["rows, SS30", "rows, SS16", "scatter, SS12+SS20"]);
    let said = |stones: &str| {
        room.write("so.toml", CUP.replace("layout = \"rows\"\nsize = \"SS30\"", stones));
        let ran = room.run(&["check", "so.toml", "--json"]);
        let checked: Value = serde_json::from_str(&ran.stdout).expect("JSON");
        checked["pieces"][0]["summary"].clone()
    };
    let texts = [
        "layout = \"rows\"\nsize = \"SS30\"",
        "layout = \"rows\"\nsize = \"SS16\"",
        "layout = \"scatter\"\nsizes = [{ size = \"SS20\", share = \"50 %\" }, { size = \"SS12\", share = \"50 %\" }]",
    ];
    for (way, text) in texts.iter().enumerate() {
        let (way, summary) = (&compared["comparison"]["ways"][way], said(text));
        assert_eq!(way["stones"], summary["zones"][0]["stones"], "{text}");
        assert_eq!(way["coverage"], summary["zones"][0]["coverage"], "{text}");
        assert_eq!(way["pockets"], summary["zones"][0]["quality"]["pockets"], "{text}");
        assert_eq!(way["price"], summary["price"]["asked"], "{text}");
        let hours = summary["work"]["hands_on_min"].as_f64().expect("min") / 60.0;
        assert!((way["hours"].as_f64().expect("h") - hours).abs() < 0.006, "{text}");
    }
}

#[test]
fn mixes_come_in_equal_numbers_or_in_those_that_cover_most() {
    let room = room();
    let mixed = told(&room, &["--sizes", "SS8+SS20", "--layouts", "scatter,free,rows"]);
    assert_eq!(ways(&mixed), ["rows, SS30", "scatter, SS8+SS20", "free scatter, SS8+SS20"]);
    let cover = |way: usize| mixed["comparison"]["ways"][way]["coverage"].as_f64().expect("cover");
    assert!(cover(2) > cover(1) + 0.005, "{} {}", cover(1), cover(2));
    // Without sizes, each of the present ones.
    let each = told(&room, &["--layouts", "edge-rows,free"]);
    assert_eq!(ways(&each), ["rows, SS30", "edge rows, SS30", "scatter, SS30"]);
}

#[test]
fn rings_and_layers_are_what_the_piece_would_give_if_it_said_so() {
    let room = room();
    let compared = told(&room, &["--sizes", "SS20,SS12+SS16", "--layouts", "rings,layered"]);
    assert_eq!(
        ways(&compared),
        [
            "rows, SS30",
            "rings, SS20",
            "outline+scatter, SS20",
            "outline+scatter+pockets, SS12+SS16"
        ]
    );
    let layers = "layout = \"outline\"\nsize = \"SS16\"\ncolour = \"foam\"\n\
        [[zone.stones]]\nlayout = \"scatter\"\ncolour = \"foam\"\n\
        sizes = [{ size = \"SS16\", share = \"50 %\" }, { size = \"SS12\", share = \"50 %\" }]\n\
        [[zone.stones]]\nlayout = \"pockets\"\nsize = \"SS12\"";
    for (way, text) in [(1, "layout = \"rings\"\nsize = \"SS20\""), (3, layers)] {
        let head = if way == 3 { "[[zone.stones]]" } else { "[zone.stones]" };
        let cup = CUP.replace(
            "[zone.stones]\nlayout = \"rows\"\nsize = \"SS30\"",
            &format!("{head}\n{text}"),
        );
        room.write("so.toml", cup);
        let ran = room.run(&["check", "so.toml", "--json"]);
        let checked: Value = serde_json::from_str(&ran.stdout).expect("JSON");
        let zone = &checked["pieces"][0]["summary"]["zones"][0];
        let way = &compared["comparison"]["ways"][way];
        assert_eq!(way["stones"], zone["stones"], "{text}\n{}", ran.stdout);
        assert_eq!(way["coverage"], zone["coverage"], "{text}");
    }
}

#[test]
fn the_table_can_be_read_at_a_glance() {
    let room = room();
    let ran = room.run(&["compare", "cup.toml", "--sizes", "SS20"]);
    ran.ended(0, &[]);
    assert_eq!(ran.stderr, "");
    let lines: Vec<&str> = ran.stdout.lines().collect();
    assert_eq!(lines[0], "Marsh cup: zone band on body");
    for head in ["stones", "covers", "pockets", "holes", "hours", "price", "against now"] {
        assert!(lines[2].contains(head), "{}", ran.stdout);
    }
    assert!(lines[3].starts_with("  now  rows, SS30"), "{}", ran.stdout);
    assert!(
        lines[4].starts_with("       rows, SS20") && lines[4].contains(" h, +$"),
        "{}",
        ran.stdout
    );
    assert!(ran.stdout.contains("made-up example prices"));
    assert!(lines.iter().all(|line| line.chars().count() <= 110), "{}", ran.stdout);
}

#[test]
fn a_folder_gets_the_table_and_the_plot_and_is_the_same_again() {
    let room = room();
    let args = ["compare", "cup.toml", "--sizes", "SS20,SS12+SS16", "--out", "out"];
    room.run(&args).ended(0, &["Wrote out"]);
    let first = contents(&room.path("out"));
    let names: Vec<&str> = first.keys().map(String::as_str).collect();
    assert_eq!(names, [".cupwright", "compare.csv", "compare.png", "compare.svg"]);
    let table = String::from_utf8(first["compare.csv"].clone()).expect("UTF-8");
    assert_eq!(table.lines().count(), 4);
    assert!(table.contains("\"scatter, SS12+SS16\",no,scatter,SS12+SS16,"), "{table}");
    let page = include_str!("../../../../docs/handbook/compare.md");
    for column in table.lines().next().expect("a header").split(',') {
        assert!(page.contains(&format!("| `{column}` |")), "{column} is not explained");
    }
    assert!(first["compare.png"].starts_with(b"\x89PNG"));
    let plot = String::from_utf8(first["compare.svg"].clone()).expect("UTF-8");
    // Letters are outlines: no typeface is needed to see them.
    assert!(plot.starts_with("<svg") && !plot.contains("<text"), "{}", &plot[..200]);
    room.run(&args).ended(0, &["Replaced out"]);
    assert!(contents(&room.path("out")) == first);
}

#[test]
fn a_plan_is_not_written_over() {
    let room = room();
    room.run(&["plan", "cup.toml", "--out", "out"]).ended(0, &[]);
    let before = contents(&room.path("out"));
    room.run(&["compare", "cup.toml", "--out", "out"]).ended(3, &["there is a plan in out"]);
    assert!(contents(&room.path("out")) == before);
    assert_eq!(room.names(), ["cup.toml", "out"]);
}

#[test]
fn what_cannot_be_tried_is_refused_with_what_can() {
    let room = room();
    room.write(
        "bare.toml",
        SMALL.replace(
            "[zone.stones]\nlayout = \"rows\"\nsize = \"SS20\"\ncolour = \"foam\"",
            "vinyl = { colour = \"foam\" }",
        ),
    );
    let refused = |args: &[&str], words: &[&str]| {
        room.run(&[&["compare"], args].concat()).ended(2, words);
    };
    refused(&["cup.toml", "--sizes", "SS7"], &["`SS7`", "`SS5`", "`SS50`", "2.2 mm"]);
    refused(&["cup.toml", "--sizes", "SS8+SS8"], &["SS8", "twice"]);
    refused(&["cup.toml", "--sizes", ""], &["--sizes"]);
    refused(&["cup.toml", "--zone", "bend"], &["`bend`", "the only one is band"]);
    refused(&["cup.toml", "--layouts", "heap"], &["heap", "scatter"]);
    refused(&["cup.toml", "--layouts", "rows", "--sizes", "SS8+SS6"], &["one size", "SS6+SS8"]);
    refused(&["bare.toml"], &["no zone of stones"]);
    refused(&["bare.toml", "--zone", "field"], &["no zone of stones `field`", "it has none"]);
}

#[test]
fn a_way_that_cannot_be_made_is_left_out_and_a_piece_that_cannot_is_refused() {
    let room = room();
    let ran = room.run(&["compare", "cup.toml", "--sizes", "SS20,29 mm,2.2 mm"]);
    ran.ended(0, &[]);
    assert!(ran.stdout.contains("Left out: rows, 29 mm: a stone of 29 mm"), "{}", ran.stdout);
    assert!(
        ran.stdout.contains("Left out: rows, 2.2 mm: the settings give no price"),
        "{}",
        ran.stdout
    );
    room.write("bad.toml", CUP.replace("to = \"60 mm\"", "to = \"600 mm\""));
    room.run(&["compare", "bad.toml"]).ended(1, &["bad.toml:16", "600", "Nothing was compared."]);
    room.run(&["compare", "none.toml"]).ended(3, &["none.toml"]);
}
