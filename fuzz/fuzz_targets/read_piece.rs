//! Any bytes as a piece file: read, shown, never a panic.
#![no_main]

use libfuzzer_sys::fuzz_target;
use piece::{NoArt, Source, read_piece, show, show_json};

fuzz_target!(|bytes: &[u8]| {
    if let Ok(source) = Source::from_bytes("fuzzed.toml", bytes.to_vec()) {
        let reading = read_piece(&source, &NoArt);
        show(&reading.diagnostics, &source, false);
        show_json(&reading.diagnostics, &source);
    }
});
