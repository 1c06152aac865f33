//! Film: the bill, the steps and the cut files are one plan.

use crate::road::{plan_in, read, written};
use std::path::Path;
use usvg::{Node, Options, Tree};

/// CSS, values and units: 1 in is 25.4 mm and 96 px.
const MM_PER_PX: f64 = 25.4 / 96.0;

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

/// The groups of a cut file; the reader wraps them in one that holds the transform to pixels.
fn layers(tree: &Tree) -> &[Node] {
    let mut group = tree.root();
    while let [Node::Group(inner)] = group.children()
        && inner.id().is_empty()
    {
        group = inner;
    }
    group.children()
}

/// Sheets that a cut file says to cut, by the names of its groups.
fn sheets_in(tree: &Tree) -> u32 {
    let sheets = layers(tree).iter().filter_map(|node| node.id().strip_prefix("sheet-"));
    sheets
        .map(|id| match id.split_once("-to-") {
            Some((first, last)) => {
                last.parse::<u32>().expect("a number") - first.parse::<u32>().expect("a number") + 1
            }
            None => 1,
        })
        .sum()
}

/// Nothing is cut outside the sheets of a cut file, and no two frames touch.
fn nothing_overlaps(tree: &Tree, (width, height): (f64, f64)) {
    let of =
        |word: &'static str| layers(tree).iter().filter(move |node| node.id().starts_with(word));
    let mm = |node: &Node| {
        let b = node.abs_bounding_box();
        [b.left(), b.top(), b.right(), b.bottom()].map(|px| f64::from(px) * MM_PER_PX)
    };
    let sheets: Vec<[f64; 4]> = of("sheet-").map(mm).collect();
    for sheet in &sheets {
        assert!((sheet[2] - sheet[0] - width).abs() < 0.02, "{sheet:?}");
        assert!((sheet[3] - sheet[1] - height).abs() < 0.02, "{sheet:?}");
    }
    let frames: Vec<[f64; 4]> = of("weed-").map(mm).collect();
    assert_eq!(frames.len(), of("cut-").count());
    for (place, frame) in frames.iter().enumerate() {
        let holds = |sheet: &&[f64; 4]| {
            sheet[0] <= frame[0]
                && sheet[1] <= frame[1]
                && frame[2] <= sheet[2]
                && frame[3] <= sheet[3]
        };
        assert_eq!(sheets.iter().filter(holds).count(), 1, "{frame:?}");
        let apart =
            |b: &[f64; 4]| b[2] < frame[0] || frame[2] < b[0] || b[3] < frame[1] || frame[3] < b[1];
        assert!(frames[..place].iter().all(apart), "{frame:?}");
    }
    for (cut, frame) in of("cut-").zip(&frames) {
        let cut = mm(cut);
        assert!(
            cut[0] >= frame[0] && cut[1] >= frame[1] && cut[2] <= frame[2] && cut[3] <= frame[3]
        );
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
        let tree = Tree::from_data(&file, &Options::default()).expect("an SVG");
        nothing_overlaps(&tree, (vinyl.sheet_width_mm, vinyl.sheet_height_mm));
        assert_eq!(sheets_in(&tree), line.packs, "{item}");
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
