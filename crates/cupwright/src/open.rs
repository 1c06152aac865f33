//! Opens piece and studio files, with the art and typefaces beside them.

use crate::findings::Findings;
use crate::near::{Contents, Folder, read_up_to};
use crate::trouble::{Trouble, shown};
use piece::read::Art;
use piece::source::{LARGEST_BYTES, too_large};
use piece::{Diagnostic, Piece, Places, Settings, Source, read_piece, read_settings};
use std::path::Path;
use std::sync::Arc;

/// Largest drawing; bytes. Drawings of a cup that a knife can follow have some ten thousand.
const LARGEST_SVG: u64 = 4_000_000;
/// Largest typeface; bytes. Those with all of the Han characters have some twenty million.
const LARGEST_FONT: u64 = 40_000_000;

/// The settings that ship with the program; every sheet made with them says that they are made up.
const DEMO_STUDIO: &str = include_str!("../../../examples/studio.toml");

/// A piece that was read.
pub struct Opened {
    /// The piece.
    pub piece: Piece,
    /// What reading it gave to say, if nothing bad.
    pub notes: Vec<Diagnostic>,
    source: Source,
    places: Places,
}

impl Opened {
    /// Adds what the road found to say about this piece, pointed into its file.
    pub fn found(&self, mut diagnostics: Vec<Diagnostic>, findings: &mut Findings) {
        for diagnostic in &mut diagnostics {
            self.places.locate(diagnostic);
        }
        findings.add(&self.source, diagnostics);
    }
}

/// Opens a piece file; `None` if it needs mending, and what is then among the findings.
///
/// # Errors
/// It cannot be read at all.
pub fn open_piece(path: &Path, findings: &mut Findings) -> Result<Option<Opened>, Trouble> {
    let Some(source) = open_text(path, findings)? else { return Ok(None) };
    let reading = read_piece(&source, &Beside(Folder::of(path)));
    let (notes, places) = (reading.diagnostics, reading.places);
    match reading.value {
        Some(piece) => Ok(Some(Opened { piece, notes, source, places })),
        None => {
            findings.add(&source, notes);
            Ok(None)
        }
    }
}

/// Opens a studio file, or the one that ships with the program; otherwise as [`open_piece`].
///
/// # Errors
/// It cannot be read at all.
pub fn open_settings(
    path: Option<&Path>,
    findings: &mut Findings,
) -> Result<Option<Settings>, Trouble> {
    let source = match path {
        Some(path) => open_text(path, findings)?,
        None => Some(Source::new("studio.toml (shipped)", DEMO_STUDIO)),
    };
    let Some(source) = source else { return Ok(None) };
    let reading = read_settings(&source);
    findings.add(&source, reading.diagnostics);
    Ok(reading.value)
}

fn open_text(path: &Path, findings: &mut Findings) -> Result<Option<Source>, Trouble> {
    let name = shown(path);
    let contents = read_up_to(path, LARGEST_BYTES)
        .map_err(|reason| Trouble::files(format!("could not read {name}: {reason}")))?;
    let refusal = match contents {
        Contents::TooLong(bytes) => too_large(bytes),
        Contents::Whole(bytes) => match Source::from_bytes(name.as_str(), bytes) {
            Ok(source) => return Ok(Some(source)),
            Err(refusal) => Some(refusal),
        },
    };
    findings.add(&Source::new(name, ""), refusal.into_iter().collect());
    Ok(None)
}

/// Art that lies beside the piece file.
struct Beside(Folder);

impl Art for Beside {
    fn svg(&self, file: &str) -> Result<Arc<str>, String> {
        let bytes = self.0.read(file, LARGEST_SVG)?;
        String::from_utf8(bytes).map(Arc::from).map_err(|_| "it is not UTF-8 text".to_owned())
    }

    fn font(&self, file: &str) -> Result<Arc<[u8]>, String> {
        self.0.read(file, LARGEST_FONT).map(Arc::from)
    }
}
