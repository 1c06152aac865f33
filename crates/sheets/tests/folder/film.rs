//! Film: the bill, the steps and the cut files are one plan.

use crate::cut_lines::{Group, groups, inside, meet};
use crate::road::{plan_in, read, written};
use std::path::Path;

/// The small cylinder, so many of it, with a tile repeated and a band of film too long for a sheet.
fn text(quantity: u32, more: &str) -> String {
    let text = include_str!("../pieces/reed-ring.toml");
    text.replace("seed = 3", &format!("seed = 3\nquantity = {quantity}"))
        .replace(
            "around = \"180 deg\" }",
            &format!(
                "around = \"180 deg\", repeat = 4 }}\nvinyl = {{ colour = \"reed\" }}\n{more}\n"
            ),
        )
        .replacen("\n\nvinyl = { colour = \"reed\" }\n", "\n", 1)
}

/// Sheets that a cut file says to cut, by the names of its groups.
fn sheets_in(groups: &[Group]) -> u32 {
    let sheets = groups.iter().filter_map(|group| group.id.strip_prefix("sheet-"));
    sheets
        .map(|id| match id.split_once("-to-") {
            Some((first, last)) => {
                last.parse::<u32>().expect("a number") - first.parse::<u32>().expect("a number") + 1
            }
            None => 1,
        })
        .sum()
}

/// Nothing is cut outside the sheets of a cut file, and no two frames come near each other.
fn nothing_overlaps(groups: &[Group], (width, height): (f64, f64)) {
    let of = |word: &'static str| groups.iter().filter(move |group| group.id.starts_with(word));
    for sheet in of("sheet-") {
        let across = sheet.rings[0]
            .iter()
            .map(|p| p[0])
            .fold((f64::MAX, f64::MIN), |b, x| (b.0.min(x), b.1.max(x)));
        let down = sheet.rings[0]
            .iter()
            .map(|p| p[1])
            .fold((f64::MAX, f64::MIN), |b, y| (b.0.min(y), b.1.max(y)));
        assert!(
            (across.1 - across.0 - width).abs() < 0.02 && (down.1 - down.0 - height).abs() < 0.02
        );
    }
    let frames: Vec<&Group> = of("weed-").collect();
    assert_eq!(frames.len(), of("cut-").count());
    for (place, frame) in frames.iter().enumerate() {
        let holds =
            |sheet: &&Group| frame.rings.iter().flatten().all(|&place| inside(&sheet.rings, place));
        assert_eq!(of("sheet-").filter(holds).count(), 1, "{}", frame.id);
        for other in &frames[..place] {
            assert!(!meet(&frame.rings, &other.rings), "{} and {}", frame.id, other.id);
        }
    }
    for (cut, frame) in of("cut-").zip(&frames) {
        assert!(cut.rings.iter().flatten().all(|&place| inside(&frame.rings, place)), "{}", cut.id);
    }
}

/// The count in front of a word.
fn count_before(text: &str, word: &str) -> u32 {
    let before = text.split(word).next().expect("a text").trim_end();
    before
        .rsplit([' ', '\u{a0}'])
        .next()
        .and_then(|number| number.parse().ok())
        .unwrap_or_else(|| panic!("no count before {word:?}: {text}"))
}

fn sheets_agree(folder: &Path, plan: &sheets::Plan) -> Vec<u32> {
    let vinyl = &plan.settings.vinyl;
    let mut counts = Vec::new();
    for colour in ["reed", "foam"] {
        let item = format!("film, {colour}");
        let Some(line) = plan.bill.lines.iter().find(|line| line.item == item) else { continue };
        let file = read(folder, &format!("cut-{colour}.svg"));
        let groups = groups(&file);
        nothing_overlaps(&groups, (vinyl.sheet_width_mm, vinyl.sheet_height_mm));
        assert_eq!(sheets_in(&groups), line.packs, "{item}");
        let mut told = 0;
        for step in &plan.steps.steps {
            let how = step.how.join(" ");
            if how.contains(&format!("cut-{colour}.svg")) {
                let sentence =
                    step.how.iter().find(|how| how.contains(" lies on ")).expect("sheets");
                assert_eq!(count_before(sentence, "sheet"), line.packs, "{sentence}");
                told += 1;
            }
        }
        assert!(told > 0, "{item}");
        counts.push(line.packs);
    }
    counts
}

#[test]
fn bill_steps_and_cut_files_tell_the_same_number_of_sheets() {
    let long = "\n[[zone]]\nname = \"tide\"\npart = \"body\"\nband = { from = \"52 mm\", to = \"64 mm\" }\nvinyl = { colour = \"foam\" }\n";
    for (quantity, sheet_mm) in [(1, (304.8, 304.8)), (7, (304.8, 304.8)), (40, (200.0, 120.0))] {
        let mut settings = crate::road::settings();
        (settings.vinyl.sheet_width_mm, settings.vinyl.sheet_height_mm) = sheet_mm;
        let plan = plan_in(&text(quantity, long), settings);
        let counts = sheets_agree(written(&plan).path(), &plan);
        assert_eq!(counts.len(), 2, "two colours");
        // A ring of 220 mm and its margins is longer than 200 mm.
        let split = plan.notes.iter().any(|note| note.message.contains("strips"));
        assert_eq!(split, sheet_mm.0 < 230.0, "{:?}", plan.notes);
        // Tiles of 46 by 28 mm with the margin: at most 6 in a row of 304.8 mm, 10 rows; 4 to a cup.
        if sheet_mm.0 > 300.0 {
            assert_eq!(counts[0], 1, "28 tiles lie on one sheet");
        } else {
            assert!(counts[0] >= 10, "160 tiles, at most 16 to a sheet of 200 by 120 mm");
        }
    }
}
