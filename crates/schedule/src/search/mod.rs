//! Looks for better choices: `start.rs` makes the first ones, `moves.rs` changes them a little,
//! `trail.rs` places a change from where it first matters, `anneal.rs` keeps what is better and, less and
//! less often, what is worse. `stand.rs` makes choices of a plan that is known, and `mend.rs` betters
//! them by changes of its own, which are in `homing.rs`.

mod anneal;
mod chance;
mod first_turn;
mod homing;
mod mend;
mod moves;
mod stand;
mod start;
mod ties;
mod trail;

pub(crate) use anneal::{Annealer, Weights};
pub(crate) use mend::{Found, Mender};
pub(crate) use stand::standing;
