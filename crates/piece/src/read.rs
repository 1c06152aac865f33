//! From the text of a file to a resolved piece or settings, with everything that is wrong at once.

use crate::file::hours::BookFile;
use crate::file::order::AgreedFile;
use crate::file::piece::PieceFile;
use crate::file::sellers::SellersFile;
use crate::file::settings::SettingsFile;
use crate::file::stock::StockFile;
use crate::file::{
    hours_schema, order_schema, piece_schema, sellers_schema, settings_schema, stock_schema,
};
use crate::order::Agreed;
use crate::settings::Currency;
use crate::source::too_large;
use crate::{
    Diagnostic, FieldPath, Hours, Piece, Places, Sellers, Settings, Severity, Source, Stock, mend,
    resolve, tree, walk,
};
use serde::de::DeserializeOwned;
use serde_json::Value;
use std::collections::BTreeSet;
use std::str::FromStr;
use std::sync::{Arc, LazyLock};

/// Most diagnostics that are handed out; nobody reads more, and a broken file can hold a million.
const MOST_DIAGNOSTICS: usize = 100;

static SETTINGS_SCHEMA: LazyLock<Value> = LazyLock::new(settings_schema);

/// Why a file beside the piece file cannot be had.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unread {
    /// Half a sentence.
    pub why: String,
    /// What to do about it.
    pub hint: String,
}

impl Unread {
    /// A file that is there, with what to do about it.
    pub fn new(why: impl Into<String>, hint: impl Into<String>) -> Self {
        Self { why: why.into(), hint: hint.into() }
    }

    /// A file that is not where it is looked for.
    pub fn not_there(why: impl Into<String>) -> Self {
        Self::new(why, "put it beside the piece file, or correct its name")
    }
}

/// The way in for files that a piece or settings file names; the reader itself opens none.
pub trait Art {
    /// Text of the SVG file called `file` beside the piece file. Errors: why it cannot be had.
    fn svg(&self, file: &str) -> Result<Arc<str>, Unread>;

    /// Bytes of the TrueType or OpenType file called `file` beside the piece file. Errors: as for `svg`.
    fn font(&self, file: &str) -> Result<Arc<[u8]>, Unread>;

    /// Text of the table called `file` beside the settings file. Errors: as for `svg`.
    fn text(&self, _file: &str) -> Result<Arc<str>, Unread> {
        Err(Unread::not_there("no table lies beside it"))
    }

    /// Pixels of the PNG or JPEG file called `file` beside the piece file. Errors: as for `svg`.
    fn pixels(&self, file: &str) -> Result<Pixels, Unread>;
}

/// Pixels of a picture.
#[derive(Debug, Clone, PartialEq)]
pub struct Pixels {
    /// How many across and down, at least one each.
    pub size: (usize, usize),
    /// Their colours, row by row from the top left.
    pub srgb: Vec<[u8; 3]>,
}

impl Pixels {
    /// Most pixels across and down that a picture may have.
    pub const MOST: u32 = 4000;
}

/// No files at all, for pieces that name none.
#[derive(Debug, Clone, Copy)]
pub struct NoArt;

impl Art for NoArt {
    fn svg(&self, _: &str) -> Result<Arc<str>, Unread> {
        Err(no_files())
    }

    fn font(&self, _: &str) -> Result<Arc<[u8]>, Unread> {
        Err(no_files())
    }

    fn pixels(&self, _: &str) -> Result<Pixels, Unread> {
        Err(no_files())
    }
}

fn no_files() -> Unread {
    Unread::not_there("there are no files beside this piece")
}

/// What reading gave.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading<T> {
    /// The thing; `None` if there is any error.
    pub value: Option<T>,
    /// What can be looked at further in spite of errors, with harmless values where they are.
    pub draft: Option<T>,
    /// Everything to tell, in the order of the file.
    pub diagnostics: Vec<Diagnostic>,
    /// Where each value stands, for complaints found later.
    pub places: Places,
}

/// Reads a piece file. The value is missing exactly if there is a diagnostic of severity error.
pub fn read_piece(source: &Source, art: &dyn Art) -> Reading<Piece> {
    static SCHEMA: LazyLock<Value> = LazyLock::new(piece_schema);
    read(source, "cupwright", &SCHEMA, art, |file: &PieceFile, bench| resolve::piece(file, bench))
}

/// A piece that names no other files. Errors: everything to tell of it, if any of it is an error.
impl FromStr for Piece {
    type Err = Vec<Diagnostic>;

    fn from_str(text: &str) -> Result<Self, Self::Err> {
        let reading = read_piece(&Source::new("piece.toml", text), &NoArt);
        reading.value.ok_or(reading.diagnostics)
    }
}

/// Reads a settings file that names no other files; otherwise as [`read_settings_beside`].
pub fn read_settings(source: &Source) -> Reading<Settings> {
    read_settings_beside(source, &NoArt)
}

/// Reads a settings file. The value is missing exactly if there is a diagnostic of severity error.
pub fn read_settings_beside(source: &Source, art: &dyn Art) -> Reading<Settings> {
    read(source, "cupwright_settings", &SETTINGS_SCHEMA, art, |file: &SettingsFile, bench| {
        resolve::settings(file, bench)
    })
}

/// Reads an hours file. The value is missing exactly if there is a diagnostic of severity error.
pub fn read_hours(source: &Source) -> Reading<Hours> {
    static SCHEMA: LazyLock<Value> = LazyLock::new(hours_schema);
    read(source, "cupwright_hours", &SCHEMA, &NoArt, |file: &BookFile, bench| {
        resolve::hours(file, bench)
    })
}

/// Reads an order file. The value is missing exactly if there is a diagnostic of severity error.
pub fn read_order(source: &Source) -> Reading<Agreed> {
    static SCHEMA: LazyLock<Value> = LazyLock::new(order_schema);
    read(source, "cupwright_order", &SCHEMA, &NoArt, |file: &AgreedFile, bench| {
        resolve::order(file, bench)
    })
}

/// Reads a stock file. The value is missing exactly if there is a diagnostic of severity error.
pub fn read_stock(source: &Source) -> Reading<Stock> {
    static SCHEMA: LazyLock<Value> = LazyLock::new(stock_schema);
    read(source, "cupwright_stock", &SCHEMA, &NoArt, |file: &StockFile, bench| {
        resolve::stock(file, bench)
    })
}

/// Reads a sellers file, with the studio's currency. The value is missing exactly if there is a
/// diagnostic of severity error.
pub fn read_sellers(source: &Source, currency: &Currency) -> Reading<Sellers> {
    static SCHEMA: LazyLock<Value> = LazyLock::new(sellers_schema);
    read(source, "cupwright_sellers", &SCHEMA, &NoArt, |file: &SellersFile, bench| {
        resolve::sellers(file, currency, bench)
    })
}

/// Whether this is the path of a value in a settings file: no key at its top is one of a piece file.
pub fn is_of_settings(path: &FieldPath) -> bool {
    let top = path.0.split(['.', '[']).next().unwrap_or_default();
    SETTINGS_SCHEMA["properties"].get(top).is_some()
}

fn read<F: DeserializeOwned, T>(
    source: &Source,
    version_key: &str,
    schema: &Value,
    art: &dyn Art,
    resolve: impl Fn(&F, &mut resolve::Bench<'_>) -> T,
) -> Reading<T> {
    let nothing =
        |diagnostics| Reading { value: None, draft: None, diagnostics, places: Places::default() };
    if let Some(error) = too_large(source.text.len() as u64) {
        return nothing(vec![error]);
    }
    let (tree, mut diagnostics) = tree::parse(source);
    let table = tree.get_ref();
    let mut places = Places::in_file(source);
    tree::note_places(table, &FieldPath::root(), &mut places);
    if let Some(error) = other_version(version_key, table) {
        diagnostics = vec![error];
        return finish(None, diagnostics, places);
    }
    let broken = !diagnostics.is_empty();
    let misfits = walk::walk(schema, table);
    if broken {
        // What a broken text lacks may only have been lost with it, and so may the rest of a broken line.
        let line = |diagnostic: &Diagnostic| {
            diagnostic.span.as_ref().map(|span| source.line_start(span.start))
        };
        let broken_lines: BTreeSet<_> =
            diagnostics.iter().take(MOST_DIAGNOSTICS).map(line).collect();
        let sound = misfits.into_iter().filter(|misfit| !misfit.missing).take(MOST_DIAGNOSTICS);
        diagnostics.extend(
            sound.map(|misfit| misfit.diagnostic).filter(|one| !broken_lines.contains(&line(one))),
        );
        return finish(None, diagnostics, places);
    }
    let mut values = tree::json_table(table);
    let mended = mend::mend(&mut values, &misfits);
    let fits = misfits.is_empty();
    diagnostics.extend(misfits.into_iter().map(|misfit| misfit.diagnostic));
    let Some(mended) = mended else { return finish(None, diagnostics, places) };
    let file: F = match serde_json::from_value(values) {
        Ok(file) => file,
        Err(_) if !fits => return finish(None, diagnostics, places),
        Err(error) => {
            let message = format!("the file cannot be understood: {error}");
            return finish(None, vec![Diagnostic::error(FieldPath::root(), message)], places);
        }
    };
    let mut bench = resolve::Bench { diagnostics: Vec::new(), art };
    let value = resolve(&file, &mut bench);
    if fits {
        return finish(Some(value), bench.diagnostics, places);
    }
    diagnostics.extend(bench.diagnostics.into_iter().filter(|found| mend::stands(found, &mended)));
    finish(Some(value), diagnostics, places)
}

/// Places, sorts and limits the diagnostics; drops the value if one of them is an error.
fn finish<T>(value: Option<T>, mut diagnostics: Vec<Diagnostic>, places: Places) -> Reading<T> {
    for diagnostic in &mut diagnostics {
        places.locate(diagnostic);
    }
    diagnostics.sort_by_key(|diagnostic| diagnostic.span.as_ref().map_or(0, |span| span.start));
    let sound = diagnostics.iter().all(|diagnostic| diagnostic.severity != Severity::Error);
    let (value, draft) = if sound { (value, None) } else { (None, value) };
    if diagnostics.len() > MOST_DIAGNOSTICS {
        let more = diagnostics.len() - MOST_DIAGNOSTICS;
        diagnostics.truncate(MOST_DIAGNOSTICS);
        let severity = if value.is_some() { Severity::Warning } else { Severity::Error };
        let rest =
            Diagnostic::error(FieldPath::root(), format!("there are {more} more complaints"));
        diagnostics.push(
            Diagnostic { severity, ..rest }.hint("mend the first ones and read the file again"),
        );
    }
    Reading { value, draft, diagnostics, places }
}

/// The refusal of a file of another version; whatever else is wrong with it may be right there.
fn other_version(key: &str, table: &toml::de::DeTable<'_>) -> Option<Diagnostic> {
    let value = table.get(key)?;
    let version = value.get_ref().as_integer()?;
    if version.as_str() == "1" {
        return None;
    }
    let message = format!("this file is of format {version}; this program reads format 1");
    let path = FieldPath::root().key(key);
    Some(
        Diagnostic::error(path, message)
            .at(value.span())
            .hint(format!("a newer program may read it; a new file starts with {key} = 1")),
    )
}
