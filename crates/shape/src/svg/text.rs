//! Text in SVG files: set with the typefaces that ship with the program, and with no others.

use crate::lettering::shipped_fonts;
use std::sync::{Arc, Mutex};
use usvg::fontdb::{Database, ID, Source};
use usvg::{Font, FontFamily, FontResolver, FontStyle, roxmltree};

/// Names in drawing programs of the typefaces that ship, with the least weight that they are bold
/// enough for; lighter text would come out bolder than it was drawn.
const FAMILIES: [(&str, &str, u16); 4] = [
    ("Rubik", "rubik-bold", 600),
    ("Bitter", "bitter-bold", 600),
    ("Nunito", "nunito-extrabold", 700),
    ("Pacifico", "pacifico", 0),
];

/// Text of a file that cannot be set.
#[derive(Clone)]
pub(super) struct Untypeset {
    pub(super) why: String,
    /// What to do.
    pub(super) hint: String,
    /// The name of its typeface, or the letter that this lacks.
    sign: String,
}

impl Untypeset {
    /// The line of the text in the file: the first that names the typeface or holds the letter.
    pub(super) fn line(&self, document: &roxmltree::Document) -> Option<u32> {
        let texts = || document.descendants().filter(|node| node.tag_name().name() == "text");
        let holds = |node: &roxmltree::Node| {
            let named = |one: roxmltree::Node| {
                one.attributes().any(|attribute| attribute.value().contains(&self.sign))
            };
            let written = |one: &roxmltree::Node| {
                one.is_text() && one.text().is_some_and(|text| text.contains(&self.sign))
            };
            node.ancestors().any(named) || node.descendants().any(|one| named(one) || written(&one))
        };
        let node = texts().find(holds).or_else(|| texts().next())?;
        Some(document.text_pos_at(node.range().start).row)
    }
}

/// The typefaces for one file, and the first reason why its text cannot be set.
pub(super) struct Typefaces {
    database: Arc<Database>,
    /// Names in piece files, with their place in the database.
    known: Vec<(&'static str, ID)>,
    refused: Mutex<Option<Untypeset>>,
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
                let why =
                    format!("holds text with `{letter}` (U+{code:04X}), which its typeface lacks");
                self.refuse(why, letter.to_string());
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
            let why = format!("holds text in {family} (weight {weight}{slant})");
            self.refuse(why, asked.to_owned());
        }
        id.map(|(_, id)| *id)
    }

    fn refuse(&self, why: String, sign: String) {
        let names: Vec<&str> = shipped_fonts().iter().map(|font| font.name).collect();
        let hint = format!(
            "Turn the text into paths in the drawing program, set its typeface to one of {}, or use `lettering`.",
            names.join(", ")
        );
        if let Ok(mut refused) = self.refused.lock() {
            refused.get_or_insert(Untypeset { why, hint, sign });
        }
    }

    /// Why text in the file cannot be set.
    pub(super) fn refused(&self) -> Option<Untypeset> {
        self.refused.lock().ok()?.clone()
    }
}
