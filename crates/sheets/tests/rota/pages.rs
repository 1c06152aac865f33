//! The pages, read and rendered by an outside program (poppler's pdftotext and pdftoppm).

use crate::bench::many;
use crate::fixture::{SMALL, SMALL_FOLDER, written};
use piece::settings::Paper;
use std::path::Path;
use std::process::Command;
use work::rota::Rota;

/// What one of poppler's programs prints.
fn run(command: &mut Command) -> Vec<u8> {
    let output = command.output().unwrap_or_else(|error| {
        panic!("{command:?} cannot be run ({error}); `make test` installs it and runs the tests")
    });
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    output.stdout
}

/// The words of each page of a PDF file, a space between any two.
pub fn words(file: &Path) -> Vec<String> {
    let text = run(Command::new("pdftotext").arg("-layout").arg(file).arg("-"));
    let text = String::from_utf8_lossy(&text).into_owned();
    // Every page ends on a form feed.
    let pages = text.strip_suffix('\u{c}').unwrap_or(&text).split('\u{c}');
    let line = |line: &str| line.split_whitespace().collect::<Vec<_>>().join(" ");
    let page = |page: &str| {
        page.lines().map(line).filter(|line| !line.is_empty()).collect::<Vec<_>>().join("\n")
    };
    pages.map(page).collect()
}

/// Words in the order in which they were set, without line ends.
fn running(file: &Path) -> Vec<String> {
    let text = run(Command::new("pdftotext").arg(file).arg("-"));
    let text = String::from_utf8_lossy(&text).into_owned();
    let pages = text.strip_suffix('\u{c}').unwrap_or(&text).split('\u{c}');
    pages.map(|page| page.split_whitespace().collect::<Vec<_>>().join(" ")).collect()
}

/// Sittings in the seven days from the plan's beginning.
fn this_week(rota: &Rota) -> impl Iterator<Item = &work::rota::RotaSitting> {
    let first = rota.zone.to_datetime(rota.begins).date();
    rota.sittings.iter().filter(move |sitting| {
        let date = rota.zone.to_datetime(sitting.at.0).date();
        (0..7).contains(&(first.duration_until(date).as_hours() / 24))
    })
}

#[test]
fn the_page_of_a_maker_holds_every_sitting_of_her_week() {
    for (rota, paper) in
        [(SMALL.clone(), Paper::A4), (many(3, 3, 2), Paper::Letter), (many(30, 2, 3), Paper::A4)]
    {
        let folder = written(&rota, paper);
        let pages = running(&folder.path().join("this-week.pdf"));
        assert_eq!(pages.len(), rota.makers.len(), "a page each");
        let mut seen = 0;
        for sitting in this_week(&rota) {
            let Some(maker) = sitting.maker else {
                assert!(pages.iter().all(|page| page.contains(&sitting.step)));
                continue;
            };
            let page = &pages[maker];
            let [from, to] = [sitting.at.0, sitting.at.1]
                .map(|at| rota.zone.to_datetime(at).strftime("%H:%M").to_string());
            for words in [format!("{from}\u{2013}{to}"), sitting.step.clone()] {
                assert!(page.contains(&words), "{words} is not in {page}");
            }
            seen += 1;
        }
        assert!(seen > 4);
        for page in &pages {
            assert!(page.contains("this is no substitute for either"), "{page}");
            assert!(page.contains("Must leave this week"), "{page}");
        }
    }
}

#[test]
fn a_late_order_is_told_as_late_where_it_should_have_left() {
    let pages = running(&SMALL_FOLDER.path().join("this-week.pdf"));
    for page in pages {
        let (_, leaves) = page.split_once("Must leave this week").expect("what leaves");
        assert!(leaves.contains("LATE by 24 h"), "{leaves}");
    }
}

#[test]
fn the_chart_has_a_page_for_all_weeks_one_for_each_week_and_one_of_figures() {
    let pages = running(&SMALL_FOLDER.path().join("chart.pdf"));
    // Two weeks: 24 March is a Wednesday, 31 March that of the week after.
    assert_eq!(pages.len(), 4);
    let last = &pages[3];
    for order in &SMALL.orders {
        assert!(last.contains(&order.title), "{last}");
    }
    for line in &SMALL.quality {
        assert!(last.contains(line), "{last}");
    }
    assert!(last.contains("80 %") && last.contains("LATE by 24 h"), "{last}");
}

#[test]
fn nothing_is_cut_off_at_the_edge_of_a_page() {
    for (rota, paper) in [(many(3, 3, 2), Paper::Letter), (many(30, 2, 3), Paper::A4)] {
        let folder = written(&rota, paper);
        for name in ["chart.pdf", "this-week.pdf"] {
            let dpi = 40.0;
            let pages = folder.path().join("page");
            run(Command::new("pdftoppm")
                .args(["-r", "40", "-gray"])
                .arg(folder.path().join(name))
                .arg(&pages));
            // Most printers leave 3 to 6 mm bare (common practice).
            let edge = (6.0 / 25.4 * dpi) as u32;
            for entry in std::fs::read_dir(folder.path()).expect("a folder") {
                let path = entry.expect("a file").path();
                if path.extension().is_none_or(|kind| kind != "pgm") {
                    continue;
                }
                let (width, height, grey) = greymap(&std::fs::read(&path).expect("a picture"));
                let at_edge = |x: u32, y: u32| {
                    x < edge || y < edge || x + edge >= width || y + edge >= height
                };
                let inked = (0..width * height)
                    .filter(|at| at_edge(at % width, at / width) && grey[*at as usize] < 200);
                assert_eq!(inked.count(), 0, "{name} {path:?}");
                std::fs::remove_file(path).expect("removed");
            }
        }
    }
}

/// A binary greymap: `P5 width height 255`, one white space, the dots (netpbm, pgm(5)).
fn greymap(bytes: &[u8]) -> (u32, u32, Vec<u8>) {
    let mut fields = bytes.splitn(4, |byte| byte.is_ascii_whitespace());
    let mut field = || String::from_utf8_lossy(fields.next().expect("a field")).into_owned();
    assert_eq!(field(), "P5");
    let (width, height): (u32, u32) =
        (field().parse().expect("a width"), field().parse().expect("a height"));
    (width, height, bytes[bytes.len() - (width * height) as usize..].to_vec())
}
