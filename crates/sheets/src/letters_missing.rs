//! Letters that the typefaces of the sheets do not have, told before they are missed in print.

use crate::typeset::has_letter;
use piece::{Diagnostic, FieldPath, Piece};
use std::collections::BTreeSet;

/// A warning for each text of a piece that would print with empty boxes: its title, its notes, the
/// names of its parts, zones and colours.
pub fn letters_missing(piece: &Piece) -> Vec<Diagnostic> {
    let root = FieldPath::root();
    let mut texts: Vec<(FieldPath, &str)> =
        vec![(root.key("title"), &piece.title), (root.key("notes"), &piece.notes)];
    for (index, part) in piece.parts.iter().enumerate() {
        texts.push((root.key("part").index(index).key("name"), &part.name));
    }
    for (index, zone) in piece.zones.iter().enumerate() {
        texts.push((root.key("zone").index(index).key("name"), &zone.name));
    }
    for colour in &piece.colours {
        texts.push((root.key("colours").key(&colour.name), &colour.name));
    }
    let mut notes: Vec<Diagnostic> =
        texts.into_iter().filter_map(|(path, text)| missing(path, text)).collect();
    // Words of film are cut in their own typeface; only the check of their letters is printed.
    for (index, zone) in piece.zones.iter().enumerate() {
        let letters = zone.region.text().and_then(told);
        notes.extend(letters.map(|letters| {
            let path = root.key("zone").index(index);
            let message = format!(
                "the workbook has no letter for {letters} and prints * where it repeats these words"
            );
            Diagnostic::warning(path, message)
                .hint("compare them with the drawing on the wrap, which has every letter")
        }));
    }
    notes
}

/// A warning of letters that print as boxes.
fn missing(path: FieldPath, text: &str) -> Option<Diagnostic> {
    let letters = told(text)?;
    Some(
        Diagnostic::warning(
            path,
            format!("the sheets have no letter for {letters}: a box is printed"),
        )
        .hint("spell it in Latin, Greek or Cyrillic letters"),
    )
}

/// The letters of a text that no typeface of the sheets has, in words.
fn told(text: &str) -> Option<String> {
    let missing: BTreeSet<char> =
        text.chars().filter(|letter| !letter.is_whitespace() && !has_letter(*letter)).collect();
    if missing.is_empty() {
        return None;
    }
    let told = |letter: &char| format!("`{letter}` (U+{:04X})", u32::from(*letter));
    let list: Vec<String> = missing.iter().take(5).map(told).collect();
    let more = missing.len().saturating_sub(5);
    let more = if more > 0 { format!(" and {more} more") } else { String::new() };
    Some(format!("{}{more}", list.join(", ")))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn piece(title: &str) -> Piece {
        format!(
            "cupwright = 1\ntitle = \"{title}\"\n[[part]]\nname = \"body\"\nrole = \"topper\"\n\
             flat = {{ circle = \"50 mm\" }}\n"
        )
        .parse()
        .expect("a sound piece")
    }

    #[test]
    fn letters_of_other_scripts_are_warned_of_and_ours_are_not() {
        for title in ["Low tide", "Ebbe für Åse", "Прилив", "Άμπωτη"] {
            assert_eq!(letters_missing(&piece(title)), [], "{title}");
        }
        let warned = letters_missing(&piece("潮 tide"));
        assert_eq!(warned.len(), 1);
        assert!(warned[0].message.contains("`潮` (U+6F6E)"), "{}", warned[0].message);
    }
}
