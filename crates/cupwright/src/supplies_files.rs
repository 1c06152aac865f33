//! A stock file or a sellers file that was read, and what is found to say about it.

use crate::findings::Findings;
use crate::open::{HOURS_KEY, SELLERS_KEY, STOCK_KEY, open_text, says};
use crate::trouble::Trouble;
use piece::settings::Currency;
use piece::{
    Diagnostic, FieldPath, Places, Reading, Sellers, Source, Stock, read_sellers, read_stock,
};
use std::path::Path;

/// A file that was read.
pub struct FileOf<T> {
    /// What it says.
    pub value: T,
    source: Source,
    places: Places,
}

impl<T> FileOf<T> {
    /// Adds what was found to say about it, pointed into the file.
    pub fn found(&self, mut diagnostics: Vec<Diagnostic>, findings: &mut Findings) {
        diagnostics.iter_mut().for_each(|found| self.places.locate(found));
        findings.add(&self.source, diagnostics);
    }
}

/// Opens a stock file; `None` if it needs mending, and what is then among the findings.
///
/// # Errors
/// It cannot be read at all.
pub fn open_stock(path: &Path, findings: &mut Findings) -> Result<Option<FileOf<Stock>>, Trouble> {
    open(path, (STOCK_KEY, "a stock file"), findings, read_stock)
}

/// Opens a sellers file with prices in the studio's currency; otherwise as [`open_stock`].
///
/// # Errors
/// It cannot be read at all.
pub fn open_sellers(
    path: &Path,
    currency: &Currency,
    findings: &mut Findings,
) -> Result<Option<FileOf<Sellers>>, Trouble> {
    open(path, (SELLERS_KEY, "a sellers file"), findings, |source| read_sellers(source, currency))
}

fn open<T>(
    path: &Path,
    (key, what): (&str, &str),
    findings: &mut Findings,
    read: impl Fn(&Source) -> Reading<T>,
) -> Result<Option<FileOf<T>>, Trouble> {
    let Some(source) = open_text(path, findings)? else { return Ok(None) };
    let kinds = [
        ("cupwright", "a piece file"),
        ("cupwright_settings", "a studio file"),
        (HOURS_KEY, "an hours file"),
        (STOCK_KEY, "a stock file"),
        (SELLERS_KEY, "a sellers file"),
    ];
    let other = kinds.iter().find(|(other, _)| *other != key && says(&source.text, other));
    if let (false, Some((_, found))) = (says(&source.text, key), other) {
        let error = Diagnostic::error(FieldPath::root(), format!("this is {found}, not {what}"))
            .hint("`cupwright demo DIR` writes one of each kind to begin from");
        findings.add(&source, vec![error]);
        return Ok(None);
    }
    let reading = read(&source);
    findings.add(&source, reading.diagnostics);
    let places = reading.places;
    Ok(reading.value.map(|value| FileOf { value, source, places }))
}
