//! Work: the steps of a piece in order, and when to do them.
//!
//! Takes a piece, its coats and stones and the studio's settings; gives [`Steps`] and a
//! [`Timetable`]. It reads no clock: the day to begin or to be done by is an argument.
//! `steps.rs` links the steps of all parts by what must wait for what, `stack.rs` walks one part; `how/`
//! says how each step is done, `cautions.rs` what to beware of; `timetable.rs` lays the steps into the
//! maker's hours, which `hours.rs` knows; `beginning.rs` finds the day to begin; `windows.rs` adds the
//! sanding where those hours miss a recoat window. `together/` turns many pieces, makers and spindles into
//! one book for the crate `schedule`, and its plan into a [`rota::Rota`].
//! Read first: `steps.rs`, then `windows.rs` and `timetable.rs`; for many pieces `together/mod.rs`.

mod beginning;
mod cautions;
mod first_steps;
pub mod glue;
mod hours;
mod how;
mod place;
pub mod rota;
mod serial;
mod stack;
pub mod step;
mod steps;
mod timetable;
pub mod together;
mod windows;
pub mod words;

pub use step::{Step, StepKind, Steps};
pub use steps::plan_steps;
pub use timetable::{Sitting, Timetable};
pub use together::craft;
pub use windows::plan_work;

/// Someone asked for the work to stop before it was done.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stopped;
