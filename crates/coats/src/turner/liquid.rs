//! Resin as a liquid: what its flow depends on, and how much it can still flow.

use super::quadrature::integral;

/// Standard acceleration of gravity, m/s² (3rd CGPM, 1901; ISO 80000-3).
pub const GRAVITY_M_PER_S2: f64 = 9.80665;

/// Stretches that a time is cut into to gather fluidity.
const STRETCHES: u32 = 64;

/// Viscosity, Pa·s (1 Pa·s is 1000 cP), at a time in min after the pour; infinite once it has gelled.
pub type Viscosity<'a> = &'a dyn Fn(f64) -> f64;

/// What of a mixed resin stays the same while it flows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Liquid {
    /// Density, g/ml.
    pub density_g_per_ml: f64,
    /// Surface tension, N/m.
    pub surface_tension_n_per_m: f64,
}

impl Liquid {
    /// Weight of a volume, N/m³.
    pub(super) fn weight_n_per_m3(&self) -> f64 {
        1000.0 * self.density_g_per_ml * GRAVITY_M_PER_S2
    }
}

/// How much a resin can flow from the pour until a time: the integral of 1/μ, 1/Pa. What levels,
/// creeps or is squeezed at a rate of 1/μ does so by this much, however the viscosity rises.
pub fn fluidity_per_pa(viscosity: Viscosity<'_>, until_min: f64) -> f64 {
    let stop = |index: u32| until_min * f64::from(index) / f64::from(STRETCHES);
    let fluid = |min: f64| 60.0 / viscosity(min);
    (0..STRETCHES).map(|index| integral(&fluid, stop(index), stop(index + 1))).sum()
}
