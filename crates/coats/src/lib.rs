//! Coats: what is poured, sprayed and sprinkled on each part, in order; and the film that is cut.
//!
//! Takes a [`piece::Piece`], its [`shape::Shape`] and the studio's [`piece::Settings`] and gives
//! [`Coats`]: volumes, masses and thicknesses. It knows no calendar and no prices.
//! Areas come from the zones as they have grown by everything beneath; amounts are for one piece.
//! Read first: `coat.rs` (what is told of a coat), then `stack.rs` (how the stack is walked), for
//! film `film.rs` and `cutting/mod.rs`, for how resin cures `cure/mod.rs`, for what a coat does on the
//! turner `turner/mod.rs`, for each pour `pours/mod.rs`, for the room and its air `room/mod.rs` and
//! `air/mod.rs`.

pub mod air;
pub mod bury;
pub mod coat;
pub mod cure;
mod cutting;
pub mod film;
mod film_piece;
mod fits;
mod girth;
pub mod glitter;
mod ground;
mod lying;
mod masks;
pub mod mixing;
mod ode;
pub mod pot;
pub mod pours;
pub mod registration;
pub mod resin;
pub mod room;
mod root;
mod stack;
pub mod turner;
mod unrolling;
pub mod use_notes;
pub mod weeding;

pub use coat::{Coat, Coats, Film, Matter, Mix};
pub use cutting::{CutPlan, CutSheet, Cutting, Laid, plan_cutting};
pub use film_piece::{FilmPiece, Outlines};
pub use fits::{FitCheck, FitKind, Fits, plan_fits};
pub use lying::FilmLie;
pub use masks::{Mask, pull_tape_min};
pub use pours::{Pours, Waits};
pub use stack::plan_coats;
pub use unrolling::{Unrolled, unrolled};
