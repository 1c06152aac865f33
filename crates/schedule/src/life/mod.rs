//! What becomes of a plan once it is in force: why a task stands where it stands, what a new job can be
//! promised, how to go on when days are lost, and how sure the days are.
//!
//! `why.rs`, `promise.rs`, `replan.rs` and `risk.rs` hold one question each. `blockers.rs` says what
//! keeps one task from one place, `forced.rs` what cannot stay, `changes.rs` what can happen to a book, `replay.rs` lives through a
//! plan once, `spread.rs` says how durations vary, `reckon.rs` what a plan costs.

mod blockers;
mod changes;
mod clock;
mod forced;
mod near;
mod promise;
mod reckon;
mod replan;
mod replay;
mod risk;
mod sit;
mod spread;
mod why;

pub use blockers::Reason;
pub use changes::{Mending, done, fail, lose_days, spindle_out};
pub use promise::{Asked, Early, Later, Promise, Promised, promise};
pub use replan::{Moved, Replanned, Terms, replan};
pub use risk::{JobRisk, Sampling, risk};
pub use spread::Spread;
pub use why::{Could, Why, why};
