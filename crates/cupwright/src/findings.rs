//! What was found in the files of one piece, for a person and for a script.

use crate::exit::Exit;
use crate::output::{colour_wanted, say};
use crate::trouble::Trouble;
use piece::{Diagnostic, Severity, Source, show, show_json};
use serde_json::Value;

/// Diagnostics with the files they point into.
#[derive(Debug, Default)]
pub struct Findings(Vec<(Source, Vec<Diagnostic>)>);

impl Findings {
    /// Adds what was found in one file and was not found in it before, as happens where several orders
    /// share it; its diagnostics know their places already.
    pub fn add(&mut self, source: &Source, diagnostics: Vec<Diagnostic>) {
        let known = self.0.iter().position(|(known, _)| known == source);
        let at = known.unwrap_or_else(|| {
            self.0.push((source.clone(), Vec::new()));
            self.0.len() - 1
        });
        let list = &mut self.0[at].1;
        for found in diagnostics {
            if !list.contains(&found) {
                list.push(found);
            }
        }
    }

    /// How the run ends because of them.
    pub fn exit(&self) -> Exit {
        if self.count(Severity::Error) > 0 { Exit::Mend } else { Exit::Fine }
    }

    /// How a run ends that came to this: to nothing where the piece needs mending first.
    pub fn exit_after<T>(&self, outcome: &Result<Option<T>, Trouble>) -> Exit {
        match outcome {
            Ok(Some(_)) => Exit::Fine,
            Ok(None) => self.exit(),
            Err(trouble) => trouble.exit,
        }
    }

    /// How many there are of this severity.
    pub fn count(&self, severity: Severity) -> usize {
        self.0.iter().flat_map(|(_, list)| list).filter(|found| found.severity == severity).count()
    }

    /// Shows them to the person, the errors last, where they are seen; or only the errors.
    pub fn say(&self, only_errors: bool) {
        let mut text = String::new();
        for severity in [Severity::Caution, Severity::Warning, Severity::Error] {
            if only_errors && severity != Severity::Error {
                continue;
            }
            for (source, list) in &self.0 {
                let mut list: Vec<Diagnostic> =
                    list.iter().filter(|found| found.severity == severity).cloned().collect();
                list.sort_by_key(|found| found.span.as_ref().map(|span| span.start));
                text += &show(&list, source, colour_wanted());
            }
        }
        if !text.is_empty() {
            say(text.trim_end_matches('\n'));
            say("");
        }
    }

    /// All of them for a script.
    pub fn json(&self) -> Value {
        let lists = self.0.iter().map(|(source, list)| show_json(list, source));
        lists.flat_map(|list| list.as_array().cloned().unwrap_or_default()).collect()
    }
}
