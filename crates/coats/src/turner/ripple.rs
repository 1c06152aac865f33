//! Ripples on a coat, and what is left of them when it gels.
//!
//! Source: S. E. Orchard, On surface levelling in viscous liquids and gels, Applied Scientific
//! Research A 11 (1962) 451 (from memory); equal to a solution of the Stokes equations in
//! `tests/reference/turner.py`. Gravity is left out, since turning changes its sign every half turn.

use super::Liquid;
use crate::root::sign_change;
use std::f64::consts::TAU;

/// Share of a ripple that may be left, for it to count as gone (our choice).
pub const GONE: f64 = 0.1;

/// Shortest and longest wave that is looked for, mm.
const WAVES_MM: (f64, f64) = (0.01, 10_000.0);

/// What of a film's stiffness acts at `kh`: `(sinh x cosh x − x) / (cosh² x + x²)`; 0 where the film is
/// thin against the wave, 1 where it is deep.
pub(super) fn depth_factor(x: f64) -> f64 {
    if x > 20.0 {
        return 1.0;
    }
    let squared = x * x;
    let above = if x < 0.1 {
        // The first terms of its series, where the difference would lose its digits.
        squared * x * (2.0 / 3.0 + squared * (2.0 / 15.0 + squared * (4.0 / 315.0)))
    } else {
        libm::sinh(x) * libm::cosh(x) - x
    };
    let cosh = libm::cosh(x);
    above / (cosh * cosh + squared)
}

/// How fast a ripple dies away, 1/s: its height goes as `exp(−rate · t)`.
pub fn rate_per_s(liquid: &Liquid, film_mm: f64, wave_mm: f64, viscosity_pa_s: f64) -> f64 {
    let wave_number = TAU / (wave_mm * 1e-3);
    let stiff = liquid.surface_tension_n_per_m * wave_number;
    stiff / (2.0 * viscosity_pa_s) * depth_factor(wave_number * film_mm * 1e-3)
}

/// Share of a ripple's height that is left once the resin has had this fluidity.
pub fn left(liquid: &Liquid, film_mm: f64, wave_mm: f64, fluidity_per_pa: f64) -> f64 {
    left_at(rate_per_s(liquid, film_mm, wave_mm, 1.0), fluidity_per_pa)
}

/// The longest wave, mm, of which no more than `share` (between 0 and 1) is left once the resin has had
/// this fluidity; `None` if even waves of 0.01 mm stay, or even waves of 10 m go.
pub fn longest_gone_mm(
    liquid: &Liquid,
    film_mm: f64,
    share: f64,
    fluidity_per_pa: f64,
) -> Option<f64> {
    longest_mm(&|wave_mm| left(liquid, film_mm, wave_mm, fluidity_per_pa), share)
}

/// What is left of a ripple that dies away at this rate where the viscosity is 1 Pa·s.
pub(super) fn left_at(rate_at_one_per_s: f64, fluidity_per_pa: f64) -> f64 {
    libm::exp(-rate_at_one_per_s * fluidity_per_pa)
}

/// The longest wave, mm, of which `left` is no more than `share`.
pub(super) fn longest_mm(left: &dyn Fn(f64) -> f64, share: f64) -> Option<f64> {
    sign_change(&|wave_mm| left(wave_mm) - share, WAVES_MM.0, WAVES_MM.1)
}
