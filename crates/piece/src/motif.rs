//! Motifs: patterns made from numbers, resolved.

use crate::Font;

/// A pattern that bounds a zone.
#[derive(Debug, Clone, PartialEq)]
pub struct Motif {
    /// What it is made of.
    pub kind: MotifKind,
    /// Seed of what is random in it; `None`: from the piece's seed and the name of the zone.
    pub seed: Option<u64>,
    /// The zone is what lies between the shapes instead of the shapes.
    pub inverse: bool,
}

/// What a motif is made of. Sizes with two numbers are the least and the most of each shape.
#[derive(Debug, Clone, PartialEq)]
pub enum MotifKind {
    /// Drips that run down from the upper edge of the zone.
    Drips {
        /// How many side by side.
        count: u32,
        /// Width of a drip, mm.
        width_mm: (f64, f64),
        /// How far a drip runs below the solid strip, mm.
        length_mm: (f64, f64),
        /// Depth of the strip from which they run, mm.
        solid_mm: f64,
    },
    /// Blades that stand on the lower edge of the zone.
    Reeds {
        /// How many side by side.
        count: u32,
        /// Height of a blade, mm.
        height_mm: (f64, f64),
        /// Width of a blade at its foot, mm.
        width_mm: f64,
        /// How far blades lean at most to either side, radians.
        lean_rad: f64,
        /// Share of them that bear a head, as a bulrush does.
        heads: f64,
    },
    /// Drops that fall all one way.
    Rain {
        /// Length of a drop, mm.
        length_mm: (f64, f64),
        /// Width of a drop, mm.
        width_mm: f64,
        /// How far from upright they fall, their feet to the left, radians.
        slant_rad: f64,
        /// Where they are kept apart.
        strewn: Strewn,
    },
    /// Stars.
    Stars {
        /// Points of a star.
        points: u32,
        /// Diameter of the circle through the points, mm.
        size_mm: (f64, f64),
        /// Diameter of the circle through the inner corners, as a share of that through the points.
        inner: f64,
        /// How far they tilt at most to either side, radians.
        tilt_rad: f64,
        /// Where they are kept apart.
        strewn: Strewn,
    },
    /// Flowers of separate petals round a heart.
    Petals {
        /// Petals of a flower.
        petals: u32,
        /// Diameter of a flower, mm.
        size_mm: (f64, f64),
        /// Diameter of the circle on which the petals begin, as a share of that of the flower.
        heart: f64,
        /// Where they are kept apart.
        strewn: Strewn,
    },
    /// Small shapes turned every way.
    Confetti {
        /// Which ones, in equal numbers; not empty.
        shapes: Vec<Confetto>,
        /// Diameter of the circle that just holds one, mm.
        size_mm: (f64, f64),
        /// Where they are kept apart.
        strewn: Strewn,
    },
    /// Rows of round scales, each row shifted by half a scale and lying over the next one down.
    Scales {
        /// From one scale to the next in a row.
        pitch: Pitch,
        /// Bare line between two scales, mm.
        gap_mm: f64,
        /// No scale is cut by the lower edge of the zone.
        whole: bool,
    },
    /// A chessboard.
    Checks {
        /// From one check to the next in a row; an even number goes round.
        pitch: Pitch,
    },
    /// Stripes down the wall.
    Stripes {
        /// From one stripe to the next.
        pitch: Pitch,
        /// Share of the pitch that a stripe takes.
        share: f64,
        /// How far a stripe runs round from the upper to the lower edge of the zone, to the right,
        /// radians; 0 on a flat part.
        twist_rad: f64,
    },
    /// Six-sided cells with bars between.
    Honeycomb {
        /// From one cell to the next in a row.
        pitch: Pitch,
        /// Width of the bars, mm.
        bar_mm: f64,
        /// No cell is cut by the upper or the lower edge of the zone.
        whole: bool,
    },
    /// A name that runs round the part again and again.
    NameBand(NameBand),
}

/// A name round a part, as high as its zone lets it.
#[derive(Debug, Clone, PartialEq)]
pub struct NameBand {
    /// The words.
    pub text: String,
    /// Their typeface.
    pub font: Font,
    /// What stands between two of them, if anything.
    pub ornament: Option<Ornament>,
    /// How many go round; `None`: as many as find room.
    pub round: Option<u32>,
    /// Width of a line along the upper and the lower edge, mm; 0 without.
    pub border_mm: f64,
    /// Only this of it.
    pub only: Option<BandPart>,
}

/// What stands between two names.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ornament {
    /// A disc.
    Dot,
    /// A square on its corner.
    Diamond,
    /// A star of five points.
    Star,
    /// A wave.
    Wave,
    /// Three blades, one with the head of a bulrush.
    Reeds,
}

/// A part of a name band.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BandPart {
    /// The words.
    Text,
    /// What stands between them.
    Ornaments,
    /// The lines along the edges.
    Border,
}

impl MotifKind {
    /// Its key in piece files.
    pub fn key(&self) -> &'static str {
        match self {
            Self::Drips { .. } => "drips",
            Self::Reeds { .. } => "reeds",
            Self::Rain { .. } => "rain",
            Self::Stars { .. } => "stars",
            Self::Petals { .. } => "petals",
            Self::Confetti { .. } => "confetti",
            Self::Scales { .. } => "scales",
            Self::Checks { .. } => "checks",
            Self::Stripes { .. } => "stripes",
            Self::Honeycomb { .. } => "honeycomb",
            Self::NameBand(_) => "name_band",
        }
    }
}

/// How shapes are strewn over a zone.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Strewn {
    /// Least distance between two of them, along the surface, mm.
    pub apart_mm: f64,
    /// How many; `None`: about as many as find room.
    pub count: Option<u32>,
}

/// From one to the next of a pattern that repeats.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Pitch {
    /// So many go once round the part.
    Round(u32),
    /// So far from one to the next, mm; round a part it is rounded so that a whole number goes round.
    Mm(f64),
}

/// A shape of confetti.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Confetto {
    /// A disc.
    Disc,
    /// A square.
    Square,
    /// A triangle of equal sides.
    Triangle,
    /// A strip four times as long as it is wide.
    Strip,
}
