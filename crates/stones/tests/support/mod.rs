//! Pieces to lay stones on, from the text of piece files.

// Each test binary uses its part of this.
#![allow(dead_code)]

use piece::{Finish, Piece, Settings, StoneFinish};
use shape::{Field, Shape, shape};
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
    laid(read(text), &Settings::demo())
}

/// The same in a studio of one's own.
pub fn lay_with(text: &str, settings: &Settings) -> Laid {
    laid(read(text), settings).unwrap_or_else(|faults| panic!("{faults:?}\n{text}"))
}

/// The piece of a text, its first zone's stones changed before they are laid.
pub fn try_lay_as(
    text: &str,
    change: impl Fn(&mut StoneFinish),
) -> Result<Laid, Vec<piece::Diagnostic>> {
    let mut piece = read(text);
    if let Finish::Stones(finish) = &mut piece.zones[0].finish {
        change(finish);
    }
    laid(piece, &Settings::demo())
}

pub fn lay_as(text: &str, change: impl Fn(&mut StoneFinish)) -> Laid {
    try_lay_as(text, change).unwrap_or_else(|faults| panic!("{faults:?}\n{text}"))
}

fn laid(piece: Piece, settings: &Settings) -> Result<Laid, Vec<piece::Diagnostic>> {
    let shape = shape(&piece, settings)?;
    let stones = lay_stones(&piece, &shape, settings, &mut |_| true)?;
    Ok(Laid { piece, shape, stones })
}

/// All pairs, one by one, straight through space; every stone whole inside the first zone.
pub fn check_pairs(laid: &Laid, gap_mm: f64) {
    let stones = &laid.stones.stones;
    for (i, a) in stones.iter().enumerate() {
        for b in &stones[..i] {
            let clear = a.centre_mm.distance(b.centre_mm) - (a.diameter_mm + b.diameter_mm) / 2.0;
            assert!(clear >= gap_mm - 1e-6, "{clear} mm clear: {a:?} {b:?}");
        }
    }
    let zone = &laid.shape.zones[0];
    let field = Field::new(&zone.surface, &zone.area);
    for stone in stones {
        let room = field.clearance_mm(stone.at) - stone.diameter_mm / 2.0;
        assert!(room >= -1e-6, "{room}: {stone:?}");
    }
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
