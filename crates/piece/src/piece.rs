//! The resolved piece: what a maker described, complete and in our units.

use crate::{Colour, Motif, PlacedArt, StoneSize};
use std::sync::Arc;

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

/// How stones cover a zone.
#[derive(Debug, Clone, PartialEq)]
pub struct StoneFinish {
    /// Layouts in order of work, at least one: each fills what those before it leave free.
    pub layers: Vec<StoneLayer>,
    /// All sizes of all layers, largest first.
    pub sizes: Vec<StoneSize>,
    /// What the stones are made of.
    pub material: StoneMaterial,
    /// Which sizes may lie where.
    pub rules: StoneRules,
}

impl StoneFinish {
    /// Every colour (index into [`Piece::colours`]) of any layer once, in the order of the file.
    pub fn colours(&self) -> Vec<usize> {
        let mut colours = Vec::new();
        for (colour, _) in self.layers.iter().flat_map(|layer| &layer.colours) {
            if !colours.contains(colour) {
                colours.push(*colour);
            }
        }
        colours
    }

    /// The least clear distance that any of its layers keeps, mm.
    pub fn least_gap_mm(&self) -> f64 {
        self.layers.iter().map(|layer| layer.gap_mm).fold(f64::INFINITY, f64::min)
    }
}

/// One layout of a zone.
#[derive(Debug, Clone, PartialEq)]
pub struct StoneLayer {
    /// How its stones are laid.
    pub layout: Layout,
    /// Sizes (index into [`StoneFinish::sizes`]), largest first, with their share; shares sum to 1.
    pub sizes: Vec<(usize, f64)>,
    /// What the shares of the sizes mean.
    pub blend: Blend,
    /// Sizes change from the first to the last along this way instead of being mixed all over.
    pub grade: Option<Way>,
    /// Colours (index into [`Piece::colours`]) with their share by count; shares sum to 1.
    pub colours: Vec<(usize, f64)>,
    /// How colours are given to stones.
    pub colouring: Colouring,
    /// Least clear distance between two stones, in space, mm.
    pub gap_mm: f64,
}

/// How stones fill a zone.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Layout {
    /// Rows of one size.
    Rows {
        /// Which way rows run.
        follow: Follow,
        /// How a row lies against the one before.
        stagger: Stagger,
        /// What happens where the part narrows.
        taper: Taper,
    },
    /// Mixed sizes packed with no order.
    Scatter {
        /// How many times its stones are pressed closer; `None`: by how many there are.
        rounds: Option<u32>,
    },
    /// Rows of one size along every edge of the zone, with a stone in each sharp corner.
    Outline {
        /// How many rows.
        rows: u32,
    },
    /// Rows that follow the zone's edge inward, ring by ring, to its middle.
    Rings,
    /// Single stones far apart.
    Sparse {
        /// Least distance between two centres, mm.
        apart_mm: f64,
        /// How many there are for each mm²; `None`: as many as the distance allows.
        per_mm2: Option<f64>,
    },
    /// Small stones in the pockets that are left.
    Pockets,
}

impl Layout {
    /// Its word in piece files and tables.
    pub fn word(&self) -> &'static str {
        match self {
            Self::Rows { .. } => "rows",
            Self::Scatter { .. } => "scatter",
            Self::Outline { .. } => "outline",
            Self::Rings => "rings",
            Self::Sparse { .. } => "sparse",
            Self::Pockets => "pockets",
        }
    }
}

/// Which line rows run along.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Follow {
    /// Parallels of the part (level rings).
    Level,
    /// The zone's edge nearer the rim, then inward.
    Edge,
    /// One row that rises round the part like a thread.
    Spiral,
}

/// How a row lies against the one before.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stagger {
    /// Shifted by half a stone (a honeycomb).
    Offset,
    /// Stone under stone.
    Aligned,
}

/// What rows do where the part narrows and a round takes fewer stones.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Taper {
    /// Every row has as many as it takes; the drops lie wherever they show least.
    Spread,
    /// Rows keep their columns but for a narrow wedge at the back, filled with small stones.
    Wedge,
    /// So many rows of equal count, then fewer.
    Groups {
        /// Rows in a group; `None`: as many as fill best.
        rows: Option<u32>,
    },
}

/// What shares of sizes mean.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Blend {
    /// Shares of the number of stones.
    Count,
    /// Shares of the area that stones cover.
    Area,
    /// Weights: whatever covers most, a size of more weight being liked better.
    Free,
}

/// How colours are given to stones.
#[derive(Debug, Clone, PartialEq)]
pub enum Colouring {
    /// Evenly mingled by their shares.
    Mingled,
    /// From one colour to the next along a way; the shares of the colours do not count.
    Gradient {
        /// Along which way.
        way: Way,
        /// Where on it (0 to 1) each colour is pure, index into [`Piece::colours`]; rising.
        stops: Vec<(f64, usize)>,
    },
    /// As in a picture, out of the colours of the layer; their shares do not count.
    Picture(Arc<StonePicture>),
}

/// A way across a zone, from 0 at its beginning to 1 at its end; before and beyond it is the same.
#[derive(Debug, Clone, PartialEq)]
pub enum Way {
    /// Down the bare wall between two distances from the rim, mm (down a flat part, from its centre).
    Wall {
        /// Where it is 0 and where it is 1.
        along_mm: (f64, f64),
    },
    /// Round the part between two angles from the front, rad (across a flat part to the right, mm).
    Around {
        /// Where it is 0 and where it is 1.
        around: (f64, f64),
    },
    /// Along a line: a place counts by the nearest point of it.
    Line {
        /// Corners as (around, along): rad and mm on a revolved part, mm on a flat one.
        corners: Vec<(f64, f64)>,
    },
}

/// A picture to be set in stones.
#[derive(Debug, Clone, PartialEq)]
pub struct StonePicture {
    /// Pixels across and down.
    pub size: (usize, usize),
    /// Colours of the pixels, sRGB, row by row from the top left.
    pub srgb: Vec<[u8; 3]>,
    /// Width on the part, mm.
    pub width_mm: f64,
    /// Its middle, from the rim down the bare wall, mm.
    pub along_mm: f64,
    /// Its middle from the front, rad; on a flat part mm to the right.
    pub around: f64,
}

/// Which sizes may lie where.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct StoneRules {
    /// Near the ends of the part (twisted rims, the edge of a lid) stones wear off: within so many mm
    /// none of a smaller diameter, mm.
    pub wear: Option<(f64, f64)>,
    /// Thickest bond line that the glue fills, mm: no stone whose flat back stands higher above the
    /// curved wall under its edge.
    pub bond_line_mm: Option<f64>,
    /// Plan no more of a size and colour than there is in the drawer.
    pub from_drawer: bool,
    /// A stone may reach over the border to a neighbouring zone of the same stones that lets it, too:
    /// such zones are filled as one, and each stone belongs to the zone under its middle.
    pub straddle: bool,
}

/// What stones are made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum StoneMaterial {
    /// Glass; whether it is free of lead only a test of the lot can tell.
    Glass,
    /// Leaded crystal.
    LeadCrystal,
    /// Moulded resin.
    Resin,
}

impl StoneMaterial {
    /// Its name for people, on every sheet and in every message.
    pub fn name(self) -> &'static str {
        match self {
            Self::Glass => "glass",
            Self::LeadCrystal => "lead crystal",
            Self::Resin => "resin",
        }
    }

    /// Its word in files.
    pub fn key(self) -> &'static str {
        match self {
            Self::Glass => "glass",
            Self::LeadCrystal => "lead-crystal",
            Self::Resin => "resin",
        }
    }
}
