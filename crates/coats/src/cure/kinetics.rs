//! How fast resin cures, and how far cure lifts its glass transition.
//!
//! The rate is that of an autocatalysed reaction of the third order over all (Horie et al., J. Polym.
//! Sci. A-1 8, 1357, 1970; Kamal, Polym. Eng. Sci. 14, 231, 1974; both from memory):
//! dα/dt = (k₁ + k₂ α)(1 − α)², each k by Arrhenius.

use super::choices::{GAS, STOP_K, STOP_WIDTH_K, TG_START_K};

/// Rate constants at one temperature, and how they change with it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Kinetics {
    /// Rate without catalysis, 1/s.
    pub k1_per_s: f64,
    /// Rate of the reaction that its own product speeds, 1/s.
    pub k2_per_s: f64,
    /// Activation energy of the first, J/mol.
    pub e1_j_per_mol: f64,
    /// Activation energy of the second, J/mol.
    pub e2_j_per_mol: f64,
    /// Temperature that the constants hold at, K.
    pub at_k: f64,
}

/// exp(−(E/R)(1/T − 1/T₀)): how many times faster at `t_k` than at `at_k`.
pub fn arrhenius(e_j_per_mol: f64, t_k: f64, at_k: f64) -> f64 {
    libm::exp(-(e_j_per_mol / GAS) * (1.0 / t_k - 1.0 / at_k))
}

impl Kinetics {
    /// One activation energy for both, and β = k₂/k₁.
    pub fn of(k1_per_s: f64, beta: f64, e_j_per_mol: f64, at_k: f64) -> Self {
        Self {
            k1_per_s,
            k2_per_s: beta * k1_per_s,
            e1_j_per_mol: e_j_per_mol,
            e2_j_per_mol: e_j_per_mol,
            at_k,
        }
    }

    /// Rate before anything stops it, 1/s, of conversion `alpha` (0 to 1) at `t_k`.
    pub fn rate_per_s(&self, alpha: f64, t_k: f64) -> f64 {
        let alpha = alpha.clamp(0.0, 1.0);
        let first = arrhenius(self.e1_j_per_mol, t_k, self.at_k);
        let second = if self.e1_j_per_mol == self.e2_j_per_mol {
            first
        } else {
            arrhenius(self.e2_j_per_mol, t_k, self.at_k)
        };
        let left = 1.0 - alpha;
        (self.k1_per_s * first + self.k2_per_s * second * alpha) * left * left
    }

    /// How many times faster the autocatalysed reaction, which does most of the cure, goes at `t_k`
    /// than at the temperature of the constants.
    pub fn pace(&self, t_k: f64) -> f64 {
        arrhenius(self.e2_j_per_mol, t_k, self.at_k)
    }

    /// Time to a conversion below 1 at the temperature of the constants, s, if nothing stops it.
    pub fn time_s(&self, alpha: f64) -> f64 {
        closed(alpha, self.k2_per_s / self.k1_per_s) / self.k1_per_s
    }
}

/// k₁ t of a conversion below 1 at a steady temperature: the rate integrated by partial fractions,
/// [α/(1 − α) + β/(1 + β) · ln((1 + βα)/(1 − α))]/(1 + β).
pub fn closed(alpha: f64, beta: f64) -> f64 {
    let left = 1.0 - alpha;
    (alpha / left + beta / (1.0 + beta) * libm::log((1.0 + beta * alpha) / left)) / (1.0 + beta)
}

/// Glass transition against conversion: DiBenedetto's equation as Pascault and Williams wrote it
/// (J. Polym. Sci. B 28, 85, 1990, from memory).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Glass {
    /// Glass transition of resin cured as far as it can be, K.
    pub end_k: f64,
    /// Shape, above 0 to 1; 1 is a straight line.
    pub lambda: f64,
}

impl Glass {
    /// Glass transition at a conversion, K.
    pub fn tg_k(&self, alpha: f64) -> f64 {
        let alpha = alpha.clamp(0.0, 1.0);
        let share = self.lambda * alpha / (1.0 - (1.0 - self.lambda) * alpha);
        TG_START_K + (self.end_k - TG_START_K) * share
    }

    /// Conversion at which the glass transition is `tg_k`; outside 0 to 1 where it never is.
    pub fn conversion(&self, tg_k: f64) -> f64 {
        let share = (tg_k - TG_START_K) / (self.end_k - TG_START_K);
        share / (self.lambda + (1.0 - self.lambda) * share)
    }

    /// exp((Tg − T − 8 K)/4 K): how many times longer cure takes because the resin turns to glass,
    /// less one. The logistic stop of the rate is 1/(1 + this) (our choice of form).
    pub fn hindrance(&self, alpha: f64, t_k: f64) -> f64 {
        // Beyond e^200 the rate is nothing; the bound keeps its reciprocal a plain number.
        libm::exp(((self.tg_k(alpha) - t_k - STOP_K) / STOP_WIDTH_K).min(200.0))
    }
}

/// Time to a conversion below 1 at the steady temperature of the constants, s, with the stop by
/// vitrification: 1/rate = (1 + hindrance)/(free rate), of which the first term is [`closed`].
pub fn hindered_time_s(kinetics: &Kinetics, glass: &Glass, alpha: f64) -> f64 {
    // Gauss-Legendre of five points (Abramowitz and Stegun, table 25.4).
    const POINTS: [(f64, f64); 3] = [
        (0.0, 0.568_888_888_888_889),
        (0.538_469_310_105_683, 0.478_628_670_499_366),
        (0.906_179_845_938_664, 0.236_926_885_056_189),
    ];
    const PANELS: u32 = 16;
    let half = 0.5 * alpha / f64::from(PANELS);
    let more = |alpha: f64| {
        glass.hindrance(alpha, kinetics.at_k) / kinetics.rate_per_s(alpha, kinetics.at_k)
    };
    let mut sum = 0.0;
    for panel in 0..PANELS {
        let middle = half * f64::from(2 * panel + 1);
        for (at, weight) in POINTS {
            sum += match at {
                0.0 => weight * more(middle),
                _ => weight * (more(middle - at * half) + more(middle + at * half)),
            };
        }
    }
    kinetics.time_s(alpha) + sum * half
}
