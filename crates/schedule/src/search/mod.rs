//! Looks for better choices: `start.rs` makes the first ones, `moves.rs` changes them a little,
//! `anneal.rs` keeps what is better and, less and less often, what is worse.

mod anneal;
mod chance;
mod moves;
mod start;

pub(crate) use anneal::{Annealer, Weights};
