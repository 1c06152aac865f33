//! Schedule: when to do things, by people with hours and on machines with room.
//!
//! Takes a [`Book`]: tasks with work, gaps between them, people, machines and due times; gives a
//! [`Plan`]: who does what when. It knows nothing of cups, calendars or clocks: time is counted in
//! slots from the beginning of the book, and whoever makes the book says how long a slot is.
//! `book.rs` says what can be asked, `plan.rs` what comes back and what it costs.
//! `life` answers what comes after: why, by when, how to go on, how sure.
//! Read first: `book.rs`, then `plan.rs`.

// Unit tests use the made-up studios of the tests, which know this crate by its name.
#[cfg(test)]
extern crate self as schedule;

pub mod book;
mod bound;
mod decode;
pub mod exact;
pub mod life;
pub mod open;
pub mod plan;
mod search;
mod solve;

pub use book::{Book, Job, Link, Machine, Mix, Outage, Person, Relief, Sittings, Slot, Task, Use};
pub use bound::{Bound, RestsOn, bound};
pub use exact::{Conflict, Exact, conflicts, exact};
pub use open::Open;
pub use plan::{Cost, Placed, Plan, Stretch};
pub use solve::{Effort, Progress, Unsolved, solve};

/// Someone asked for the work to stop before it was done.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stopped;
