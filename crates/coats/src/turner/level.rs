//! A turner out of level, and one that stands still.
//!
//! Source: flow of a thin film down a slope, `q = ρ g h³ sin δ / 3μ` (Nusselt 1916; in any textbook
//! of fluid mechanics; from memory). By turning, gravity across the wall averages out; along the axis
//! it does not.

use super::Liquid;

/// Error of a film at its top and bottom up to which a turner may stand, as a share of the film.
const STANDING_ERROR: f64 = 0.1;

/// How far a film creeps along the axis, mm, on a turner whose axis is `tilt_rad` out of level, while
/// the resin has this fluidity. Waves on the film run three times as far.
pub fn drift_mm(liquid: &Liquid, film_mm: f64, tilt_rad: f64, fluidity_per_pa: f64) -> f64 {
    let film_m = film_mm * 1e-3;
    let pull = liquid.weight_n_per_m3() * libm::sin(tilt_rad);
    1e3 * pull * film_m * film_m * fluidity_per_pa / 3.0
}

/// The same as a speed, mm/h, at one viscosity.
pub fn drift_mm_per_h(liquid: &Liquid, film_mm: f64, tilt_rad: f64, viscosity_pa_s: f64) -> f64 {
    drift_mm(liquid, film_mm, tilt_rad, 3600.0 / viscosity_pa_s)
}

/// How far the axis may be out of level, radians, for a drift of at most `drift_mm` while the resin has
/// this fluidity; `None` if it would creep less than that even down an upright wall.
pub fn most_tilt_rad(
    liquid: &Liquid,
    film_mm: f64,
    drift_mm: f64,
    fluidity_per_pa: f64,
) -> Option<f64> {
    let upright = self::drift_mm(liquid, film_mm, std::f64::consts::FRAC_PI_2, fluidity_per_pa);
    (drift_mm < upright).then(|| libm::asin(drift_mm / upright))
}

/// How long a turner may stand, s, until the film on top and below is wrong by a tenth: what it loses
/// or gains at the speed of the first moment. It is 26/30 of that until the film below, and 35/30 until
/// the film on top, is really so far off.
pub fn standing_s(liquid: &Liquid, film_mm: f64, radius_mm: f64, viscosity_pa_s: f64) -> f64 {
    let (film_m, radius_m) = (film_mm * 1e-3, radius_mm * 1e-3);
    3.0 * STANDING_ERROR * viscosity_pa_s * radius_m / (liquid.weight_n_per_m3() * film_m * film_m)
}

/// Side of a cup whose axis is level.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// The highest line.
    Top,
    /// The lowest line.
    Bottom,
}

/// Film at the top or bottom of a cup that stands still, mm, once the resin has had this fluidity;
/// `None` once the film at the bottom has gathered without bound: it hangs and drips.
///
/// There `dh/dt = ∓ρ g h³ / 3 μ R`, which has a closed solution whatever the viscosity does.
pub fn stopped_film_mm(
    liquid: &Liquid,
    film_mm: f64,
    radius_mm: f64,
    side: Side,
    fluidity_per_pa: f64,
) -> Option<f64> {
    let (film_m, radius_m) = (film_mm * 1e-3, radius_mm * 1e-3);
    let gone = 2.0 / 3.0 * liquid.weight_n_per_m3() * film_m * film_m * fluidity_per_pa / radius_m;
    let under = match side {
        Side::Top => 1.0 + gone,
        Side::Bottom => 1.0 - gone,
    };
    (under > 0.0).then(|| film_mm / under.sqrt())
}
