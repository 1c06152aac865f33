//! A studio that was read, and what the road finds to say about it.

use crate::findings::Findings;
use piece::{Diagnostic, Places, Settings, Source};

/// How settings are called that stand in no file of the maker's.
const NO_FILE: &str = "the studio's settings";

/// A studio that was read.
pub struct Studio {
    /// What it says.
    pub settings: Settings,
    /// Its file; `None` for the one that ships.
    source: Option<Source>,
    places: Places,
}

impl Studio {
    /// Settings from this file, or from the one that ships.
    pub fn new(settings: Settings, source: Option<Source>, places: Places) -> Self {
        Self { settings, source, places }
    }

    /// The text of its file; `None` for the one that ships.
    pub fn text(&self) -> Option<&str> {
        self.source.as_ref().map(|source| source.text.as_str())
    }

    /// Adds what the road found to say about its settings, pointed into its file if it has one.
    pub fn found(&self, mut diagnostics: Vec<Diagnostic>, findings: &mut Findings) {
        for diagnostic in &mut diagnostics {
            self.places.locate(diagnostic);
            if self.source.is_none() {
                diagnostic.span = None;
            }
        }
        match &self.source {
            Some(source) => findings.add(source, diagnostics),
            None => findings.add(&Source::new(NO_FILE, ""), diagnostics),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use piece::FieldPath;

    #[test]
    fn settings_that_ship_are_named_without_a_file_and_a_line() {
        let text = Settings::DEMO_TEXT;
        let reading = piece::read_settings(&Source::new("studio.toml", text));
        let path = FieldPath::root().key("resin").key("lowest");
        let cold = Diagnostic::error(path, "too cold");
        let told = |source: Option<Source>| {
            let settings = Settings::demo();
            let mut findings = Findings::default();
            Studio::new(settings, source, reading.places.clone())
                .found(vec![cold.clone()], &mut findings);
            findings.json()[0].clone()
        };
        let shipped = told(None);
        assert_eq!(shipped["file"], "the studio's settings");
        assert!(shipped["line"].is_null(), "{shipped}");
        let own = told(Some(Source::new("own.toml", text)));
        assert_eq!(own["file"], "own.toml");
        let line = own["line"].as_u64().expect("a line") as usize;
        assert!(text.lines().nth(line - 1).is_some_and(|line| line.starts_with("lowest")));
    }
}
