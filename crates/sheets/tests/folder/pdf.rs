//! The workbook rendered by an outside program (poppler's pdftoppm) and measured on the pixels.

use crate::road::{REED_FOLDER, read};
use std::f64::consts::PI;
use std::path::Path;
use std::process::Command;

/// Dots per inch of the rendering.
const DPI: f64 = 300.0;
const MM_PER_DOT: f64 = 25.4 / DPI;

/// One page in grey; 0 is black.
pub struct Page {
    pub width: usize,
    pub height: usize,
    grey: Vec<u8>,
}

impl Page {
    /// Ink at a dot, 0 to 1.
    pub fn ink(&self, x: usize, y: usize) -> f64 {
        1.0 - f64::from(self.grey[y * self.width + x]) / 255.0
    }

    /// Share of inked dots of a row between two columns.
    fn row(&self, y: usize, columns: std::ops::Range<usize>) -> f64 {
        let count = columns.len() as f64;
        columns.filter(|&x| self.ink(x, y) > 0.3).count() as f64 / count
    }

    /// Share of inked dots of a column between two rows.
    fn column(&self, x: usize, rows: std::ops::Range<usize>) -> f64 {
        let count = rows.len() as f64;
        rows.filter(|&y| self.ink(x, y) > 0.3).count() as f64 / count
    }
}

fn page(number: usize) -> Page {
    page_of("workbook.pdf", number)
}

fn page_of(file: &str, number: usize) -> Page {
    greymaps(&REED_FOLDER.path().join(file), DPI, Some(number)).remove(0)
}

/// The pages of a PDF file, or one of them, at so many dots per inch.
pub fn greymaps(file: &Path, dpi: f64, only: Option<usize>) -> Vec<Page> {
    let folder = tempfile::tempdir().expect("a folder");
    let only = only.map(|page| page.to_string());
    let mut command = Command::new("pdftoppm");
    command.args(["-r", &dpi.to_string(), "-gray"]);
    if let Some(page) = &only {
        command.args(["-f", page, "-l", page]);
    }
    run(command.arg(file).arg(folder.path().join("page")));
    // Names carry the number with as many digits as the last has.
    let entries = std::fs::read_dir(folder.path()).expect("a folder");
    let mut files: Vec<_> = entries.map(|entry| entry.expect("a file").path()).collect();
    files.sort();
    files.iter().map(|file| read_pgm(&std::fs::read(file).expect("a picture"))).collect()
}

/// What one of poppler's programs prints.
fn run(command: &mut Command) -> String {
    let output = command.output().unwrap_or_else(|error| {
        panic!("{command:?} cannot be run ({error}); `make test` installs it and runs the tests")
    });
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8_lossy(&output.stdout).into_owned()
}

/// A binary greymap: `P5 width height 255`, one white space, the dots (netpbm, pgm(5)).
fn read_pgm(bytes: &[u8]) -> Page {
    let mut fields = bytes.splitn(4, |byte| byte.is_ascii_whitespace());
    let mut field = || String::from_utf8_lossy(fields.next().expect("a field")).into_owned();
    assert_eq!(field(), "P5");
    let (width, height): (usize, usize) =
        (field().parse().expect("a width"), field().parse().expect("a height"));
    let grey = bytes[bytes.len() - width * height..].to_vec();
    Page { width, height, grey }
}

/// The text of each page of a PDF file.
pub fn text(file: &Path) -> Vec<String> {
    let text = run(Command::new("pdftotext").arg(file).arg("-"));
    // Every page ends on a form feed.
    let pages = text.strip_suffix('\u{c}').unwrap_or(&text);
    pages.split('\u{c}').map(str::to_owned).collect()
}

/// Numbers of the pages on which the words stand.
fn pages_with(words: &str) -> Vec<usize> {
    let pages = text(&REED_FOLDER.path().join("workbook.pdf"));
    let pages = pages.iter().enumerate();
    pages.filter(|(_, page)| page.contains(words)).map(|(index, _)| index + 1).collect()
}

/// Middles of runs of neighbouring places whose share of ink is above a limit.
fn lines(shares: &[f64], limit: f64) -> Vec<f64> {
    let mut middles = Vec::new();
    let mut from = None;
    for (place, &share) in shares.iter().chain([&0.0]).enumerate() {
        match (share > limit, from) {
            (true, None) => from = Some(place),
            (false, Some(start)) => {
                let run = start..place;
                let weight: f64 = run.clone().map(|at| shares[at]).sum();
                middles.push(run.map(|at| at as f64 * shares[at]).sum::<f64>() / weight);
                from = None;
            }
            _ => {}
        }
    }
    middles
}

/// The row of the ruler's base line: inked for 101.6 mm from the margin, and no farther.
fn ruler_row(page: &Page) -> usize {
    let dot = |mm: f64| (mm / MM_PER_DOT).round() as usize;
    let inked = |y: &usize| {
        page.row(*y, dot(16.5)..dot(117.0)) > 0.98 && page.row(*y, dot(119.0)..dot(130.0)) < 0.02
    };
    (0..page.height).rev().find(inked).expect("a ruler on the page")
}

#[test]
fn the_rulers_on_true_size_pages_are_100_mm_and_4_in_long() {
    let numbers = pages_with("True size.");
    assert!(numbers.len() >= 2, "placement and wrap: {numbers:?}");
    for number in numbers {
        let page = page(number);
        let base = ruler_row(&page);
        // Just inside the long ticks at the ends, above (mm) and below (inch) the base line.
        for (rise_mm, length_mm) in [(-3.2, 100.0), (3.2, 101.6)] {
            let y = (base as f64 + rise_mm / MM_PER_DOT).round() as usize;
            let ink: Vec<f64> = (0..page.width).map(|x| page.ink(x, y)).collect();
            let ticks = lines(&ink, 0.15);
            let start = ticks[0];
            near((start + 0.5) * MM_PER_DOT, 16.0, "left margin");
            let end = ticks.iter().map(|tick| (tick - start) * MM_PER_DOT);
            let end = end.min_by(|a, b| (a - length_mm).abs().total_cmp(&(b - length_mm).abs()));
            near(end.expect("an end"), length_mm, "ruler");
        }
    }
}

#[test]
fn a_tile_of_the_wrap_is_true_to_a_tenth_of_a_millimetre() {
    // The front in the middle of the first tile, the two ends side by side below it.
    let wraps = pages_with("Wrap: body");
    let mut tiles = pages_with("tile A2, A1, A3 of 3");
    tiles.retain(|page| wraps.contains(page));
    assert_eq!(tiles.len(), 1, "{tiles:?}");
    let page = page(tiles[0]);
    let dot = |mm: f64| (mm / MM_PER_DOT).round() as usize;
    // The tile reaches 4 mm into the margins; tide line and ruler are not solid rows.
    let across = dot(22.0)..dot(195.0);
    let rows: Vec<f64> = (0..page.height).map(|y| page.row(y, across.clone())).collect();
    let solid = lines(&rows, 0.9);
    let (rim, foot) = (solid[0], solid[solid.len() - 1]);
    near((foot - rim) * MM_PER_DOT, 80.0, "wall, from rim to foot");

    // Upright dashed lines: the join on the left, the front, the join on the right.
    let down = rim.round() as usize + 3..foot.round() as usize - 3;
    let columns: Vec<f64> = (0..page.width).map(|x| page.column(x, down.clone())).collect();
    let upright = lines(&columns, 0.5);
    assert_eq!(upright.len(), 3, "{upright:?}");
    let front = upright[1] * MM_PER_DOT;
    // The tile is as wide as letter paper less 12 mm on either side.
    near(front, 215.9 / 2.0, "front in the middle");
    for join in [upright[0], upright[2]] {
        let overlap_mm = 10.0;
        let off = (join * MM_PER_DOT - front).abs();
        near(off, (215.9 - 24.0 - overlap_mm) / 2.0, "join from the front");
    }
}

#[test]
fn the_wrap_on_one_page_is_true_to_a_tenth_of_a_millimetre() {
    let info = run(Command::new("pdfinfo").arg(REED_FOLDER.path().join("wrap-body.pdf")));
    let field = |name: &str| {
        let line = info.lines().find_map(|line| line.strip_prefix(name));
        line.unwrap_or_else(|| panic!("no {name} in {info}")).trim().to_owned()
    };
    assert_eq!(field("Pages:"), "1");
    let size = field("Page size:");
    let points: Vec<f64> = size.split(' ').filter_map(|word| word.parse().ok()).collect();
    // A point is 1/72 in (ISO 32000); the drawing beside it is measured on its own, in svg.rs.
    let svg = String::from_utf8(read(REED_FOLDER.path(), "wrap-body.svg")).expect("UTF-8");
    let svg = usvg::Tree::from_str(&svg, &usvg::Options::default()).expect("an SVG");
    for (points, px) in points.iter().zip([svg.size().width(), svg.size().height()]) {
        near(points / 72.0 * 25.4, f64::from(px) / 96.0 * 25.4 + 20.0, "page with its margin");
    }

    let page = page_of("wrap-body.pdf", 1);
    let dot = |mm: f64| (mm / MM_PER_DOT).round() as usize;
    // The lowest row that is inked for just over 50 mm is the base of the ruler.
    let longest = |y: &usize| {
        let row: Vec<bool> = (0..page.width).map(|x| page.ink(x, *y) > 0.3).collect();
        row.split(|inked| !inked).map(<[bool]>::len).max().unwrap_or(0)
    };
    let base = (0..page.height).rev().find(|y| longest(y) > dot(49.0)).expect("a ruler");
    for (rise_mm, length_mm) in [(-2.5, 50.0), (2.5, 50.8)] {
        let y = (base as f64 + rise_mm / MM_PER_DOT).round() as usize;
        let ink: Vec<f64> = (0..page.width).map(|x| page.ink(x, y)).collect();
        let ticks = lines(&ink, 0.15);
        let end = ticks.iter().map(|tick| (tick - ticks[0]) * MM_PER_DOT);
        let end = end.min_by(|a, b| (a - length_mm).abs().total_cmp(&(b - length_mm).abs()));
        near(end.expect("an end"), length_mm, "ruler");
    }
    // Rim and foot of the cylinder are the only straight rows as long as its girth.
    let girth = dot(2.0 * PI * 35.0 - 1.0);
    let rows: Vec<f64> =
        (0..page.height).map(|y| f64::from(u8::from(longest(&y) > girth))).collect();
    let rows = lines(&rows, 0.5);
    near((rows[rows.len() - 1] - rows[0]) * MM_PER_DOT, 80.0, "wall, from rim to foot");
}

fn near(found_mm: f64, expected_mm: f64, what: &str) {
    assert!((found_mm - expected_mm).abs() <= 0.1, "{what}: {found_mm} mm, not {expected_mm} mm");
}
