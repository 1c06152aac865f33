//! From choices to a plan: tasks are placed one after the other, each at the earliest time that fits.
//!
//! `compiled.rs` holds what never changes, `free.rs` the hours of a person, `room.rs` the room on
//! machines; `state.rs` what is placed so far. `serial.rs` takes the tasks in order of their keys
//! from a `course.rs` on; `chains.rs` places those that must follow each other within a window,
//! `reliefs.rs` does what a missed one calls for, `spots.rs` finds where tasks can stand, `putting.rs` puts
//! them there, and `mixes.rs` knows those that share.

mod chains;
pub(crate) mod compiled;
mod course;
pub(crate) mod free;
mod mixes;
mod putting;
mod reliefs;
mod room;
mod serial;
mod sittings;
mod spots;
pub(crate) mod state;

pub(crate) use compiled::Compiled;
pub(crate) use course::{Choices, Course, Score, Turns, in_order, ways_after};
pub(crate) use serial::Decoder;
