//! A flat part (a topper, the top of a lid) that lies level: gravity levels it, and its edge holds it.

use super::Liquid;
use super::ripple::{depth_factor, left_at, longest_mm};
use std::f64::consts::{PI, TAU};

/// How fast a ripple dies away on a part that lies level, 1/s: as in [`super::ripple::rate_per_s`], and
/// gravity helps (Orchard 1962, from memory, with the weight of the crests beside the surface tension).
pub fn rate_per_s(liquid: &Liquid, film_mm: f64, wave_mm: f64, viscosity_pa_s: f64) -> f64 {
    let wave_number = TAU / (wave_mm * 1e-3);
    let stiff =
        liquid.surface_tension_n_per_m * wave_number + liquid.weight_n_per_m3() / wave_number;
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

/// The thickest dome that the edge of a level part holds, mm: `2 √(σ / ρ g) sin(θ / 2)`, the height of a
/// wide puddle (de Gennes, Brochard-Wyart & Quéré, Capillarity and Wetting Phenomena, chapter 2, from
/// memory). `contact_rad` is the angle at the edge, inside the resin, at which it begins to run over,
/// from 0 to half a turn: the angle to the face where it ends on the face, more at a sharp edge. A part
/// that is small against the dome's height holds less or more; try one first.
pub fn most_dome_mm(liquid: &Liquid, contact_rad: f64) -> f64 {
    let length_m = (liquid.surface_tension_n_per_m / liquid.weight_n_per_m3()).sqrt();
    2e3 * length_m * libm::sin(0.5 * contact_rad.clamp(0.0, PI))
}
