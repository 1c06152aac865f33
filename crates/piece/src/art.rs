//! Art and lettering as they are laid on a part.

use crate::read::Pixels;
use std::sync::Arc;

/// Art laid on the surface.
#[derive(Debug, Clone, PartialEq)]
pub struct PlacedArt {
    /// What is drawn.
    pub art: Art,
    /// Distance of its middle from the rim along the wall, mm (on a flat part: down from the centre).
    pub along_mm: f64,
    /// Its middle round the part: radians from the front (on a flat part: mm right of the centre).
    pub around: f64,
    /// Width or height its bounding box is scaled to.
    pub size: ArtSize,
    /// Turned clockwise as seen from outside, radians.
    pub turn_rad: f64,
    /// Mirrored left to right before turning.
    pub mirror: bool,
    /// Copies spread evenly round the part, at least 1.
    pub repeat: u32,
    /// Rows of such copies down the wall.
    pub rows: ArtRows,
    /// How it lies on a part that is not flat.
    pub lie: Lie,
    /// Grown all round, or only what it grew by.
    pub outline: Option<ArtOutline>,
}

impl PlacedArt {
    /// Art at a place, as large as it is told, once, level and as it is drawn.
    pub fn new(art: Art, size: ArtSize, along_mm: f64, around: f64) -> Self {
        Self {
            art,
            along_mm,
            around,
            size,
            turn_rad: 0.0,
            mirror: false,
            repeat: 1,
            rows: ArtRows::ONE,
            lie: Lie::Level,
            outline: None,
        }
    }
}

/// What is drawn.
#[derive(Debug, Clone, PartialEq)]
pub enum Art {
    /// SVG path data; y grows downwards.
    Path(String),
    /// A whole SVG file, as text; the name is for messages.
    Svg {
        /// File name as typed.
        file: String,
        /// Its text.
        text: Arc<str>,
        /// Only what is seen of this colour (`#rrggbb`) or this named group; `None` is all of it.
        layer: Option<String>,
    },
    /// The dark or the light parts of a picture of pixels.
    Traced(Tracing),
    /// Words set in a line or a column.
    Lettering {
        /// The words.
        text: String,
        /// Name of a typeface that ships with the program, or of a file.
        font: Font,
    },
}

/// What is traced in a picture.
#[derive(Debug, Clone, PartialEq)]
pub struct Tracing {
    /// File name as typed.
    pub file: String,
    /// Its pixels.
    pub pixels: Arc<Pixels>,
    /// Tone of the border, as a share from black (0) to white (1).
    pub threshold: f64,
    /// What is darker than that; otherwise what is lighter.
    pub darker: bool,
    /// Islands and holes smaller than a disc of this width are left out, mm.
    pub least_mm: f64,
}

impl Tracing {
    /// The tone of a border that is not told, halfway from black to white.
    pub const THRESHOLD: f64 = 0.5;
    /// Width of the smallest islands and holes where it is not told, mm (common practice among cutters
    /// of film, no source: smaller ones are lost in weeding).
    pub const LEAST_MM: f64 = 0.5;
}

/// A typeface.
#[derive(Debug, Clone, PartialEq)]
pub enum Font {
    /// One that ships with the program, by its name in `shape::lettering`.
    Shipped(String),
    /// The bytes of the maker's own TrueType or OpenType file; the name is for messages.
    Own {
        /// File name as typed.
        file: String,
        /// Its bytes.
        bytes: Arc<[u8]>,
    },
}

impl Font {
    /// Name of the shipped typeface of lettering that names none.
    pub const DEFAULT: &str = "rubik-bold";
}

/// The size art is scaled to, keeping its proportions.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ArtSize {
    /// Width along the parallel through its middle, mm.
    WidthMm(f64),
    /// Height along the wall, mm. For lettering: height of a capital H.
    HeightMm(f64),
    /// Width as a share of the way round the bare part at its middle, above 0 and at most 1.
    RoundShare(f64),
}

/// Rows of art down the wall, the first at its place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ArtRows {
    /// How many, at least 1.
    pub count: u32,
    /// From the middle of one row to that of the next along the wall, mm.
    pub apart_mm: f64,
    /// Every other row is shifted to the right by half a step from copy to copy.
    pub half_drop: bool,
}

impl ArtRows {
    /// A single row.
    pub const ONE: Self = Self { count: 1, apart_mm: 0.0, half_drop: false };
}

/// How art lies on a part that is not flat.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Lie {
    /// Its horizontal along a parallel, its vertical along the wall: an arc on the unrolled wall.
    Level,
    /// Straight on the unrolled wall, as a flat sticker lies, touching the parallel at its middle.
    Straight,
    /// Its horizontal climbs to the right at this angle to the parallels, radians, all the way: a
    /// helix on a cylinder. Negative falls.
    Rising {
        /// The angle, within a quarter turn.
        rise_rad: f64,
    },
    /// Letters upright, one below the other; only for lettering.
    Column,
}

/// A border about art.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ArtOutline {
    /// How far it reaches beyond the art all round, mm; its outer corners are round.
    pub width_mm: f64,
    /// Only the border, without the art itself.
    pub only: bool,
}
