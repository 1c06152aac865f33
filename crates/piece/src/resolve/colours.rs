//! Colours: names followed, letters given out, unused ones dropped.

use super::Bench;
use crate::file::Named;
use crate::file::piece::ColourFile;
use crate::units::shorten;
use crate::{Colour, Colouring, Diagnostic, FieldPath, Finish, Piece};
use std::collections::{BTreeMap, BTreeSet};

/// The colours of a file, and which of them something uses.
pub(crate) struct Palette {
    colours: Vec<Colour>,
    used: Vec<bool>,
}

impl Palette {
    pub fn new(file: &Named<ColourFile>, bench: &mut Bench<'_>) -> Self {
        let root = FieldPath::root().key("colours");
        let mut letters: BTreeMap<String, String> = BTreeMap::new();
        let mut plain_names: BTreeMap<String, String> = BTreeMap::new();
        for (name, colour) in &file.0 {
            let path = root.key(name);
            if name.trim().is_empty()
                || name.chars().count() > 60
                || name.chars().any(char::is_control)
            {
                bench.error(&path, "a colour needs a name of 1 to 60 characters on one line");
            }
            // Names also name files, where case and punctuation do not tell two apart everywhere.
            let plain: String =
                name.chars().filter(|c| c.is_alphanumeric()).flat_map(char::to_lowercase).collect();
            if let Some(other) = plain_names.insert(plain, name.clone()) {
                bench.error_hint(
                    &path,
                    format!("the colours `{other}` and `{name}` differ only in capitals, spaces or punctuation"),
                    "give one of them another name",
                );
            }
            if let ColourFile::Lettered(colour) = colour
                && let Some(letter) = &colour.letter
                && let Some(other) = letters.insert(letter.0.clone(), name.clone())
            {
                bench.error_hint(
                    &path.key("letter"),
                    format!(
                        "the colours `{other}` and `{name}` have the same letter `{}`",
                        letter.0
                    ),
                    "give one of them another letter, or leave it out to have one chosen",
                );
            }
        }
        let taken: BTreeSet<String> = letters.into_keys().collect();
        let mut free = all_letters().filter(|letter| !taken.contains(letter));
        let colours: Vec<Colour> = file
            .0
            .iter()
            .map(|(name, colour)| {
                let (srgb, own) = match colour {
                    ColourFile::Srgb(srgb) => (srgb.0, None),
                    ColourFile::Lettered(colour) => (colour.srgb.0, colour.letter.clone()),
                };
                let letter = own.map_or_else(|| free.next().unwrap_or_default(), |letter| letter.0);
                Colour { name: name.clone(), srgb, letter }
            })
            .collect();
        Self { used: vec![false; colours.len()], colours }
    }

    /// Index of the colour called `name`; 0 after a complaint.
    pub fn find(&mut self, path: &FieldPath, name: &str, bench: &mut Bench<'_>) -> usize {
        let names: Vec<&str> = self.colours.iter().map(|colour| colour.name.as_str()).collect();
        let found = if name.starts_with('#') && !names.contains(&name) {
            bench.error_hint(
                path,
                format!("`{}` stands where the name of a colour belongs", shorten(name)),
                "give it a name under [colours] and write that name here",
            );
            None
        } else {
            bench.find(path, "colour", name, &names)
        };
        if let Some(used) = found.and_then(|index| self.used.get_mut(index)) {
            *used = true;
        }
        found.unwrap_or(0)
    }

    /// Gives the used colours to the piece and moves its indices to them; warns of the others.
    pub fn hand_over(self, piece: &mut Piece, bench: &mut Bench<'_>) {
        // With an error about, a colour may only seem unused.
        let wrong = !bench.diagnostics.is_empty();
        let mut moved = vec![0; self.colours.len()];
        for (index, (colour, used)) in self.colours.into_iter().zip(self.used).enumerate() {
            if used {
                moved[index] = piece.colours.len();
                piece.colours.push(colour);
            } else if !wrong {
                let path = FieldPath::root().key("colours").key(&colour.name);
                let message = format!("nothing uses the colour `{}`", colour.name);
                bench.diagnostics.push(Diagnostic::warning(path, message));
            }
        }
        let to = |index: &mut usize| *index = moved.get(*index).copied().unwrap_or(0);
        for colour in piece.parts.iter_mut().filter_map(|part| part.blank_colour.as_mut()) {
            to(colour);
        }
        for zone in &mut piece.zones {
            match &mut zone.finish {
                Finish::Paint { colour, .. }
                | Finish::Glitter { colour, .. }
                | Finish::Vinyl { colour, .. } => to(colour),
                Finish::Resin { .. } => {}
                Finish::Stones(stones) => {
                    for layer in &mut stones.layers {
                        layer.colours.iter_mut().for_each(|(colour, _)| to(colour));
                        if let Colouring::Gradient { stops, .. } = &mut layer.colouring {
                            stops.iter_mut().for_each(|(_, colour)| to(colour));
                        }
                    }
                }
            }
        }
    }
}

/// A to Z, then AA, AB and so on to ZZ.
fn all_letters() -> impl Iterator<Item = String> {
    let single = || ('A'..='Z').map(String::from);
    single().chain(
        ('A'..='Z')
            .flat_map(move |first| ('A'..='Z').map(move |second| format!("{first}{second}"))),
    )
}
