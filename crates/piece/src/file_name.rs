//! Names of files that are made for a piece, where more than one room speaks of them.

use crate::{Finish, Piece};
use std::collections::{BTreeMap, BTreeSet};

/// A name as part of a file name: letters and digits stay, anything else becomes one hyphen.
pub fn slug(name: &str) -> String {
    let mut slug = String::with_capacity(name.len());
    for letter in name.chars().flat_map(char::to_lowercase) {
        if letter.is_alphanumeric() {
            slug.push(letter);
        } else if !slug.is_empty() && !slug.ends_with('-') {
            slug.push('-');
        }
    }
    let slug = slug.trim_end_matches('-');
    if slug.is_empty() { "colour".to_owned() } else { slug.to_owned() }
}

/// The cut file of each colour of film, by the colour's index: `cut-marsh-night.svg`. Names that would
/// be alike are numbered in the order of the colours.
pub fn cut_files(piece: &Piece) -> BTreeMap<usize, String> {
    let colours: BTreeSet<usize> = piece
        .zones
        .iter()
        .filter_map(|zone| match zone.finish {
            Finish::Vinyl { colour, .. } => Some(colour),
            _ => None,
        })
        .collect();
    let mut taken = BTreeSet::new();
    let mut files = BTreeMap::new();
    for colour in colours {
        let slug = slug(&piece.colours[colour].name);
        let mut name = format!("cut-{slug}.svg");
        let mut number = 2;
        while !taken.insert(name.clone()) {
            name = format!("cut-{slug}-{number}.svg");
            number += 1;
        }
        files.insert(colour, name);
    }
    files
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn slugs_hold_nothing_that_a_file_system_minds() {
        assert_eq!(slug("Marsh night"), "marsh-night");
        assert_eq!(slug("../etc/passwd"), "etc-passwd");
        assert_eq!(slug("Ébène / 2"), "ébène-2");
        assert_eq!(slug("···"), "colour");
    }
}
