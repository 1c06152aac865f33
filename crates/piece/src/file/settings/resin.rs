//! Clear epoxy as it is typed.

use crate::file::scalars::{Amount, Share, Time, Volume};
use schemars::JsonSchema;
use serde::Deserialize;

/// What the data sheet and the price list say of a resin.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ResinProductFile {
    /// What the maker calls it.
    #[schemars(length(min = 1, max = 60))]
    pub name: String,
    /// Parts of A and of B by volume.
    #[schemars(inner(range(min = 0.01, max = 100.0)))]
    pub ratio_by_volume: [f64; 2],
    /// Density of A and of B, g/ml.
    #[schemars(inner(range(min = 0.5, max = 3.0)))]
    pub density_g_per_ml: [f64; 2],
    /// Share of a mix that stays in the cup, on the brush and on the glove.
    pub loss: Share,
    /// Least mixed amount lost whatever the size.
    pub least_loss: Volume,
    /// Working time of 100 g mixed at room temperature.
    pub pot_life: Time,
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
    /// Price of a kit.
    pub kit_price: Amount,
    /// Mixed volume of a kit.
    pub kit: Volume,
}
