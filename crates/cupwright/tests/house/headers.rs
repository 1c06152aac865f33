//! How source files begin.

use crate::files;
use std::fs;

#[test]
fn every_source_file_opens_with_what_it_is_about() {
    let sources = files("crates", "rs");
    assert!(sources.len() > 50, "only {} source files were found", sources.len());
    for path in sources {
        let text = fs::read_to_string(&path).expect("source");
        let first = text.lines().next().unwrap_or_default();
        assert!(first.starts_with("//! "), "{} opens with {first:?}", path.display());
    }
}

#[test]
fn every_room_says_what_to_read_first() {
    for path in files("crates", "rs").into_iter().filter(|path| path.ends_with("src/lib.rs")) {
        let text = fs::read_to_string(&path).expect("source");
        assert!(text.contains("//! Read first: "), "{}", path.display());
    }
}
