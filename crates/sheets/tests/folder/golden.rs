//! Small tables of the small cylinder, kept as they should be. After a change that is meant:
//! `REFRESH=1 cargo test --release --workspace --test folder golden`, and read the difference before you commit it.

use crate::road::text;
use std::path::PathBuf;

#[test]
fn golden_tables_are_as_they_were() {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/golden");
    let refresh = std::env::var_os("REFRESH").is_some();
    let mut changed = Vec::new();
    for name in ["coats.csv", "zones.csv", "steps.csv", "bill.csv", "price.csv", "summary.json"] {
        let (path, found) = (folder.join(name), text(name));
        if refresh {
            std::fs::write(&path, &found).expect("a folder to write to");
        } else {
            let kept = std::fs::read_to_string(&path).unwrap_or_default();
            let differing = kept.lines().zip(found.lines()).find(|(kept, found)| kept != found);
            if kept.replace("\r\n", "\n") != found.replace("\r\n", "\n") {
                changed.push(format!("{name}: {differing:#?}"));
            }
        }
    }
    assert!(
        changed.is_empty(),
        "{}\nIf that is meant: REFRESH=1 cargo test --release --workspace --test folder golden",
        changed.join("\n")
    );
}
