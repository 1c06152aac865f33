//! Sheets: everything that leaves the program.
//!
//! Takes a finished [`Plan`] and writes files: tables, true-size wraps, cut files, the workbook,
//! the calendar, the 3D piece and its picture. It computes no figure of its own.
//! Read first: `folder.rs` (which file comes from where), then the file named after the sheet;
//! `rota.rs` for the timetable of many pieces.

mod calendar;
mod coat_plots;
mod comparison;
mod customer_words;
mod cut;
mod drawing;
mod filled;
mod folder;
mod glb;
mod grid;
mod letters_missing;
mod numbers;
mod order_papers;
mod pattern;
mod pictures;
mod pixels;
mod plotting;
mod price_sheet;
mod profile;
mod purchase;
mod quote;
mod rota;
mod stone_words;
mod summary;
mod tables;
mod typeset;
mod unrolled;
mod views;
mod words;
mod workbook;

pub use coat_plots::write_coat_plots;
pub use coat_plots::{Plotted, allowed_along_wall, allowed_over_time};
pub use comparison::{Comparison, Way, write_comparison};
pub use folder::{prepare, write_sheets};
pub use glb::glb;
pub use grid::GridSheet;
pub use letters_missing::letters_missing;
pub use order_papers::{Papers, write_papers};
pub use pattern::{Pattern, write_pattern};
pub use price_sheet::{Priced, write_after, write_price};
pub use profile::ProfileSheet;
pub use purchase::{PurchaseSheet, write_purchase};
pub use quote::{Offer, Quote, letter, offer_picture, write_quote};
pub use rota::write_rota;
pub use summary::summary_json;
pub use tables::stones_csv;
pub use workbook::room_words;

use coats::Coats;
use money::{Bill, Price};
use piece::{Diagnostic, Piece, Settings};
use shape::Shape;
use stones::Stones;
use work::{Steps, Timetable};

/// Everything worked out about a piece.
#[derive(Debug, Clone)]
pub struct Plan {
    /// The piece.
    pub piece: Piece,
    /// The studio it is made in.
    pub settings: Settings,
    /// Its surfaces and zones.
    pub shape: Shape,
    /// Its stones.
    pub stones: Stones,
    /// Its coats and films.
    pub coats: Coats,
    /// Its steps.
    pub steps: Steps,
    /// When to do them, if a day is known to count from.
    pub timetable: Option<Timetable>,
    /// What to buy.
    pub bill: Bill,
    /// What to ask.
    pub price: Price,
    /// Every warning and caution from the whole road.
    pub notes: Vec<Diagnostic>,
}

/// What could not be written.
#[derive(Debug, thiserror::Error)]
pub enum SheetError {
    /// A file could not be written.
    #[error("could not write {file}: {source}")]
    Write {
        /// Its name.
        file: String,
        /// Why.
        source: std::io::Error,
    },
    /// The typesetter refused a page design.
    #[error("could not set {file}: {reason}")]
    Typeset {
        /// Its name.
        file: String,
        /// Why.
        reason: String,
    },
    /// Stopped by the caller.
    #[error("stopped")]
    Stopped,
}
