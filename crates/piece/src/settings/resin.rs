//! Clear epoxy, as its data sheet has it, and the scale that weighs it.

use crate::Money;

/// What the data sheet and the price list say of a resin.
#[derive(Debug, Clone, PartialEq)]
pub struct ResinProduct {
    /// What the maker calls it.
    pub name: String,
    /// Parts of A and B by volume.
    pub ratio_by_volume: (f64, f64),
    /// Density of A and B, g/ml.
    pub density_g_per_ml: (f64, f64),
    /// Share of a mix that stays in the cup, on the brush and on the glove.
    pub loss: f64,
    /// Least mixed amount lost whatever the size, ml.
    pub least_loss_ml: f64,
    /// Working time of `pot_life_mass_g` in a mixing cup at `sheet_at_c`, min.
    pub pot_life_min: f64,
    /// Mass that the pot life holds for, g.
    pub pot_life_mass_g: f64,
    /// A thin film no longer sticks to a glove, min after the pour.
    pub tack_free_min: f64,
    /// The next coat bonds without sanding from, to, min after the pour.
    pub recoat_min: (f64, f64),
    /// Keep turning for, min after the pour.
    pub turning_min: f64,
    /// Hard enough to sand, min after the pour.
    pub sandable_min: f64,
    /// Full cure, min after the last pour.
    pub full_cure_min: f64,
    /// Temperature that the times hold at, °C.
    pub sheet_at_c: f64,
    /// Lowest temperature for pour and first cure, °C.
    pub lowest_c: f64,
    /// Cured resin softens at, °C; `None` if the sheet is silent, and the cure model reckons it.
    pub softens_c: Option<f64>,
    /// Viscosity just after mixing, Pa s.
    pub viscosity_pa_s: f64,
    /// Temperature that the viscosity holds at, °C.
    pub viscosity_at_c: f64,
    /// Surface tension, mN/m.
    pub surface_tension_mn_per_m: f64,
    /// Density once cured, g/ml.
    pub density_cured_g_per_ml: f64,
    /// Heat that the whole cure sets free, J/g.
    pub heat_j_per_g: f64,
    /// Activation energy of the cure, kJ/mol: likely, least, greatest; all the same if the sheet
    /// gives it.
    pub activation_kj_per_mol: (f64, f64, f64),
    /// Volatile organic compounds in the mix, g/l.
    pub voc_g_per_l: f64,
    /// Keys that were left out: their values are those of a usual slow decorative resin.
    pub usual: Vec<&'static str>,
    /// Price of a kit.
    pub kit_price: Money,
    /// Mixed volume of a kit, ml.
    pub kit_ml: f64,
}

impl ResinProduct {
    /// Density of the mix before it cures, g/ml: volumes add up.
    pub fn density_mixed_g_per_ml(&self) -> f64 {
        let (a, b) = self.ratio_by_volume;
        (a * self.density_g_per_ml.0 + b * self.density_g_per_ml.1) / (a + b)
    }
}

/// The scale that weighs parts A and B.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scale {
    /// Smallest step of its display, g.
    pub readability_g: f64,
}
