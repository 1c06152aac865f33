//! The reader against files: what is read, and what is said about files that cannot be.

use ::piece::{NoArt, Settings, Source, read_piece, read_settings, show};

#[test]
fn the_demo_settings_can_be_read() {
    let source = Source::new("demo.toml", Settings::DEMO_TEXT);
    let reading = read_settings(&source);
    assert_eq!(show(&reading.diagnostics, &source, false), "");
    assert!(Settings::demo().demo);
}

#[test]
fn a_whole_piece_can_be_read() {
    let source = Source::new("good-heron.toml", include_str!("pieces/good-heron.toml"));
    let reading = read_piece(&source, &NoArt);
    assert_eq!(show(&reading.diagnostics, &source, false), "");
    assert_eq!(reading.value.map(|piece| (piece.parts.len(), piece.zones.len())), Some((3, 6)));
}
