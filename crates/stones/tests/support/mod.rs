//! Pieces to lay stones on, from the text of piece files.

// Each test binary uses its part of this.
#![allow(dead_code)]

use piece::{Piece, Settings};
use shape::{Shape, shape};
use stones::{Stones, lay_stones};

/// A piece with its shape and stones.
pub struct Laid {
    pub piece: Piece,
    pub shape: Shape,
    pub stones: Stones,
}

pub fn read(text: &str) -> Piece {
    text.parse().unwrap_or_else(|faults| panic!("{faults:?}\n{text}"))
}

pub fn lay(text: &str) -> Laid {
    try_lay(text).unwrap_or_else(|faults| panic!("{faults:?}\n{text}"))
}

pub fn try_lay(text: &str) -> Result<Laid, Vec<piece::Diagnostic>> {
    let piece = read(text);
    let shape = shape(&piece, &Settings::demo())?;
    let stones = lay_stones(&piece, &shape, &Settings::demo(), &mut |_| true)?;
    Ok(Laid { piece, shape, stones })
}

/// The same in a studio of one's own.
pub fn lay_with(text: &str, settings: &Settings) -> Laid {
    let piece = read(text);
    let shape = shape(&piece, settings).expect("a sound piece");
    let stones = lay_stones(&piece, &shape, settings, &mut |_| true).expect("stones");
    Laid { piece, shape, stones }
}

/// A body from the rim down, `(along, radius)` in mm, and whatever zones follow.
pub fn body(measures: &[(f64, f64)], zones: &str) -> String {
    let revolved: Vec<String> = measures
        .iter()
        .map(|(along, radius)| format!("{{ along = \"{along} mm\", radius = \"{radius} mm\" }}"))
        .collect();
    format!(
        "cupwright = 1\ntitle = \"Trial\"\nseed = 11\n\
         [colours]\n\"ebb\" = \"#1f6f78\"\n\"foam\" = \"#e8eef0\"\n\
         [[part]]\nname = \"body\"\nrevolved = [ {} ]\n{zones}",
        revolved.join(", ")
    )
}

/// A zone of rows in one size.
pub fn rows(name: &str, region: &str, follow: &str, size: &str, gap_mm: f64) -> String {
    format!(
        "[[zone]]\nname = \"{name}\"\npart = \"body\"\n{region}\n\
         stones = {{ layout = \"rows\", follow = \"{follow}\", size = \"{size}\", gap = \"{gap_mm} mm\", \
         colours = [ {{ colour = \"ebb\", share = \"60 %\" }}, {{ colour = \"foam\", share = \"40 %\" }} ] }}\n"
    )
}

/// A zone of mixed sizes.
pub fn scatter(name: &str, region: &str, sizes: &[(&str, f64)], gap_mm: f64) -> String {
    let sizes: Vec<String> = sizes
        .iter()
        .map(|(size, share)| format!("{{ size = \"{size}\", share = \"{share} %\" }}"))
        .collect();
    format!(
        "[[zone]]\nname = \"{name}\"\npart = \"body\"\n{region}\n\
         stones = {{ layout = \"scatter\", sizes = [ {} ], gap = \"{gap_mm} mm\", colour = \"ebb\" }}\n",
        sizes.join(", ")
    )
}

pub fn band(from_mm: f64, to_mm: f64) -> String {
    format!("band = {{ from = \"{from_mm} mm\", to = \"{to_mm} mm\" }}")
}
