//! The ground floor: what a piece is, in the words every other room uses.
//!
//! Takes the text of a piece file (TOML a person wrote) and gives a [`Piece`]: everything present,
//! everything in millimetres, millilitres, grams, minutes and radians, every name followed.
//! Also here because all rooms share them: [`Diagnostic`], [`Money`], [`Settings`], [`Hours`],
//! [`Stock`], [`Sellers`], what tells goods apart ([`Ware`]), stone sizes,
//! a checksum ([`fnv`]), a number by [`chance`].
//! It knows no geometry and computes no figure: whether a zone lies on its part is a question for
//! the rooms above. It reads no clock and opens no file: pictures come in through [`read::Art`].
//! Read first: `piece.rs`, then `read.rs`.

pub mod art;
pub mod blanks;
pub mod carry;
pub mod chance;
pub mod changes;
mod climate_log;
mod colour;
pub mod diagnostic;
pub mod file;
pub mod file_name;
pub mod film;
pub mod fnv;
pub mod hours;
mod inches;
pub mod lengths;
pub mod lip;
mod mend;
pub mod money;
mod motif;
pub mod nearest;
pub mod options;
pub mod order;
pub mod piece;
pub mod read;
pub mod records;
mod records_file;
mod resolve;
pub mod sellers;
pub mod settings;
pub mod show;
pub mod source;
pub mod stock;
pub mod stone_size;
mod tree;
pub mod units;
mod walk;
mod ware;

pub use art::*;
pub use climate_log::{ClimateLog, ClimateReading};
pub use colour::Colour;
pub use diagnostic::{Diagnostic, FieldPath, Severity};
pub use file::{
    hours_schema, order_schema, piece_schema, sellers_schema, settings_schema, stock_schema,
};
pub use film::{FilmCut, FilmJoin, FilmTurns};
pub use hours::Hours;
pub use money::Money;
pub use motif::{BandPart, Confetto, Motif, MotifKind, NameBand, Ornament, Pitch, Strewn};
pub use piece::*;
pub use read::{
    NoArt, Reading, is_of_settings, read_hours, read_order, read_piece, read_sellers,
    read_settings, read_settings_beside, read_stock,
};
pub use records::Records;
pub use records_file::{COLUMNS as RECORD_COLUMNS, read_records};
pub use sellers::Sellers;
pub use settings::Settings;
pub use show::{show, show_json};
pub use source::{Places, Source};
pub use stock::Stock;
pub use stone_size::StoneSize;
pub use ware::{Shade, Ware};
