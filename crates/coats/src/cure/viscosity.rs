//! How thick resin is while it cures.
//!
//! μ = μ₀(T) · (α_g/(α_g − α))^(A + Bα), the form of Castro and Macosko (AIChE J. 28, 250, 1982, from
//! memory), with μ₀ by Arrhenius.

use super::choices::{FLOW_J_PER_MOL, GEL, THICKENING};
use super::kinetics::arrhenius;

/// Viscosity just mixed, and where it holds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Flow {
    /// Viscosity just mixed, Pa s.
    pub mixed_pa_s: f64,
    /// Temperature that it holds at, K.
    pub at_k: f64,
}

impl Flow {
    /// 1/μ at a conversion and a temperature, 1/(Pa s); 0 from gel on.
    pub fn fluidity_per_pa_s(&self, alpha: f64, t_k: f64) -> f64 {
        if alpha >= GEL {
            return 0.0;
        }
        let alpha = alpha.max(0.0);
        let exponent = THICKENING.0 + THICKENING.1 * alpha;
        let left = (GEL - alpha) / GEL;
        // Resin thins by the same law by which the reaction speeds up.
        arrhenius(FLOW_J_PER_MOL, t_k, self.at_k) * libm::pow(left, exponent) / self.mixed_pa_s
    }

    /// μ at a conversion and a temperature, Pa s; `None` from gel on.
    pub fn viscosity_pa_s(&self, alpha: f64, t_k: f64) -> Option<f64> {
        let fluidity = self.fluidity_per_pa_s(alpha, t_k);
        (fluidity > 0.0).then(|| 1.0 / fluidity)
    }
}
