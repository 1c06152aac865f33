//! Text in SVG files: set with the typefaces that ship with the program, and with no others.

use crate::lettering::shipped_fonts;
use std::sync::{Arc, Mutex};
use usvg::fontdb::{Database, ID, Source};
use usvg::{Font, FontFamily, FontResolver, FontStyle};

/// Names in drawing programs of the typefaces that ship, with the least weight that they are bold
/// enough for; lighter text would come out bolder than it was drawn.
const FAMILIES: [(&str, &str, u16); 4] = [
    ("Rubik", "rubik-bold", 600),
    ("Bitter", "bitter-bold", 600),
    ("Nunito", "nunito-extrabold", 700),
    ("Pacifico", "pacifico", 0),
];

/// The typefaces for one file, and the first reason why its text cannot be set.
pub(super) struct Typefaces {
    database: Arc<Database>,
    /// Names in piece files, with their place in the database.
    known: Vec<(&'static str, ID)>,
    refused: Mutex<Option<String>>,
}

impl Typefaces {
    pub(super) fn new() -> Self {
        let mut database = Database::new();
        let mut known = Vec::new();
        for font in shipped_fonts() {
            let ids = database.load_font_source(Source::Binary(Arc::new(font.bytes)));
            known.extend(ids.first().map(|id| (font.name, *id)));
        }
        Self { database: Arc::new(database), known, refused: Mutex::new(None) }
    }

    pub(super) fn database(&self) -> Arc<Database> {
        Arc::clone(&self.database)
    }

    /// Finds typefaces for text, and notes what it cannot find.
    pub(super) fn resolver(&self) -> FontResolver<'_> {
        FontResolver {
            select_font: Box::new(|font, _| self.select(font)),
            select_fallback: Box::new(|letter, _, _| {
                let code = u32::from(letter);
                self.refuse(format!(
                    "holds text with `{letter}` (U+{code:04X}), which its typeface lacks"
                ));
                None
            }),
        }
    }

    fn select(&self, font: &Font) -> Option<ID> {
        let asked = match font.families().first() {
            Some(FontFamily::Named(name)) => name.as_str(),
            _ => "",
        };
        let upright = font.style() == FontStyle::Normal;
        let named = FAMILIES.iter().find(|(family, name, least)| {
            let by_family = family.eq_ignore_ascii_case(asked) && font.weight() >= *least;
            upright && (by_family || name.eq_ignore_ascii_case(asked))
        });
        let id = named.and_then(|(_, name, _)| self.known.iter().find(|(known, _)| known == name));
        if id.is_none() {
            let family = if asked.is_empty() { "no typeface of its own" } else { asked };
            let weight = font.weight();
            let slant = if upright { "" } else { ", slanted" };
            self.refuse(format!("holds text in {family} (weight {weight}{slant})"));
        }
        id.map(|(_, id)| *id)
    }

    fn refuse(&self, why: String) {
        if let Ok(mut refused) = self.refused.lock() {
            refused.get_or_insert(why);
        }
    }

    /// Why text in the file cannot be set, and what to do.
    pub(super) fn refused(&self) -> Option<(String, String)> {
        let why = self.refused.lock().ok()?.clone()?;
        let names: Vec<&str> = shipped_fonts().iter().map(|font| font.name).collect();
        let hint = format!(
            "Turn the text into paths in the drawing program, set its typeface to one of {}, or use `lettering`.",
            names.join(", ")
        );
        Some((why, hint))
    }
}
