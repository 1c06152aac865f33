//! Cure: when a coat no longer sticks, takes the next, can be sanded, and is as hard as it gets.
//!
//! Takes a [`piece::settings::ResinProduct`] and the temperature of the room over time, and gives
//! durations. [`calibrate()`] fits the model to the sheet once; [`plan`] then answers for any room.
//! Read first: `record.rs` (what is taken from the sheet), `kinetics.rs` (the model), `calibrate.rs`.

mod calibrate;
pub mod choices;
mod course;
mod fit;
pub mod kinetics;
mod landmarks;
mod plan;
mod record;
pub mod viscosity;
mod warmth;

pub use calibrate::{Calibration, calibrate};
pub(crate) use course::possible;
pub use course::{Course, State, course};
pub use fit::{Fit, FitLine};
pub use landmarks::{Marks, marks};
pub use plan::{Duration, Plan, SheetTimes, Way, plan, sheet_times};
pub use record::Sheet;
pub use warmth::warm_enough;

use kinetics::{Glass, Kinetics};
use viscosity::Flow;

/// A resin that can be followed: rate, glass and flow.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Model {
    /// How fast it cures.
    pub kinetics: Kinetics,
    /// How far its glass transition rises.
    pub glass: Glass,
    /// How thick it is.
    pub flow: Flow,
}

impl Model {
    /// Rate of cure, 1/s, at a conversion and a temperature in K.
    pub fn rate_per_s(&self, alpha: f64, t_k: f64) -> f64 {
        self.kinetics.rate_per_s(alpha, t_k) / (1.0 + self.glass.hindrance(alpha, t_k))
    }
}
