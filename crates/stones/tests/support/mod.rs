//! Pieces to lay stones on, from the text of piece files.

// Each test binary uses its part of this.
#![allow(dead_code)]

use piece::{Finish, Layout, Piece, Settings, StoneFinish};
use shape::{Field, Shape, SurfacePoint, shape};
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

/// A plate with one zone all over it.
pub fn plate(outline: &str, region: &str, sizes: &[(&str, f64)]) -> String {
    let zone = scatter("face", region, sizes, 0.1);
    format!(
        "cupwright = 1\ntitle = \"Trial\"\nseed = 11\n\
         [colours]\n\"ebb\" = \"#1f6f78\"\n\"foam\" = \"#e8eef0\"\n\
         [[part]]\nname = \"body\"\nrole = \"topper\"\nflat = {{ {outline} }}\n{zone}"
    )
}

/// The first layer in another layout.
pub fn laid_out(layout: Layout) -> impl Fn(&mut StoneFinish) {
    move |finish| finish.layers[0].layout = layout
}

/// The most room that any point of a fine grid has for one more stone, mm, by looking at all stones.
pub fn most_room_mm(laid: &Laid, diameter_mm: f64, step_mm: f64) -> f64 {
    let zone = &laid.shape.zones[0];
    let field = Field::new(&zone.surface, &zone.area);
    let around: Vec<f64> = zone.area.loops.iter().flatten().map(|at| at.around).collect();
    let low = around.iter().copied().fold(f64::INFINITY, f64::min);
    let high = around.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let (top, bottom) = zone.area.along_range_mm().expect("an area");
    let mut most = f64::NEG_INFINITY;
    let mut along_mm = top;
    while along_mm < bottom {
        let mut turn = low;
        while turn < high {
            let at = SurfacePoint { around: turn, along_mm };
            let edge_mm = field.clearance_mm(at) - diameter_mm / 2.0;
            if edge_mm > most {
                let place = zone.surface.world_from_surface(at);
                let free = laid.stones.stones.iter().map(|stone| {
                    stone.centre_mm.distance(place) - (stone.diameter_mm + diameter_mm) / 2.0 - 0.1
                });
                most = most.max(free.fold(edge_mm, f64::min));
            }
            turn += step_mm / zone.surface.around_scale_mm(along_mm);
        }
        along_mm += step_mm;
    }
    most
}

/// A star as the outline of a plate.
pub const STAR: &str = "path = \"M0 -50 L14 -16 L50 -16 L20 6 L30 42 L0 20 L-30 42 L-20 6 L-50 -16 \
                    L-14 -16 Z\", width = \"60 mm\"";
