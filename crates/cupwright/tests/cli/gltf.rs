//! `piece.glb` before the Khronos glTF validator (npm package gltf-validator).

use crate::room::{Room, arg, example};
use std::path::Path;
use std::process::Command;

#[test]
fn the_validator_finds_no_fault_with_the_glb_of_any_example() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let room = Room::new();
    for name in [
        "heron-low-tide",
        "regatta-pair",
        "rain-regatta",
        "samphire-bottle",
        "frost-lid",
        "moon-tide",
        "tern-topper",
    ] {
        room.run(&["plan", arg(&example(&format!("{name}.toml"))), "--out", name]).ended(0, &[]);
        let glb = room.path(name).join("piece.glb");
        let mut node = Command::new("node");
        let output = node.arg(root.join("tools/validate-gltf.mjs")).arg(&glb).output();
        let output = output.expect("node starts; `make test` says what it needs");
        let said = String::from_utf8_lossy(&output.stdout).into_owned()
            + &String::from_utf8_lossy(&output.stderr);
        assert!(output.status.success(), "{name}: {said}");
        let report: serde_json::Value = serde_json::from_slice(&output.stdout).expect("a report");
        assert_eq!(
            (&report["numErrors"], &report["numWarnings"]),
            (&0.into(), &0.into()),
            "{name}: {said}"
        );
    }
}

#[test]
fn the_validator_finds_fault_with_what_is_no_glb() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let room = Room::new();
    let broken = room.write("broken.glb", "glTF but not really");
    let output = Command::new("node")
        .arg(root.join("tools/validate-gltf.mjs"))
        .arg(&broken)
        .output()
        .expect("node");
    assert_eq!(output.status.code(), Some(1));
}
