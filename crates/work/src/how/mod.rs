//! How each step is done, in sentences that carry the figures.
//!
//! The practice told here is the common practice of the trade (makers' pages, shops' policies, data
//! sheets); the figures are those of this piece and this studio.

mod bench;
mod desk;
mod lying;
mod pattern;
mod spot;
mod turning;
mod wet;

use coats::Coats;
use piece::{Form, PartRole, Piece, Settings};
use stones::{SettingPlan, Stones};

/// Everything that the sentences draw on.
#[derive(Clone, Copy)]
pub struct How<'a> {
    /// The piece.
    pub piece: &'a Piece,
    /// The studio.
    pub settings: &'a Settings,
    /// Its coats and films.
    pub coats: &'a Coats,
    /// Its stones.
    pub stones: &'a Stones,
    /// When each patch of them is set.
    pub setting: &'a SettingPlan,
}

impl How<'_> {
    fn colour(&self, colour: usize) -> &str {
        &self.piece.colours[colour].name
    }

    /// What a part is: `the cup`, `the lid`, `the plate`.
    fn thing(&self, part: usize) -> &'static str {
        match (self.piece.parts[part].role, &self.piece.parts[part].form) {
            (_, Form::Flat(_)) => "the plate",
            (PartRole::Body, _) => "the cup",
            (PartRole::Lid, _) => "the lid",
            (PartRole::Topper, _) => "the topper",
        }
    }

    fn is_flat(&self, part: usize) -> bool {
        matches!(self.piece.parts[part].form, Form::Flat(_))
    }

    /// Where drips gather on a part.
    fn ends(&self, part: usize) -> &'static str {
        match (self.piece.parts[part].role, &self.piece.parts[part].form) {
            (_, Form::Flat(_)) => "along the edge",
            (PartRole::Body, _) => "at rim and foot",
            (PartRole::Lid, _) => "at opening and skirt",
            (PartRole::Topper, _) => "at both ends",
        }
    }

    /// ` on each of the 3 pieces`, or nothing for one.
    fn each(&self) -> String {
        match self.piece.quantity {
            0 | 1 => String::new(),
            many => format!(" on each of the {many} pieces"),
        }
    }
}
