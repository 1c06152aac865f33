//! One figure: what was believed, what the records say, and how sure that is.

use piece::records::Material;

/// What a figure is about.
#[derive(Debug, Clone, PartialEq)]
pub enum Subject {
    /// A time of the settings, by its key under `[times]`, min.
    Time(&'static str),
    /// Stones of one size set in an hour, in a usual layout.
    StonesPerHour(String),
    /// How much longer than usual a stone takes, whatever its size and layout: 1.1 is 10 % longer.
    AnyStone,
    /// How much longer a stone takes in one layout than in a usual one, by the layout's word.
    Layout(&'static str),
    /// What to have beyond what stays on the pieces, as a share of it, so that nine pieces in ten have
    /// enough.
    Spare(Material),
    /// Share of what is used up that is lost.
    Loss(Material),
    /// Share of pieces that fail.
    Failure,
}

impl Subject {
    /// Its key in a settings file; `None` for what that does not hold.
    pub fn key(&self) -> Option<String> {
        Some(match self {
            Self::Time(key) => format!("times.{key}"),
            Self::StonesPerHour(size) => format!("set_per_h of {size}"),
            Self::AnyStone | Self::Layout(_) => return None,
            Self::Spare(Material::Stones) => "spare_stones".to_owned(),
            Self::Spare(material) => format!("{}.spare", material.word()),
            Self::Loss(material) => format!("{}.loss", material.word()),
            Self::Failure => "pricing.failure".to_owned(),
        })
    }
}

/// What the records say of one figure.
#[derive(Debug, Clone, PartialEq)]
pub struct Figure {
    /// What it is about.
    pub subject: Subject,
    /// That of the settings.
    pub standard: f64,
    /// Lines of the records that it was learned from.
    pub records: usize,
    /// How many more lines it needs; until then the standard is kept.
    pub missing: usize,
    /// What was learned; `None` while lines are missing.
    pub found: Option<Found>,
}

/// A figure that was learned.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Found {
    /// The figure to plan with.
    pub value: f64,
    /// Its 80 % interval.
    pub within: (f64, f64),
}

impl Figure {
    /// The figure to plan with: what was learned, with no more digits than it can carry, or the standard.
    pub fn value(&self) -> f64 {
        let digits = match self.subject {
            Subject::Time(_) | Subject::StonesPerHour(_) => 10.0,
            Subject::AnyStone | Subject::Layout(_) => 1000.0,
            Subject::Spare(_) | Subject::Loss(_) | Subject::Failure => 10_000.0,
        };
        self.found.map_or(self.standard, |found| (found.value * digits).round() / digits)
    }

    /// Whether the standard lies outside what the records allow.
    pub fn standard_is_off(&self) -> bool {
        self.found.is_some_and(|found| {
            let slack = 1e-9 * self.standard.abs();
            self.standard < found.within.0 - slack || self.standard > found.within.1 + slack
        })
    }
}
