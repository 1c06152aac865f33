//! Looks for better choices: `start.rs` makes the first ones, `moves.rs` changes them a little,
//! `anneal.rs` keeps what is better and, less and less often, what is worse. `stand.rs` makes choices of
//! a plan that is known, and `mend.rs` betters them.

mod anneal;
mod chance;
mod first_turn;
mod mend;
mod moves;
mod stand;
mod start;
mod ties;

pub(crate) use anneal::{Annealer, Weights};
pub(crate) use mend::{Found, Mender};
pub(crate) use stand::standing;
