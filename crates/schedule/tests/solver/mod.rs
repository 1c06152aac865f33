//! Calls the general solver that plans are compared with (`bench/timetable/reference.py`).

// Each test and bench uses a part of it.
#![allow(dead_code)]

use schedule::{Book, Plan};
use serde::Deserialize;
use std::path::Path;
use std::process::Command;

/// What the general solver found.
#[derive(Debug, Deserialize)]
pub struct Answer {
    /// Its plan, if it found one.
    pub plan: Option<Plan>,
    /// Whether it has proved that nothing is better.
    pub proved: bool,
}

/// Lets the general solver work on a book for so many seconds, from a plan if there is one.
///
/// # Panics
/// If it is not installed, or finds a mistake in the book or the plan.
pub fn ask(book: &Book, start: Option<&Plan>, seconds: f64) -> Answer {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let python = root.join(".tools/reference/bin/python");
    assert!(python.exists(), "the general solver is missing: run `make tools`");
    let folder = tempfile::tempdir().expect("a folder for the book");
    let write = |name: &str, text: serde_json::Result<String>| {
        let path = folder.path().join(name);
        std::fs::write(&path, text.expect("JSON")).expect("the folder can be written");
        path
    };
    let mut command = Command::new(python);
    command.arg(root.join("bench/timetable/reference.py"));
    command.arg(write("book.json", serde_json::to_string(book)));
    command.args(["--seconds", &seconds.to_string(), "--workers", "2"]);
    if let Some(plan) = start {
        command.arg("--start").arg(write("plan.json", serde_json::to_string(plan)));
    }
    let output = command.output().expect("Python can be called");
    let said = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "the general solver gave up: {said}");
    serde_json::from_slice(&output.stdout).expect("an answer")
}

/// One figure for a plan, to say by how many percent another is above it: ten for each slot late,
/// twelve for each optional task and mix, one for each slot at which a job is done. Our own weights,
/// no source.
pub fn weighed(plan: &Plan) -> f64 {
    let cost = plan.cost;
    10.0 * cost.late as f64 + 12.0 * f64::from(cost.extras) + cost.finishes as f64
}
