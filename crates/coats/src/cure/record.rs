//! A data sheet in the units of formulas, with the figures that it leaves out marked.

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
    /// Every figure as it was taken, for people.
    pub lines: Vec<Line>,
}

/// One figure of a sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Line {
    /// Its key in the settings.
    pub key: &'static str,
    /// Its value in the unit named next.
    pub value: f64,
    /// Its unit.
    pub unit: &'static str,
    /// The sheet leaves it out: it is that of a usual slow decorative resin.
    pub usual: bool,
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
            lines: lines(resin),
        }
    }
}

fn lines(resin: &ResinProduct) -> Vec<Line> {
    let mut figures = vec![
        ("pot_life", resin.pot_life_min, "min"),
        ("pot_life_mass", resin.pot_life_mass_g, "g"),
        ("tack_free", resin.tack_free_min, "min"),
        ("recoat_from", resin.recoat_min.0, "min"),
        ("recoat_to", resin.recoat_min.1, "min"),
        ("turning", resin.turning_min, "min"),
        ("sandable", resin.sandable_min, "min"),
        ("full_cure", resin.full_cure_min, "min"),
        ("sheet_at", resin.sheet_at_c, "°C"),
        ("lowest", resin.lowest_c, "°C"),
        ("viscosity", resin.viscosity_pa_s, "Pa s"),
        ("viscosity_at", resin.viscosity_at_c, "°C"),
        ("surface_tension_mn_per_m", resin.surface_tension_mn_per_m, "mN/m"),
        ("density_cured_g_per_ml", resin.density_cured_g_per_ml, "g/ml"),
        ("heat_j_per_g", resin.heat_j_per_g, "J/g"),
        ("activation_kj_per_mol", resin.activation_kj_per_mol.0, "kJ/mol"),
        ("voc_g_per_l", resin.voc_g_per_l, "g/l"),
    ];
    figures.extend(resin.softens_c.map(|c| ("softens", c, "°C")));
    let line = |(key, value, unit)| Line { key, value, unit, usual: resin.usual.contains(&key) };
    figures.into_iter().map(line).collect()
}
