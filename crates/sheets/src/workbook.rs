//! `workbook.pdf`: the data that the page designs in `pages/` are filled with.
//!
//! One file here for each page design; a page decides how things look, never what a figure is.

mod cautions;
mod coats;
mod cover;
mod gather;
mod making;
mod price;
mod setting;
mod sides;
#[cfg(test)]
pub(crate) mod trial;
mod true_size;

pub(crate) use cautions::care_card_for_sale;
pub use coats::room_words;
pub(crate) use gather::kit;
pub(crate) use price::hours as minutes;
pub(crate) use sides::{file as side_file, has_sides, pictures};
pub(crate) use true_size::{Layout, drawn, error, layout};

use crate::drawing::Letters;
use crate::{Plan, SheetError, typeset};
use glam::DVec2;
use piece::settings::Paper;
use piece::{Diagnostic, Settings, Severity};
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// Left and right margin of every page, mm; the same as in `pages/look.typ`.
const MARGIN_MM: f64 = 16.0;

/// Height that the head, foot, captions and rulers of a true-size page take, mm; the same as in
/// `pages/look.typ`.
const TAKEN_MM: f64 = 88.0;

/// Files that pages ask for by name.
pub(crate) type Files = BTreeMap<String, Vec<u8>>;

/// What the page designs are filled with, but for the pictures.
pub(crate) struct Contents(Files);

/// Gathers what stands in the workbook and draws what it shows at true size.
///
/// # Errors
/// A plot that could not be drawn.
pub(crate) fn contents(
    plan: &Plan,
    letters: &Letters,
    going: &mut dyn FnMut() -> bool,
) -> Result<Contents, SheetError> {
    let (mut files, mut data) = making(plan, letters, going)?;
    data["cover"] = cover::data(plan);
    data["unrolled"] = sides::unrolled(plan, letters, &mut files);
    data["gather"] = gather::data(plan);
    data["price"] = price::data(plan);
    files.insert("data.json".to_owned(), data.to_string().into_bytes());
    Ok(Contents(files))
}

/// What the pages to work from are filled with, and the drawings on them: nothing of money.
///
/// # Errors
/// A plot that could not be drawn.
pub(crate) fn making(
    plan: &Plan,
    letters: &Letters,
    going: &mut dyn FnMut() -> bool,
) -> Result<(Files, Value), SheetError> {
    let mut files = Files::new();
    let data = json!({
        "paper": paper_name(&plan.settings),
        "margin_mm": MARGIN_MM,
        "title": plan.piece.title,
        "studio": plan.settings.studio,
        "demo": plan.settings.demo,
        "work": making::work(plan),
        "mixing": making::mixing(plan),
        "coats": coats::data(plan, &mut files)?,
        "placements": true_size::placements(plan, letters, &mut files, going),
        "settings": setting::settings_of(plan),
        "wraps": true_size::wraps(plan, letters, &mut files, going),
        "collars": true_size::collars(plan, letters, &mut files),
        "care": cautions::care_card(plan),
        "cautions": cautions::page(plan),
    });
    Ok((files, data))
}

/// Sets the workbook with its pictures, by the names that pages ask for.
pub(crate) fn workbook_pdf(
    contents: Contents,
    pictures: impl IntoIterator<Item = (String, Vec<u8>)>,
) -> Result<Vec<u8>, SheetError> {
    let Contents(mut files) = contents;
    files.extend(pictures);
    typeset::pdf("workbook.pdf", "workbook.typ", files)
}

/// What the page designs call the paper.
pub(crate) fn paper_name(settings: &Settings) -> &'static str {
    match settings.paper {
        Paper::Letter => "us-letter",
        Paper::A4 => "a4",
    }
}

/// Width and height of the paper, mm.
pub(crate) fn paper_mm(settings: &Settings) -> DVec2 {
    match settings.paper {
        Paper::Letter => DVec2::new(215.9, 279.4),
        Paper::A4 => DVec2::new(210.0, 297.0),
    }
}

/// Room for a drawing on a true-size page, mm.
fn room_mm(plan: &Plan) -> DVec2 {
    paper_mm(&plan.settings) - DVec2::new(2.0 * MARGIN_MM, TAKEN_MM)
}

/// The notes about one value of the piece and everything in it, such as `zone[2]`.
fn notes_about(plan: &Plan, path: &str) -> Value {
    let about = |note: &&Diagnostic| {
        note.path
            .0
            .strip_prefix(path)
            .is_some_and(|rest| rest.is_empty() || rest.starts_with(['.', '[']))
    };
    plan.notes.iter().filter(about).map(note).collect()
}

pub(crate) fn note(note: &Diagnostic) -> Value {
    json!({
        "caution": note.severity == Severity::Caution,
        "message": quoted(&sentence(&note.message)),
        "hints": note.hints.iter().map(|hint| quoted(&sentence(hint))).collect::<Vec<_>>(),
    })
}

/// A message with what a terminal shows between backticks between quotes, as print does.
fn quoted(message: &str) -> String {
    let mut parts = message.split('`');
    let first = parts.next().unwrap_or_default().to_owned();
    let marks = ["\u{201c}", "\u{201d}"].into_iter().cycle();
    parts.zip(marks).fold(first, |text, (part, mark)| text + mark + part)
}

/// A message as a sentence: a capital in front and a full stop behind.
fn sentence(message: &str) -> String {
    let mut letters = message.trim().chars();
    let first = letters.next().map(|letter| letter.to_uppercase().to_string()).unwrap_or_default();
    let text = format!("{first}{}", letters.as_str());
    if text.ends_with(['.', '!', '?']) { text } else { format!("{text}.") }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn messages_become_sentences() {
        assert_eq!(sentence("the lip is bare"), "The lip is bare.");
        assert_eq!(sentence("Stop!"), "Stop!");
    }

    #[test]
    fn names_in_messages_stand_in_quotes() {
        assert_eq!(quoted("`sky` hides `sun`"), "\u{201c}sky\u{201d} hides \u{201c}sun\u{201d}");
        assert_eq!(quoted("all is well"), "all is well");
    }
}
