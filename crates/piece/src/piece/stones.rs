//! How stones cover a zone: layouts, sizes, colours and rules.

use crate::StoneSize;
use std::sync::Arc;

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

    /// Diameter and gap, mm, of the stones that are laid along the middle of strokes, if they are.
    pub fn line_mm(&self) -> Option<(f64, f64)> {
        let layer = self.layers.iter().find(|layer| layer.layout == Layout::Line)?;
        let (size, _) = layer.sizes.first()?;
        Some((self.sizes[*size].diameter_mm, layer.gap_mm))
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
    /// One row along the middle of every stroke of lettering or of a drawing; the zone is as wide as the
    /// stones.
    Line,
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
            Self::Line => "line",
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
