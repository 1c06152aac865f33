//! A data sheet in the units of formulas.

use super::choices::ZERO_C_K;
use super::viscosity::Flow;
use piece::settings::ResinProduct;

/// What the cure model takes from a data sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct Sheet {
    /// Temperature that the times hold at, K.
    pub at_k: f64,
    /// Lowest temperature for pour and first cure, K.
    pub lowest_k: f64,
    /// Pot life, s, of the mass below.
    pub pot_life_s: f64,
    /// Mass that the pot life holds for, kg.
    pub pot_life_mass_kg: f64,
    /// No longer sticky, s after the pour.
    pub tack_free_s: f64,
    /// The next coat bonds from, to, s after the pour.
    pub recoat_s: (f64, f64),
    /// Keep turning for, s after the pour.
    pub turning_s: f64,
    /// Hard enough to sand, s after the pour.
    pub sandable_s: f64,
    /// Full cure, s after the pour.
    pub full_cure_s: f64,
    /// Softens at, K, if the sheet says so.
    pub softens_k: Option<f64>,
    /// Heat that the whole cure sets free, J/kg.
    pub heat_j_per_kg: f64,
    /// Activation energy, J/mol: likely, least, greatest.
    pub activation_j_per_mol: (f64, f64, f64),
    /// Density of the mix, kg/m³.
    pub density_kg_per_m3: f64,
    /// Viscosity just mixed.
    pub flow: Flow,
}

impl Sheet {
    /// The sheet of a resin.
    pub fn of(resin: &ResinProduct) -> Self {
        let s = |min: f64| min * 60.0;
        let energy = resin.activation_kj_per_mol;
        Self {
            at_k: resin.sheet_at_c + ZERO_C_K,
            lowest_k: resin.lowest_c + ZERO_C_K,
            pot_life_s: s(resin.pot_life_min),
            pot_life_mass_kg: resin.pot_life_mass_g / 1000.0,
            tack_free_s: s(resin.tack_free_min),
            recoat_s: (s(resin.recoat_min.0), s(resin.recoat_min.1)),
            turning_s: s(resin.turning_min),
            sandable_s: s(resin.sandable_min),
            full_cure_s: s(resin.full_cure_min),
            softens_k: resin.softens_c.map(|c| c + ZERO_C_K),
            heat_j_per_kg: resin.heat_j_per_g * 1000.0,
            activation_j_per_mol: (energy.0 * 1000.0, energy.1 * 1000.0, energy.2 * 1000.0),
            density_kg_per_m3: resin.density_mixed_g_per_ml() * 1000.0,
            flow: Flow { mixed_pa_s: resin.viscosity_pa_s, at_k: resin.viscosity_at_c + ZERO_C_K },
        }
    }
}
