//! Writing the folder: what is in it, stopping, and the same bytes each time.

use crate::road::{REED_FOLDER, REED_RING, read, written};
use sheets::{SheetError, write_sheets};
use std::collections::BTreeSet;

fn names(folder: &std::path::Path) -> BTreeSet<String> {
    let entries = std::fs::read_dir(folder).expect("a folder");
    entries
        .map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned())
        .collect()
}

#[test]
fn the_folder_holds_every_file_of_the_design() {
    let expected = [
        "stones.csv",
        "zones.csv",
        "coats.csv",
        "steps.csv",
        "bill.csv",
        "price.csv",
        "calendar.ics",
        "wrap-body.svg",
        "wrap-body.pdf",
        "collar-body.svg",
        "collar-body.pdf",
        "cut-reed.svg",
        "piece.glb",
        "preview.png",
        "views.png",
        "workbook.pdf",
        "summary.json",
    ];
    assert_eq!(names(REED_FOLDER.path()), expected.map(str::to_owned).into());
}

#[test]
fn the_same_plan_gives_the_same_bytes() {
    let again = written(&REED_RING);
    for name in names(REED_FOLDER.path()) {
        let same = read(REED_FOLDER.path(), &name) == read(again.path(), &name);
        assert!(same, "{name} differs");
    }
}

#[test]
fn progress_names_each_file_and_can_stop_the_work() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut seen = Vec::new();
    let outcome = write_sheets(&REED_RING, folder.path(), &mut |file, done, of| {
        seen.push((file.to_owned(), done, of));
        done < 3
    });
    assert!(matches!(outcome, Err(SheetError::Stopped)));
    let wrote = names(folder.path());
    assert_eq!(wrote.len(), 3);
    assert_eq!(seen.len(), 4);
    assert!(seen.iter().all(|&(_, _, of)| of == 17), "{seen:?}");
    assert!(seen[..3].iter().all(|(file, _, _)| wrote.contains(file)));
}

#[test]
fn one_is_asked_before_long_drawings_and_while_pictures_are_waited_for() {
    let folder = tempfile::tempdir().expect("a folder");
    let stopped_at = |name: &str| {
        let mut asked = 0;
        let outcome = write_sheets(&REED_RING, folder.path(), &mut |file, _, _| {
            asked += usize::from(file == name);
            file != name
        });
        assert!(matches!(outcome, Err(SheetError::Stopped)), "{name}");
        assert_eq!(asked, 1, "{name}");
        names(folder.path()).contains(name)
    };
    // Each is asked about before its drawing is begun, so nothing of it is written.
    assert!(!stopped_at("wrap-body.svg") && !stopped_at("workbook.pdf"));
}

#[test]
fn a_folder_that_is_not_there_is_named_with_the_file() {
    let missing = REED_FOLDER.path().join("no such folder");
    let outcome = write_sheets(&REED_RING, &missing, &mut |_, _, _| true);
    let Err(error) = outcome else { panic!("must fail") };
    assert!(error.to_string().contains("could not write stones.csv"), "{error}");
}

#[test]
fn the_preview_is_a_png() {
    // PNG, third edition, 5.2: signature.
    let preview = read(REED_FOLDER.path(), "preview.png");
    assert_eq!(preview[..8], [0x89, b'P', b'N', b'G', 0x0d, 0x0a, 0x1a, 0x0a]);
    assert!(preview.len() > 20_000);
}
