//! The resolved piece: what a maker described, complete and in our units.

mod fit;
mod glitter;
mod stones;
mod strength;

pub use fit::Fit;
pub use glitter::Pressed;
pub use stones::*;
pub use strength::Strength;

use crate::{Art, BandPart, Colour, Motif, MotifKind, PlacedArt};

/// One thing being made, with everything that belongs to it.
#[derive(Debug, Clone, PartialEq)]
pub struct Piece {
    /// Title, as the customer knows it.
    pub title: String,
    /// Notes that the customer may read.
    pub notes: String,
    /// How many of it.
    pub quantity: u32,
    /// Day it must be with the customer, if agreed.
    pub due: Option<jiff::civil::Date>,
    /// What it will hold.
    pub drinks: Drinks,
    /// Made for a child of 12 or under.
    pub for_child: bool,
    /// Seed of everything random in it.
    pub seed: u64,
    /// Separate surfaces; names are unique. Never empty.
    pub parts: Vec<Part>,
    /// Finishes in the order of work; a later one lies on top. Names are unique.
    pub zones: Vec<Zone>,
    /// The colours its zones use, by name; zones refer to them by index.
    pub colours: Vec<Colour>,
    /// Strengths to offer beside the whole design, weakest first as the maker lists them.
    pub strengths: Vec<Strength>,
}

/// What the piece will hold.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Drinks {
    /// Cold drinks only.
    Cold,
    /// Hot drinks, perhaps also cold ones.
    Hot,
}

/// One separate surface of a piece.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// Name: `body`, `lid`, `topper`, or the maker's own; lower-case letters, digits and hyphens.
    pub name: String,
    /// What it is, which decides the defaults and the cautions.
    pub role: PartRole,
    /// Stated capacity in ml, for a plausibility check.
    pub capacity_ml: Option<f64>,
    /// How its wall is built; `None` where nothing says.
    pub walls: Option<Walls>,
    /// Its bare surface.
    pub form: Form,
    /// Colour of the bare blank, index into [`Piece::colours`]; `None` is plain brushed steel.
    pub blank_colour: Option<usize>,
    /// Where it sits when the piece is put together; `None` stands on the table.
    pub seat: Option<Seat>,
    /// Its handle, whose place on the wall stays bare.
    pub handle: Option<Handle>,
    /// What it must still fit once it is coated.
    pub fit: Fit,
}

/// How the wall of a vessel is built.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Walls {
    /// One layer, as of ceramic or enamel mugs.
    Single,
    /// Two with a vacuum between, as of steel cups that keep warm.
    Double,
}

/// A handle: a window of the wall that zones keep out of.
#[derive(Debug, Clone, PartialEq)]
pub struct Handle {
    /// Its upper and lower end along the wall from the rim, mm.
    pub along_mm: (f64, f64),
    /// Its middle round the part from the front, radians.
    pub around_rad: f64,
    /// Width round the wall that it keeps, mm.
    pub width_mm: f64,
    /// Room beside it that stones leave, mm.
    pub clearance_mm: f64,
    /// Zones (by index) that run on beneath it all the same.
    pub beneath: Vec<usize>,
}

/// What a part is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum PartRole {
    /// The drinking vessel.
    Body,
    /// What closes it.
    Lid,
    /// A small decorated thing for lid or straw.
    Topper,
}

/// Where a part sits on another.
#[derive(Debug, Clone, PartialEq)]
pub struct Seat {
    /// Index of the part below.
    pub on_part: usize,
    /// How far its lowest point lies below the highest point of the part below, mm (a lid's skirt
    /// hangs into or over the rim).
    pub sink_mm: f64,
    /// Room between both where they lie beside each other, mm; `None` if nobody has measured it.
    pub clearance_mm: Option<f64>,
    /// A flat part stands upright facing the front, instead of lying face up.
    pub upright: bool,
}

/// The bare surface of a part.
#[derive(Debug, Clone, PartialEq)]
pub enum Form {
    /// A surface of revolution from tape measurements; at least two, from the rim (or the middle of
    /// a lid) downwards and outwards, `along_mm` strictly growing from 0.
    Revolved(Vec<Measure>),
    /// A flat plate with this outline.
    Flat(Outline),
}

/// One measurement with the tape.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Measure {
    /// Distance along the wall from the start (rim, or edge of a lid's hole), mm.
    pub along_mm: f64,
    /// Radius there, mm; 0 only at an end.
    pub radius_mm: f64,
    /// How the wall runs from the measurement before to this one (ignored on the first).
    pub run: Run,
    /// There is an edge here that a stone must not straddle. True wherever two straight runs meet at
    /// more than 5 degrees, even if not said.
    pub crease: bool,
    /// Step of the reading in terms of the radius, mm: the true radius lies within half of it either
    /// way, and a smooth run passes that near. 0 takes the reading as exact.
    pub radius_step_mm: f64,
}

/// How a wall runs between two measurements.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Run {
    /// A cone or cylinder.
    Straight,
    /// A smooth curve through this and its smooth neighbours.
    Smooth,
}

/// Outline of a flat plate; its centre (middle of the bounding box) is the origin.
#[derive(Debug, Clone, PartialEq)]
pub enum Outline {
    /// A disc.
    Circle {
        /// Diameter, mm.
        diameter_mm: f64,
    },
    /// A rectangle with rounded corners.
    Rectangle {
        /// Width, mm.
        width_mm: f64,
        /// Height, mm.
        height_mm: f64,
        /// Radius of the corners, mm.
        corner_mm: f64,
    },
    /// A closed path.
    Path {
        /// SVG path data; y grows downwards.
        data: String,
        /// Width the path is scaled to, mm.
        width_mm: f64,
    },
}

/// A region of a part with one finish.
#[derive(Debug, Clone, PartialEq)]
pub struct Zone {
    /// Name, unique in the piece: lower-case letters, digits and hyphens.
    pub name: String,
    /// Index of the part it lies on.
    pub part: usize,
    /// Where on the part, drawn on the bare cup.
    pub region: Region,
    /// What covers it.
    pub finish: Finish,
}

/// Where on a part a zone lies: the part of `shape` inside the band and the window.
#[derive(Debug, Clone, PartialEq)]
pub struct Region {
    /// Between two edges counted along the wall from the rim; `None` is the whole length.
    pub band: Option<BandEdges>,
    /// The file leaves out where the band begins, and it stands for the start of the part; see
    /// [`crate::lip`].
    pub from_left_out: bool,
    /// Between two angles round the axis from the front, positive to the right as seen from
    /// outside, radians; `from < to`, `to - from <= 2 pi`. `None` is all round.
    pub window_rad: Option<(f64, f64)>,
    /// Kept this far inside the outline of a flat part, or away from both ends of a revolved one, mm.
    pub inset_mm: f64,
    /// Art that bounds it; `None` is no further bound.
    pub art: Option<PlacedArt>,
    /// A pattern that bounds it; `None` is no further bound.
    pub motif: Option<Motif>,
    /// Zones (by index) that are left bare of this one, with a margin in mm.
    pub leave_out: Vec<(usize, f64)>,
}

impl Region {
    /// The words that it shows, if any.
    pub fn text(&self) -> Option<&str> {
        if let Some(Art::Lettering { text, .. }) = self.art.as_ref().map(|placed| &placed.art) {
            return Some(text);
        }
        match &self.motif.as_ref()?.kind {
            MotifKind::NameBand(band) if matches!(band.only, None | Some(BandPart::Text)) => {
                Some(&band.text)
            }
            _ => None,
        }
    }
}

/// The two edges of a band, the first nearer to the rim.
#[derive(Debug, Clone, PartialEq)]
pub struct BandEdges {
    /// Edge nearer to the rim.
    pub from: Edge,
    /// Edge farther from the rim.
    pub to: Edge,
}

/// A simple edge that runs once round a part.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Edge {
    /// Mean distance from the rim along the wall, mm.
    pub along_mm: f64,
    /// How it departs from a parallel.
    pub wave: Wave,
    /// Peak departure from the mean, mm (0 for [`Wave::Level`]).
    pub amplitude_mm: f64,
    /// Whole waves round the part.
    pub count: u32,
    /// Angle of the first crest (nearest to the rim) from the front, radians.
    pub crest_rad: f64,
}

/// Shape of a simple edge.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wave {
    /// A parallel.
    Level,
    /// A sine.
    Sine,
    /// Straight teeth.
    Zigzag,
    /// Half circles stretched to fit, points towards the rim.
    Scallop,
}

/// What covers a zone.
#[derive(Debug, Clone, PartialEq)]
pub enum Finish {
    /// Sprayed or brushed colour.
    Paint {
        /// Index into [`Piece::colours`].
        colour: usize,
        /// How many coats, at least 1.
        coats: u32,
    },
    /// Loose glitter bedded in a wet coat or glue.
    Glitter {
        /// Index into [`Piece::colours`].
        colour: usize,
        /// Width of a flake across flats, mm.
        flake_mm: f64,
        /// How many times it is sprinkled, each time on a fresh bed, at least 1.
        layers: u32,
        /// How its flakes are laid down.
        pressed: Pressed,
    },
    /// Clear epoxy.
    Resin {
        /// How many coats, at least 1.
        coats: u32,
        /// Thickness each coat leaves, mm.
        film_mm: f64,
    },
    /// Cut adhesive film.
    Vinyl {
        /// Index into [`Piece::colours`].
        colour: usize,
        /// How it is cut.
        cut: crate::FilmCut,
    },
    /// Flat-back stones.
    Stones(StoneFinish),
}
