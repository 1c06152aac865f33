//! An hours file that was read, and what is found to say about it.

use crate::findings::Findings;
use crate::open::{HOURS_KEY, open_text, says};
use crate::trouble::Trouble;
use piece::{Diagnostic, FieldPath, Hours, Places, Source, read_hours};
use std::path::{Path, PathBuf};

/// An hours file that was read.
pub struct HoursFile {
    /// What it says.
    pub hours: Hours,
    path: PathBuf,
    source: Source,
    places: Places,
}

impl HoursFile {
    /// Opens an hours file; `None` if it needs mending, and what is then among the findings.
    ///
    /// # Errors
    /// It cannot be read at all.
    pub fn open(path: &Path, findings: &mut Findings) -> Result<Option<Self>, Trouble> {
        let Some(source) = open_text(path, findings)? else { return Ok(None) };
        if !says(&source.text, HOURS_KEY) && says(&source.text, "cupwright") {
            let error = Diagnostic::error(
                FieldPath::root(),
                "this is a piece file, not an hours file",
            )
            .hint(
                "an hours file says who works when; `cupwright demo DIR` writes one to begin from",
            );
            findings.add(&source, vec![error]);
            return Ok(None);
        }
        let reading = read_hours(&source);
        findings.add(&source, reading.diagnostics);
        let (places, path) = (reading.places, path.to_owned());
        Ok(reading.value.map(|hours| Self { hours, path, source, places }))
    }

    /// Where a file lies that it names.
    pub fn beside(&self, file: &str) -> PathBuf {
        self.path.parent().unwrap_or(Path::new("")).join(file)
    }

    /// Adds what was found to say about it, pointed into the file.
    pub fn found(&self, mut diagnostics: Vec<Diagnostic>, findings: &mut Findings) {
        diagnostics.iter_mut().for_each(|found| self.places.locate(found));
        findings.add(&self.source, diagnostics);
    }
}
