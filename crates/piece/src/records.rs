//! What a studio wrote down of its work: minutes of steps, materials used, pieces that failed.

use crate::hours::Craft;
use jiff::civil::Date;

/// The lines of a records file, in its order.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Records {
    /// One for each line.
    pub lines: Vec<Record>,
}

impl Records {
    /// Those of one piece, by the title of its file.
    pub fn of<'a>(&'a self, title: &'a str) -> impl Iterator<Item = &'a Record> {
        self.lines.iter().filter(move |line| line.piece == title)
    }

    /// Lines about steps.
    pub fn steps(&self) -> impl Iterator<Item = &StepRecord> {
        self.lines.iter().filter_map(|line| match &line.logged {
            Logged::Step(step) => Some(step),
            Logged::Material(_) => None,
        })
    }

    /// Lines about a material.
    pub fn of_material(&self, material: Material) -> impl Iterator<Item = &MaterialRecord> {
        self.lines.iter().filter_map(move |line| match &line.logged {
            Logged::Material(found) if found.material == material => Some(found),
            _ => None,
        })
    }
}

/// One line.
#[derive(Debug, Clone, PartialEq)]
pub struct Record {
    /// Its line in the file, from 1.
    pub line: u64,
    /// The day.
    pub day: Date,
    /// Title of the piece.
    pub piece: String,
    /// The part, where one is named.
    pub part: Option<String>,
    /// The zone, where one is named.
    pub zone: Option<String>,
    /// What was written down.
    pub logged: Logged,
}

/// What a line is about.
#[derive(Debug, Clone, PartialEq)]
pub enum Logged {
    /// Time spent.
    Step(StepRecord),
    /// Something used up.
    Material(MaterialRecord),
}

/// Time spent on a step.
#[derive(Debug, Clone, PartialEq)]
pub struct StepRecord {
    /// What kind of step.
    pub craft: Craft,
    /// Stones set, by the name of their size; empty but for setting.
    pub stones: Vec<(String, u32)>,
    /// Word of the layout, of setting, where it is named.
    pub layout: Option<&'static str>,
    /// Pieces made at once.
    pub pieces: u32,
    /// How many: parts, coats, zones, shapes of film, stones; on all pieces together.
    pub count: u32,
    /// How many times it was set up: sittings, watches at the turner, zones of film, orders.
    pub set_ups: u32,
    /// Hands-on time, min.
    pub minutes: f64,
    /// Whether the pieces were spoilt by it and have to be made again.
    pub failed: bool,
}

/// A material used up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MaterialRecord {
    /// Which.
    pub material: Material,
    /// What stays on the pieces by the plan: stones, ml or g.
    pub planned: f64,
    /// What was used up in all, in the same unit.
    pub used: f64,
}

/// Materials whose loss is written down.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Material {
    /// Stones, counted.
    Stones,
    /// Resin, ml.
    Resin,
    /// Glitter, g.
    Glitter,
    /// Glue, ml.
    Glue,
}

impl Material {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Stones, Self::Resin, Self::Glitter, Self::Glue];

    /// Its word in a records file.
    pub fn word(self) -> &'static str {
        match self {
            Self::Stones => "stones",
            Self::Resin => "resin",
            Self::Glitter => "glitter",
            Self::Glue => "glue",
        }
    }

    /// The unit of its amounts.
    pub fn unit(self) -> &'static str {
        match self {
            Self::Stones => "stones",
            Self::Resin | Self::Glue => "ml",
            Self::Glitter => "g",
        }
    }
}
