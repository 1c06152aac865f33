//! What keeps a command from doing its job, other than a piece that needs mending.

use crate::exit::Exit;
use sheets::SheetError;
use std::path::Path;

/// One thing that went wrong outside the piece file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Trouble {
    /// How the run ends because of it.
    pub exit: Exit,
    /// What was found, one sentence, no full stop.
    pub message: String,
    /// What to do, one sentence each.
    pub hints: Vec<String>,
}

impl Trouble {
    /// A file or folder that could not be read or written.
    pub fn files(message: impl Into<String>) -> Self {
        Self { exit: Exit::Files, message: message.into(), hints: Vec::new() }
    }

    /// A command line that asks for what cannot be.
    pub fn usage(message: impl Into<String>) -> Self {
        Self { exit: Exit::Usage, message: message.into(), hints: Vec::new() }
    }

    /// A fault of the program's own.
    pub fn fault(message: impl Into<String>) -> Self {
        Self { exit: Exit::Fault, message: message.into(), hints: Vec::new() }
            .hint("This is a fault in Cupwright, not in your piece: please report it with the piece file.")
    }

    /// A file that could not be read or written.
    pub fn could_not(what: &str, name: &str, error: &std::io::Error) -> Self {
        Self::files(format!("could not {what} {name}: {}", reason(error)))
    }

    /// Stopped before anything was put in place.
    pub fn stopped() -> Self {
        Self {
            exit: Exit::Stopped,
            message: "stopped; nothing was written".to_owned(),
            hints: Vec::new(),
        }
    }

    /// For a script.
    pub fn json(&self) -> serde_json::Value {
        serde_json::json!({ "message": self.message, "hints": self.hints })
    }

    /// The same with one more hint.
    #[must_use]
    pub fn hint(mut self, hint: impl Into<String>) -> Self {
        self.hints.push(hint.into());
        self
    }
}

impl From<SheetError> for Trouble {
    fn from(error: SheetError) -> Self {
        match error {
            SheetError::Stopped => Self::stopped(),
            SheetError::Write { file, source } => Self::could_not("write", &file, &source),
            SheetError::Typeset { .. } => Self::fault(error.to_string()),
        }
    }
}

/// A path as it may be shown: control characters could move the cursor of a terminal, so they are
/// replaced, and so is what is not Unicode.
pub fn shown(path: &Path) -> String {
    path.to_string_lossy().chars().map(|c| if c.is_control() { '\u{fffd}' } else { c }).collect()
}

/// The system's reason in plain words, without its number.
pub fn reason(error: &std::io::Error) -> String {
    use std::io::ErrorKind;
    match error.kind() {
        ErrorKind::NotFound => "there is no such file or folder".to_owned(),
        ErrorKind::PermissionDenied => "you are not allowed to".to_owned(),
        ErrorKind::ReadOnlyFilesystem => "the disk is read-only".to_owned(),
        ErrorKind::StorageFull => "the disk is full".to_owned(),
        ErrorKind::QuotaExceeded => "your share of the disk is used up".to_owned(),
        ErrorKind::NotADirectory => "part of the path is a file, not a folder".to_owned(),
        ErrorKind::IsADirectory => "it is a folder".to_owned(),
        ErrorKind::InvalidFilename => "the name is too long or not allowed".to_owned(),
        _ => {
            let text = error.to_string();
            match text.split_once(" (os error") {
                Some((words, _)) => words.to_owned(),
                None => text,
            }
        }
    }
}
