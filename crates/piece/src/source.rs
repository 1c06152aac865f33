//! The text of a file a person wrote, and where in it each value stands.

use crate::inches::Inches;
use crate::{Diagnostic, FieldPath};
use std::collections::BTreeMap;
use std::ops::Range;

/// Largest file that is read, bytes. The largest honest piece files are tens of kilobytes.
pub const LARGEST_BYTES: u64 = 4_000_000;

/// The text of a piece or settings file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Source {
    /// File name, for messages.
    pub name: String,
    /// Its text.
    pub text: String,
}

impl Source {
    /// Text that is already known to be text.
    pub fn new(name: impl Into<String>, text: impl Into<String>) -> Self {
        Self { name: name.into(), text: text.into() }
    }

    /// The bytes of a file. Errors: larger than [`LARGEST_BYTES`]; not UTF-8.
    pub fn from_bytes(name: impl Into<String>, bytes: Vec<u8>) -> Result<Self, Diagnostic> {
        if let Some(error) = too_large(bytes.len() as u64) {
            return Err(error);
        }
        match String::from_utf8(bytes) {
            Ok(text) => Ok(Self::new(name, text)),
            Err(error) => {
                let good = error.utf8_error().valid_up_to();
                let line =
                    1 + error.as_bytes()[..good].iter().filter(|byte| **byte == b'\n').count();
                Err(Diagnostic::error(
                    FieldPath::root(),
                    format!(
                        "the file is not UTF-8 text: line {line} holds bytes that are no character"
                    ),
                )
                .hint("save it as plain text with the encoding UTF-8"))
            }
        }
    }

    /// Line and column of a byte, both from 1; columns count characters.
    pub fn line_and_column(&self, byte: usize) -> (usize, usize) {
        let byte = self.char_start(byte);
        let before = &self.text[..byte];
        let line_start = self.line_start(byte);
        let line = 1 + before.bytes().filter(|byte| *byte == b'\n').count();
        (line, 1 + before[line_start..].chars().count())
    }

    /// The byte at which the line of `byte` starts.
    pub(crate) fn line_start(&self, byte: usize) -> usize {
        self.text[..self.char_start(byte)].rfind('\n').map_or(0, |newline| newline + 1)
    }

    /// The start of the character that `byte` lies in, or the end of the text.
    pub(crate) fn char_start(&self, byte: usize) -> usize {
        self.text.floor_char_boundary(byte)
    }
}

/// The refusal of a file of so many bytes, or of at least so many, if it is too large to be a piece.
pub fn too_large(bytes: u64) -> Option<Diagnostic> {
    (bytes > LARGEST_BYTES).then(|| {
        let largest = format!("more than {:.0} MB", LARGEST_BYTES as f64 / 1e6);
        // Not "4.0 MB; more than 4 MB is not read".
        let found = if bytes - LARGEST_BYTES < 50_000 {
            largest.clone()
        } else {
            format!("{:.1} MB", bytes as f64 / 1e6)
        };
        Diagnostic::error(
            FieldPath::root(),
            format!("the file has {found}; a file of {largest} is not read"),
        )
        .hint("put large drawings into SVG files beside it and name them with `file`")
    })
}

/// Where in the source text each value stands.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Places {
    spans: BTreeMap<FieldPath, Range<usize>>,
    inches: Inches,
}

impl Places {
    /// No places yet, in a file whose lengths are typed in this or that unit.
    pub(crate) fn in_file(source: &Source) -> Self {
        Self { spans: BTreeMap::new(), inches: Inches::of(&source.text) }
    }

    pub(crate) fn put(&mut self, path: FieldPath, span: Range<usize>) {
        self.spans.insert(path, span);
    }

    /// Bytes of the value at `path`, or of the nearest table or list that holds it.
    pub fn of(&self, path: &FieldPath) -> Option<Range<usize>> {
        let mut at = Some(path.clone());
        while let Some(path) = at {
            if let Some(span) = self.spans.get(&path) {
                return Some(span.clone());
            }
            at = path.parent();
        }
        None
    }

    /// Points a diagnostic that knows only its path into the file, and tells its lengths in the
    /// unit that the file is typed in.
    pub fn locate(&self, diagnostic: &mut Diagnostic) {
        self.inches.tell(diagnostic);
        if diagnostic.span.is_none() && !diagnostic.path.0.is_empty() {
            diagnostic.span = self.of(&diagnostic.path);
        }
    }
}
