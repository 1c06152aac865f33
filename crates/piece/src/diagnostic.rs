//! The one kind of complaint: the same text for the terminal, a web form and a stored piece.

use std::fmt;
use std::ops::Range;

/// How bad it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// Nothing can be planned until this is mended.
    Error,
    /// The plan stands; the maker should look.
    Warning,
    /// A safety caution or a limit that is no permission.
    Caution,
}

/// Where in a piece a value lives, such as `zone[2].stones.gap`.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Default)]
pub struct FieldPath(pub String);

impl FieldPath {
    /// The whole file.
    pub fn root() -> Self {
        Self::default()
    }

    /// The member `key` of this table.
    #[must_use]
    pub fn key(&self, key: &str) -> Self {
        if self.0.is_empty() { Self(key.to_owned()) } else { Self(format!("{}.{key}", self.0)) }
    }

    /// The element `index` (from 0) of this list.
    #[must_use]
    pub fn index(&self, index: usize) -> Self {
        Self(format!("{}[{index}]", self.0))
    }

    /// The table or list that holds this value; `None` for the whole file.
    pub fn parent(&self) -> Option<Self> {
        if self.0.is_empty() {
            return None;
        }
        let cut = self.0.rfind(['.', '[']).unwrap_or(0);
        Some(Self(self.0[..cut].to_owned()))
    }
}

impl fmt::Display for FieldPath {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

fn sentence(text: &str) -> String {
    let mut letters = text.chars();
    let mut sentence: String =
        letters.next().map(char::to_uppercase).into_iter().flatten().chain(letters).collect();
    if !sentence.ends_with(['.', '?', '!']) {
        sentence.push('.');
    }
    sentence
}

/// One complaint: how bad, where, what was found, and what to do about it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Diagnostic {
    /// How bad it is.
    pub severity: Severity,
    /// Which value it is about.
    pub path: FieldPath,
    /// Bytes of the source text, where they are known.
    pub span: Option<Range<usize>>,
    /// What was found and what was expected, one sentence, no full stop.
    pub message: String,
    /// What to do, one sentence each.
    pub hints: Vec<String>,
}

impl Diagnostic {
    fn new(severity: Severity, path: FieldPath, message: impl Into<String>) -> Self {
        Self { severity, path, span: None, message: message.into(), hints: Vec::new() }
    }

    /// An error about the value at `path`.
    pub fn error(path: FieldPath, message: impl Into<String>) -> Self {
        Self::new(Severity::Error, path, message)
    }

    /// A warning about the value at `path`.
    pub fn warning(path: FieldPath, message: impl Into<String>) -> Self {
        Self::new(Severity::Warning, path, message)
    }

    /// A caution about the value at `path`.
    pub fn caution(path: FieldPath, message: impl Into<String>) -> Self {
        Self::new(Severity::Caution, path, message)
    }

    /// The same with one more hint, written as a sentence: a capital letter first and a full stop
    /// last, whichever room it comes from.
    #[must_use]
    pub fn hint(mut self, hint: impl Into<String>) -> Self {
        self.hints.push(sentence(&hint.into()));
        self
    }

    /// The same with its place in the source text.
    #[must_use]
    pub fn at(mut self, span: Range<usize>) -> Self {
        self.span = Some(span);
        self
    }
}
