//! Clear epoxy as it is typed, and the scale that weighs it.

use crate::file::scalars::{Amount, Mass, Share, Temperature, Time, Viscosity, Volume};
use schemars::JsonSchema;
use serde::Deserialize;

/// What the data sheet and the price list say of a resin.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ResinProductFile {
    /// What the maker calls it.
    #[schemars(length(min = 1, max = 60))]
    pub name: String,
    /// Parts of A and of B by volume; this or the ratio by weight has to be given.
    #[schemars(inner(range(min = 0.01, max = 100.0)))]
    pub ratio_by_volume: Option<[f64; 2]>,
    /// Parts of A and of B by weight; this or the ratio by volume has to be given.
    #[schemars(inner(range(min = 0.01, max = 100.0)))]
    pub ratio_by_weight: Option<[f64; 2]>,
    /// Density of A and of B, g/ml; it has to be given, and can be measured with a syringe.
    #[schemars(inner(range(min = 0.5, max = 3.0)))]
    pub density_g_per_ml: Option<[f64; 2]>,
    /// Share of a mix that stays in the cup, on the brush and on the glove.
    pub loss: Share,
    /// Least mixed amount lost whatever the size.
    pub least_loss: Volume,
    /// Working time of the mass `pot_life_mass`, mixed in a cup at `sheet_at`.
    pub pot_life: Time,
    /// Mass that the pot life holds for; left out, 100 g.
    pub pot_life_mass: Option<Mass>,
    /// A thin film no longer sticks to a glove this long after the pour; left out, `recoat_from`.
    pub tack_free: Option<Time>,
    /// The next coat bonds without sanding from this long after the pour.
    pub recoat_from: Time,
    /// The next coat bonds without sanding until this long after the pour.
    pub recoat_to: Time,
    /// Keep turning for this long after the pour.
    pub turning: Time,
    /// Hard enough to sand this long after the pour.
    pub sandable: Time,
    /// Full cure this long after the last pour.
    pub full_cure: Time,
    /// Temperature that the times of the sheet hold at; left out, 24 C.
    pub sheet_at: Option<Temperature>,
    /// Lowest temperature that the sheet allows for pour and first cure; left out, 18 C.
    pub lowest: Option<Temperature>,
    /// Cured resin softens at this temperature (glass transition); left out, it is reckoned.
    pub softens: Option<Temperature>,
    /// Viscosity just after mixing; left out, 1000 cP.
    pub viscosity: Option<Viscosity>,
    /// Temperature that the viscosity holds at; left out, `sheet_at`.
    pub viscosity_at: Option<Temperature>,
    /// Surface tension, mN/m; left out, 35.
    #[schemars(range(min = 15.0, max = 75.0))]
    pub surface_tension_mn_per_m: Option<f64>,
    /// Density once cured, g/ml; left out, 3 % more than that of the mix.
    #[schemars(range(min = 0.5, max = 3.5))]
    pub density_cured_g_per_ml: Option<f64>,
    /// Heat that the whole cure sets free, J/g; left out, 350.
    #[schemars(range(min = 50.0, max = 800.0))]
    pub heat_j_per_g: Option<f64>,
    /// Activation energy of the cure, kJ/mol; left out, 58 with a range of 53 to 67.
    #[schemars(range(min = 30.0, max = 120.0))]
    pub activation_kj_per_mol: Option<f64>,
    /// Volatile organic compounds in the mix, g/l; left out, 50.
    #[schemars(range(min = 0.0, max = 1000.0))]
    pub voc_g_per_l: Option<f64>,
    /// Price of a kit.
    pub kit_price: Amount,
    /// Mixed volume of a kit.
    pub kit: Volume,
}

/// The scale that weighs parts A and B.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ScaleFile {
    /// Smallest step of its display.
    pub readability: Mass,
}
