//! What people see of the small timetable, kept as it should be. After a change that is meant:
//! `REFRESH=1 cargo test --release --workspace --test rota golden`, and read the difference before you
//! commit it.

use crate::chart::groups;
use crate::fixture::{SMALL_FOLDER, text};
use crate::pages::words;
use std::path::PathBuf;

#[test]
fn golden_files_are_as_they_were() {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/golden/rota");
    let refresh = std::env::var_os("REFRESH").is_some();
    let written = SMALL_FOLDER.path();
    let groups = groups(&text(written, "chart.svg"));
    let mut found: Vec<(&str, String)> =
        ["timetable.csv", "orders.csv", "calendar-wren.ics", "calendar-ondine-of-the-creek.ics"]
            .map(|name| (name, text(written, name)))
            .into();
    let lines = groups.iter().map(|(id, title)| format!("{id}: {title}\n"));
    found.push(("chart-groups.txt", lines.collect()));
    found.push(("this-week.txt", words(&written.join("this-week.pdf")).join("\n---\n")));
    let mut changed = Vec::new();
    for (name, found) in found {
        let path = folder.join(name);
        if refresh {
            std::fs::write(&path, &found).expect("a folder to write to");
            continue;
        }
        let kept = std::fs::read_to_string(&path).unwrap_or_default();
        let differing = kept.lines().zip(found.lines()).find(|(kept, found)| kept != found);
        if kept.replace("\r\n", "\n") != found.replace("\r\n", "\n") {
            changed.push(format!("{name}: {differing:#?}"));
        }
    }
    assert!(
        changed.is_empty(),
        "{}\nIf that is meant: REFRESH=1 cargo test --release --workspace --test rota golden",
        changed.join("\n")
    );
}
