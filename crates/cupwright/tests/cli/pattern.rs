//! `cupwright pattern`: a piece for a class or a helper.

use crate::quoting::{two_bands, words};
use crate::room::{Room, contents};
use std::collections::BTreeMap;
use std::fs;

/// The rows of `kit.csv` by item: what is in each kit, what all take, packs.
fn kit(room: &Room, folder: &str) -> BTreeMap<String, (f64, f64, f64)> {
    let table = fs::read_to_string(room.path(folder).join("kit.csv")).expect("a table");
    // Fields of names may hold commas; figures are the last four.
    let row = |line: &str| {
        let fields: Vec<&str> = line.rsplitn(5, ',').collect();
        let number = |at: usize| fields[at].parse::<f64>().expect("a number");
        (fields[4].to_owned(), (number(3), number(2), number(0)))
    };
    table.lines().skip(1).map(row).collect()
}

#[test]
fn everyone_gets_a_kit_and_nobody_a_price() {
    let room = Room::new();
    room.write("cup.toml", two_bands());
    let args = ["pattern", "cup.toml", "--people", "8", "--out", "class"];
    room.run(&args).ended(0, &["Wrote class for 8 people", "begin with pattern.pdf"]);
    let rows = kit(&room, "class");
    let stones: Vec<_> = rows.iter().filter(|(item, _)| item.starts_with("stones,")).collect();
    assert_eq!(stones.len(), 2);
    for (item, (each, all, packs)) in stones {
        // Spare is rounded up to whole stones once for each kit and once for all.
        assert!(*all <= 8.0 * each && *all > 8.0 * (each - 1.0), "{item}: {each} {all}");
        assert_eq!(*packs, (all / 144.0).ceil(), "{item}");
    }
    // As many as a plan of one takes with its spare, whatever quantity the file says.
    room.write("one.toml", two_bands().replace("quantity = 3", "quantity = 1"));
    room.run(&["plan", "one.toml", "--out", "plan"]).ended(0, &[]);
    let bill = fs::read_to_string(room.path("plan/bill.csv")).expect("a bill");
    for (item, (each, ..)) in &rows {
        let line =
            bill.lines().find(|line| line.starts_with(item.as_str())).expect("the same item");
        // Need, repair kit, need with spare.
        let rest = line[item.len() + 1..].split(',').nth(2).expect("with spare");
        assert!((rest.parse::<f64>().expect("a number") - each).abs() < 0.011, "{line}");
    }
    let text = words(&room.path("class/pattern.pdf"));
    for word in ["for 8 people", "The kits", "in each kit", "The work", "Care card", "Wrap: body"] {
        assert!(text.contains(word), "{word} is not in: {text}");
    }
    for word in ["$", "price", "Price", "wage"] {
        assert!(!text.contains(word), "{word} is in the pattern");
    }
    assert!(room.path("class/cut-ebb.svg").exists());
    let page = include_str!("../../../../docs/handbook/pattern.md");
    let table = fs::read_to_string(room.path("class/kit.csv")).expect("a table");
    for column in table.lines().next().expect("a header").split(',') {
        assert!(page.contains(&format!("`{column}`")), "{column} is not explained");
    }
    let first = contents(&room.path("class"));
    room.run(&args).ended(0, &["Replaced class"]);
    assert!(first == contents(&room.path("class")));
}

#[test]
fn it_is_scaled_to_their_blanks() {
    let room = Room::new();
    room.write("cup.toml", two_bands());
    let other = two_bands().replace("\"70 mm\"", "\"90 mm\"").replace("\"60 mm\"", "\"80 mm\"");
    room.write("theirs.toml", other);
    let count = |args: &[&str]| {
        let args = [&["pattern", "cup.toml", "--people", "2", "--json", "--out"], args].concat();
        let ran = room.run(&args);
        ran.ended(0, &[]);
        let told: serde_json::Value = serde_json::from_str(&ran.stdout).expect("JSON");
        told["stones"].as_f64().expect("a count")
    };
    let ours = count(&["ours"]);
    let theirs = count(&["theirs", "--blank", "theirs.toml"]);
    // By girth: 85 mm against 65 mm in the middle.
    assert!((theirs / ours / (85.0 / 65.0) - 1.0).abs() < 0.05, "{theirs} {ours}");
    assert!(words(&room.path("theirs/pattern.pdf")).contains("theirs.toml"));
    count(&["generic", "--blank", "straight 30 fl oz"]);
    let refused = |args: &[&str], code: i32, words: &[&str]| {
        room.run(&[&["pattern", "cup.toml", "--out", "x"], args].concat()).ended(code, words);
    };
    refused(
        &["--people", "2", "--blank", "straight 31 fl oz"],
        3,
        &["no generic blank", "straight 30 fl oz"],
    );
    refused(&["--people", "0"], 2, &["1..=1000"]);
    refused(&[], 2, &["--people"]);
    assert!(!room.path("x").exists());
}
