//! Bubbles: in the still mixing cup, on the turner, and at the surface.
//!
//! Sources: G. G. Stokes 1851 for a bubble whose surface is soiled and so as stiff as a ball's,
//! J. Hadamard and W. Rybczynski 1911 for a clean one (all from memory); the turner from these by our
//! own reckoning.

use super::{Liquid, Viscosity};
use crate::root::sign_change;
use std::f64::consts::TAU;

/// Heat passes are made within this long after the pour, min (common practice, no source).
pub const HEAT_PASSES_MIN: f64 = 10.0;

/// Steps in which the time of doubled viscosity is looked for, min.
const STEP_MIN: f64 = 1.0;

/// Surface of a bubble.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Skin {
    /// Soiled, as in most resins: it does not slip.
    Soiled,
    /// Clean: it slips along.
    Clean,
}

/// How fast a bubble rises in still resin, mm/s.
pub fn rise_mm_per_s(liquid: &Liquid, diameter_mm: f64, viscosity_pa_s: f64, skin: Skin) -> f64 {
    let radius_m = 0.5e-3 * diameter_mm;
    let part = match skin {
        Skin::Soiled => 2.0 / 9.0,
        Skin::Clean => 1.0 / 3.0,
    };
    1e3 * part * liquid.weight_n_per_m3() * radius_m * radius_m / viscosity_pa_s
}

/// How long a soiled bubble takes from the bottom of a still mixing cup to the top, min.
pub fn still_cup_min(liquid: &Liquid, diameter_mm: f64, depth_mm: f64, viscosity_pa_s: f64) -> f64 {
    depth_mm / rise_mm_per_s(liquid, diameter_mm, viscosity_pa_s, Skin::Soiled) / 60.0
}

/// How far a soiled bubble swings in and out on a turning cup, mm from end to end: the turner turns its
/// way up round every half turn.
pub fn swing_mm(liquid: &Liquid, diameter_mm: f64, viscosity_pa_s: f64, rpm: f64) -> f64 {
    let turn_per_s = TAU * rpm / 60.0;
    2.0 * rise_mm_per_s(liquid, diameter_mm, viscosity_pa_s, Skin::Soiled) / turn_per_s
}

/// The smallest bubble, mm across, that leaves a film on the turner by itself: it swings as far as the
/// film is deep. `None` if that is wider than the film, which no bubble in it is: none leaves.
pub fn least_leaving_mm(
    liquid: &Liquid,
    film_mm: f64,
    viscosity_pa_s: f64,
    rpm: f64,
) -> Option<f64> {
    let at_one = swing_mm(liquid, 1.0, viscosity_pa_s, rpm);
    let least_mm = (film_mm / at_one).sqrt();
    (least_mm <= film_mm).then_some(least_mm)
}

/// When bubbles at the surface still burst by a short pass of heat.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeatWindow {
    /// Until when passes are made by custom, min after the pour.
    pub custom_min: f64,
    /// When the viscosity has doubled, min after the pour; `None` if it has not within the time asked.
    pub doubled_min: Option<f64>,
}

impl HeatWindow {
    /// Until when to pass, min after the pour: by custom, or until the viscosity has doubled if that
    /// comes first.
    pub fn until_min(&self) -> f64 {
        self.doubled_min.map_or(self.custom_min, |doubled| doubled.min(self.custom_min))
    }
}

/// When bubbles at the surface still burst by heat, looked for until `until_min` after the pour. It is
/// no permission to use a flame: the cautions of the sheets go with it.
pub fn heat_window(viscosity: Viscosity<'_>, until_min: f64) -> HeatWindow {
    let doubled = 2.0 * viscosity(0.0);
    // An infinite viscosity is beyond any; its difference would be no number.
    let over = |min: f64| (viscosity(min) - doubled).min(f64::MAX);
    let steps = (until_min / STEP_MIN).ceil().max(0.0) as u32;
    let first = (1..=steps)
        .map(|step| (f64::from(step) * STEP_MIN).min(until_min))
        .find(|&min| over(min) >= 0.0);
    let doubled_min = first.and_then(|min| sign_change(&over, (min - STEP_MIN).max(0.0), min));
    HeatWindow { custom_min: HEAT_PASSES_MIN, doubled_min }
}
