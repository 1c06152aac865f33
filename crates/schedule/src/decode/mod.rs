//! From choices to a plan: tasks are placed one after the other, each at the earliest time that fits.
//!
//! `compiled.rs` holds what never changes, `free.rs` the hours of a person, `room.rs` the room on
//! machines; `state.rs` what is placed so far. `serial.rs` takes the tasks in order of their keys,
//! `chains.rs` places those that must follow each other within a window, `mixes.rs` those that share.

mod chains;
pub(crate) mod compiled;
pub(crate) mod free;
mod mixes;
mod room;
mod serial;
mod sittings;
pub(crate) mod state;

pub(crate) use compiled::Compiled;
pub(crate) use serial::{Choices, Course, Decoder, Score, Turns, in_order};
