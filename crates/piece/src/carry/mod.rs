//! The same design on another blank: a piece file whose parts have the measurements of others.
//!
//! Every zone says by its own places and sizes where it lies (from the rim, from the foot, as a share),
//! so nothing but the parts is changed: [`pairs`] finds which part becomes which, [`text`] writes the
//! new measurements into the file of the old ones, and [`advice`] tells how a place that counts from
//! the rim is written to count otherwise.

mod advice;
mod edit;
mod pairs;

pub use advice::advice;
pub use edit::{Onto, text};
pub use pairs::{body, pairs};
