//! The cells of a records file, and where each stands in its text.

use crate::nearest::nearest;
use crate::units::{or_list, shorten};
use crate::{Diagnostic, FieldPath, Source};
use std::ops::Range;

/// What is wrong with a cell, and what to do about it.
pub(super) struct Fault {
    message: String,
    hint: String,
}

impl Fault {
    pub fn new(message: impl Into<String>, hint: impl Into<String>) -> Self {
        Self { message: message.into(), hint: hint.into() }
    }
}

/// A table of cells.
pub(super) struct Cells<'a> {
    /// Names of the columns.
    pub head: Vec<String>,
    text: &'a str,
    /// Each row, the head too: its cells, its line from 1, and the byte at which it begins.
    rows: Vec<(csv::StringRecord, u64, usize)>,
}

impl<'a> Cells<'a> {
    /// Errors: the text is no table at all.
    pub fn of(source: &'a Source) -> Result<Self, Diagnostic> {
        // A mark that some spreadsheets put before the text.
        let text = source.text.as_str();
        let mark = text.len() - text.trim_start_matches('\u{feff}').len();
        let mut table = csv::ReaderBuilder::new()
            .has_headers(false)
            .trim(csv::Trim::All)
            .flexible(true)
            .from_reader(&text.as_bytes()[mark..]);
        let (mut rows, mut line, mut counted) = (Vec::new(), 1, 0);
        for record in table.records() {
            let refuse = |error: csv::Error| {
                let message = format!("it is no table of cells with commas between: {error}");
                Diagnostic::error(FieldPath::root(), message)
                    .hint("save it from the spreadsheet as CSV")
            };
            let record = record.map_err(refuse)?;
            let place = mark + record.position().map_or(0, |at| at.byte() as usize);
            // What ended the row before may stand first, where it is two characters.
            let ends = text[place..].find(|letter| !matches!(letter, '\r' | '\n')).unwrap_or(0);
            let place = place + ends;
            line += text[counted..place].bytes().filter(|byte| *byte == b'\n').count() as u64;
            counted = place;
            rows.push((record, line, place));
        }
        let head = rows
            .first()
            .map_or_else(Vec::new, |(head, _, _)| head.iter().map(str::to_owned).collect());
        Ok(Self { head, text, rows })
    }

    /// Rows, the head counted.
    pub fn rows(&self) -> usize {
        self.rows.len()
    }

    /// A complaint about a cell, or about a whole row.
    pub fn fault(&self, row: usize, column: Option<usize>, fault: Fault) -> Diagnostic {
        let path = FieldPath::root();
        let error = Diagnostic::error(path, fault.message).hint(fault.hint);
        match self.rows.get(row) {
            Some((_, _, begins)) => error.at(self.span(*begins, column)),
            None => error,
        }
    }

    /// Bytes of a cell of the row that begins here; the whole row if there is no such cell.
    fn span(&self, begins: usize, column: Option<usize>) -> Range<usize> {
        let rest = &self.text[begins..];
        let (mut quoted, mut at, mut from) = (false, 0, 0);
        for (byte, letter) in rest.char_indices() {
            let ends_row = !quoted && matches!(letter, '\n' | '\r');
            if ends_row || (!quoted && letter == ',') {
                if column == Some(at) {
                    return begins + from..begins + byte;
                }
                if ends_row {
                    return begins..begins + byte;
                }
                (at, from) = (at + 1, byte + 1);
            }
            quoted ^= letter == '"';
        }
        let from = if column == Some(at) { from } else { 0 };
        begins + from..self.text.len()
    }
}

/// One row under the head.
pub(super) struct Line<'a> {
    pub cells: &'a Cells<'a>,
    pub row: usize,
}

impl Line<'_> {
    /// Its line in the file, from 1.
    pub fn number(&self) -> u64 {
        self.cells.rows[self.row].1
    }

    pub fn is_empty(&self) -> bool {
        self.cells.rows[self.row].0.iter().all(str::is_empty)
    }

    /// The cell under a column; empty if there is none.
    pub fn text(&self, column: &str) -> &str {
        let at = self.cells.head.iter().position(|name| name == column);
        at.and_then(|at| self.cells.rows[self.row].0.get(at)).unwrap_or("")
    }

    /// What to say of a word that is none of those known.
    pub fn unknown(&self, what: &str, word: &str, known: &[&str]) -> Fault {
        let hint = match nearest(word, known) {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!("it is one of {}", or_list(known)),
        };
        Fault::new(format!("`{}` is no {what}", shorten(word)), hint)
    }

    /// A whole number, at least 1; `None` for an empty cell.
    pub fn count(
        &self,
        column: &'static str,
        most: f64,
    ) -> Result<Option<u32>, (&'static str, Fault)> {
        self.as_count(column, self.text(column), most)
    }

    /// The same of a text.
    pub fn as_count(
        &self,
        column: &'static str,
        text: &str,
        most: f64,
    ) -> Result<Option<u32>, (&'static str, Fault)> {
        if text.is_empty() {
            return Ok(None);
        }
        let found: Option<u32> = text.parse().ok();
        let found = found.filter(|count| *count > 0 && f64::from(*count) <= most);
        found.map(Some).ok_or_else(|| {
            let told = format!("`{}` is no count from 1 to {most}", shorten(text));
            (column, Fault::new(told, "write a whole number"))
        })
    }

    /// A number between two bounds.
    pub fn number_in(
        &self,
        column: &'static str,
        (least, most): (f64, f64),
    ) -> Result<f64, (&'static str, Fault)> {
        let text = self.text(column);
        if text.is_empty() {
            let told = format!("`{column}` is missing");
            return Err((column, Fault::new(told, "write it, or take the line out")));
        }
        let found: Option<f64> = text.parse().ok();
        found.filter(|number| (least..=most).contains(number)).ok_or_else(|| {
            let told = format!("`{}` is no number from {least} to {most}", shorten(text));
            (column, Fault::new(told, "write a number with a point and without its unit"))
        })
    }
}
