//! Follows a thin film through the temperatures of its room.
//!
//! A film of a coat is so thin that its own heat leaves it: it cures at the temperature of the cup.

use super::Model;
use super::choices::ZERO_C_K;
use crate::ode::{Pair, Span, Track, follow};
use piece::{Diagnostic, FieldPath};

/// The room is looked at this often at least, s.
const STEP_S: f64 = 3600.0;

/// A film over time.
#[derive(Debug, Clone)]
pub struct Course {
    /// Conversion; reduced time, s; fluidity integral, 1/Pa.
    pub(super) track: Track<3>,
    pub(super) model: Model,
}

/// A film at one time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct State {
    /// Conversion, 0 to 1.
    pub conversion: f64,
    /// Glass transition, °C.
    pub tg_c: f64,
    /// Viscosity, Pa s; `None` from gel on.
    pub viscosity_pa_s: Option<f64>,
    /// ∫dt/μ since the pour, 1/Pa: how far it could level, sag and drift.
    pub fluidity_per_pa: f64,
    /// Time that the same cure takes at the temperature of the sheet, min.
    pub reduced_min: f64,
}

/// Follows a film for `for_min` through a room whose temperature, °C, is told for each min after the
/// pour.
///
/// # Errors
/// If the room is colder than -40 °C or hotter than 100 °C at some time, where none of this holds.
pub fn course(
    model: &Model,
    room_c: &dyn Fn(f64) -> f64,
    for_min: f64,
) -> Result<Course, Diagnostic> {
    let hours = (for_min / 60.0).ceil().clamp(0.0, 1e5) as u32;
    for hour in 0..=hours {
        possible(room_c(60.0 * f64::from(hour)))?;
    }
    let slope = |t_s: f64, y: &[f64; 3]| {
        let t_k = room_c(t_s / 60.0) + ZERO_C_K;
        [
            model.rate_per_s(y[0], t_k),
            model.kinetics.pace(t_k),
            model.flow.fluidity_per_pa_s(y[0], t_k),
        ]
    };
    let span = Span { to_s: 60.0 * for_min, step_s: STEP_S, pair: Pair::Explicit };
    let track = follow(slope, [0.0; 3], [1e-9, 1e-3, 1e-4], span, |_| false)?;
    Ok(Course { track, model: *model })
}

/// Whether resin can be followed at this temperature of a room, °C.
pub(crate) fn possible(room_c: f64) -> Result<(), Diagnostic> {
    if (-40.0..=100.0).contains(&room_c) {
        return Ok(());
    }
    Err(Diagnostic::error(
        FieldPath::root().key("resin"),
        format!("resin cannot be followed through a room at {room_c} °C"),
    )
    .hint("Compare the temperatures of the room in the settings"))
}

impl Course {
    /// The film this long after the pour, min, within the course.
    pub fn at(&self, min: f64, room_c: &dyn Fn(f64) -> f64) -> State {
        let [conversion, reduced_s, fluidity_per_pa] = self.track.at(60.0 * min);
        State {
            conversion,
            tg_c: self.model.glass.tg_k(conversion) - ZERO_C_K,
            viscosity_pa_s: self.model.flow.viscosity_pa_s(conversion, room_c(min) + ZERO_C_K),
            fluidity_per_pa,
            reduced_min: reduced_s / 60.0,
        }
    }

    /// When a conversion is reached, min after the pour.
    pub fn conversion_min(&self, conversion: f64) -> Option<f64> {
        self.track.first(|_, y| y[0] - conversion).map(|s| s / 60.0)
    }

    /// When as much cure is done as `sheet_min` do at the temperature of the sheet, min.
    pub fn scaled_min(&self, sheet_min: f64) -> Option<f64> {
        self.track.first(|_, y| y[1] - 60.0 * sheet_min).map(|s| s / 60.0)
    }
}
