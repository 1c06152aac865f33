//! Who depends on whom.

use crate::{root, text};
use std::collections::{BTreeMap, BTreeSet};
use std::fs;

/// The crates that the table in ARCHITECTURE.md lists, with those that each may use.
fn allowed() -> BTreeMap<String, BTreeSet<String>> {
    let mut rooms: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for line in text("ARCHITECTURE.md").lines().filter(|line| line.starts_with("| `crates/")) {
        let cells: Vec<&str> = line.split('|').map(str::trim).collect();
        let name = cells[1].trim_matches('`').trim_start_matches("crates/").to_owned();
        let uses = match cells[3] {
            "all above" => rooms.keys().cloned().collect(),
            "–" => BTreeSet::new(),
            list => list.split(", ").map(|used| used.trim_matches('`').to_owned()).collect(),
        };
        rooms.insert(name, uses);
    }
    rooms
}

/// Names of our own crates in the `[dependencies]` of a crate.
fn used(name: &str, ours: &BTreeSet<String>) -> BTreeSet<String> {
    let manifest = text(&format!("crates/{name}/Cargo.toml"));
    let lines = manifest.lines().skip_while(|line| *line != "[dependencies]").skip(1);
    let names = lines.take_while(|line| !line.starts_with('['));
    names
        .filter_map(|line| line.split(['.', ' ', '=']).next())
        .filter(|used| ours.contains(*used))
        .map(str::to_owned)
        .collect()
}

#[test]
fn every_crate_stands_in_the_table_of_rooms() {
    let folders = fs::read_dir(root().join("crates")).expect("crates");
    let found: BTreeSet<String> = folders
        .map(|entry| entry.expect("entry").file_name().to_string_lossy().into_owned())
        .collect();
    assert_eq!(found, allowed().into_keys().collect());
}

#[test]
fn a_crate_uses_only_the_crates_that_the_table_allows() {
    let rooms = allowed();
    let ours = rooms.keys().cloned().collect();
    for (name, may_use) in &rooms {
        let uses = used(name, &ours);
        let beyond: Vec<_> = uses.difference(may_use).collect();
        assert!(beyond.is_empty(), "{name} uses {beyond:?}, which the table does not allow");
    }
    // The parsing above would also pass if it found nothing at all.
    assert!(used("sheets", &ours).contains("picture"));
}
