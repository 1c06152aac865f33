//! The pattern pack: a piece as instructions and kits for a class or a helper, without prices.
//!
//! The pages to work from are those of the workbook; only its cover and the list of kits are its own.

use crate::customer_words::stones;
use crate::drawing::Letters;
use crate::folder::Desk;
use crate::numbers::fixed;
use crate::pictures::portrait;
use crate::tables::Table;
use crate::{Plan, SheetError, cut, typeset, words, workbook};
use serde_json::{Value, json};
use std::path::Path;

/// Columns of `kit.csv`; amounts in `unit`, with spare.
const COLUMNS: [&str; 7] = ["goods", "item", "unit", "each", "all", "pack", "packs"];

/// A piece for many people.
#[derive(Debug)]
pub struct Pattern<'a> {
    /// The piece as one of them makes it.
    pub one: &'a Plan,
    /// The same as often as there are people.
    pub all: &'a Plan,
    /// The blank that it was carried to, if it was.
    pub blank: Option<&'a str>,
}

/// Writes the pack into a folder that exists, and returns the names of its files.
///
/// # Errors
/// The first file that could not be written, or [`SheetError::Stopped`].
pub fn write_pattern(
    pattern: &Pattern<'_>,
    folder: &Path,
    progress: &mut dyn FnMut(&str, usize, usize) -> bool,
) -> Result<Vec<String>, SheetError> {
    let cuts = cut::cut_files(pattern.all);
    let mut desk = Desk::new(folder, 2 + cuts.len(), progress);
    desk.file("kit.csv", || Ok(table(pattern)))?;
    let names: Vec<String> = cuts.iter().map(|(name, _)| name.clone()).collect();
    for (name, text) in cuts {
        desk.file(&name, || Ok(text.into_bytes()))?;
    }
    desk.file("pattern.pdf", || pdf(pattern, &names))?;
    Ok(desk.done)
}

fn table(pattern: &Pattern<'_>) -> Vec<u8> {
    let mut table = Table::new(&COLUMNS);
    for line in &pattern.all.bill.lines {
        let mut each = pattern.one.bill.lines.iter();
        let each = each.find(|each| each.goods == line.goods && each.item == line.item);
        table.row(&[
            words::goods(line.goods),
            &line.item,
            &line.unit,
            &each.map(|each| fixed(each.with_spare, 2)).unwrap_or_default(),
            &fixed(line.with_spare, 2),
            &fixed(line.pack, 2),
            &line.packs.to_string(),
        ]);
    }
    table.finish()
}

fn pdf(pattern: &Pattern<'_>, cuts: &[String]) -> Result<Vec<u8>, SheetError> {
    let (mut files, mut data) = workbook::making(pattern.one, &Letters::new(), &mut || true)?;
    data["front"] = front(pattern, cuts);
    data["kit"] = workbook::kit(pattern.one, pattern.all);
    files.insert("data.json".to_owned(), data.to_string().into_bytes());
    files.insert("preview.jpg".to_owned(), portrait(pattern.one)?);
    typeset::pdf("pattern.pdf", "pattern.typ", files)
}

fn front(pattern: &Pattern<'_>, cuts: &[String]) -> Value {
    let plan = pattern.one;
    let zones = plan.piece.zones.iter().map(|zone| {
        json!({
            "name": zone.name,
            "part": plan.piece.parts[zone.part].name,
            "finish": words::finish_in_full(plan, &zone.finish),
        })
    });
    json!({
        "people": pattern.all.piece.quantity,
        "blank": pattern.blank,
        "notes": plan.piece.notes,
        "stones": stones(plan),
        "hands_on": words::hours(plan.steps.hands_on_min()),
        "steps": plan.steps.steps.len(),
        "zones": zones.collect::<Vec<_>>(),
        "cuts": cuts,
    })
}
