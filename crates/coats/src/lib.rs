//! Coats: what is poured, sprayed and sprinkled on each part, in order.
//!
//! Takes a [`piece::Piece`], its [`shape::Shape`] and the studio's [`piece::Settings`] and gives
//! [`Coats`]: volumes, masses and thicknesses. It knows no calendar and no prices.
//! Areas come from the zones as they have grown by everything beneath; amounts are for one piece.
//! Read first: `coat.rs` (what is told of a coat), then `stack.rs` (how the stack is walked).

pub mod coat;
mod cutting;
pub mod film;
mod girth;
pub mod glitter;
pub mod resin;
mod stack;
mod use_notes;

pub use coat::{Coat, Coats, Film, Matter, Mix};
pub use cutting::{CutPlan, CutSheet, Laid, plan_cutting};
pub use film::FilmPiece;
pub use stack::plan_coats;
