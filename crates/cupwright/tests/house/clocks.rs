//! What the road may not reach for.

use crate::files;
use std::fs;

/// What would make the same piece give different bytes, or reach past the binary.
const BANNED: [&str; 9] = [
    "std::time",
    "SystemTime",
    "Instant::now",
    "Zoned::now",
    "std::env",
    "env::var",
    "std::process",
    "std::net",
    "HashMap",
];

/// Rooms that see no file at all; `sheets` writes them and `cupwright` reads them.
const FILELESS: [&str; 8] =
    ["piece", "shape", "stones", "coats", "work", "buying", "money", "picture"];

/// The part of a source file before its tests.
fn code(text: &str) -> String {
    let code = text.split("#[cfg(test)]").next().unwrap_or_default();
    code.lines().filter(|line| !line.trim_start().starts_with("//")).collect::<Vec<_>>().join("\n")
}

#[test]
fn the_road_reads_no_clock_and_no_environment() {
    for room in FILELESS.into_iter().chain(["sheets"]) {
        for path in files(&format!("crates/{room}/src"), "rs") {
            let text = code(&fs::read_to_string(&path).expect("source"));
            for banned in BANNED {
                assert!(!text.contains(banned), "{} uses {banned}", path.display());
            }
        }
    }
}

#[test]
fn the_rooms_before_the_sheets_open_no_file() {
    for room in FILELESS {
        for path in files(&format!("crates/{room}/src"), "rs") {
            let text = code(&fs::read_to_string(&path).expect("source"));
            for banned in ["std::fs", "File::open", "File::create", "fs::read", "fs::write"] {
                assert!(!text.contains(banned), "{} uses {banned}", path.display());
            }
        }
    }
}
