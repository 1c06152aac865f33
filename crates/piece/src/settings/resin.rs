//! Clear epoxy, as its data sheet has it.

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
    /// Working time of 100 g mixed at room temperature, min.
    pub pot_life_min: f64,
    /// The next coat bonds without sanding from, to, min after the pour.
    pub recoat_min: (f64, f64),
    /// Keep turning for, min after the pour.
    pub turning_min: f64,
    /// Hard enough to sand, min after the pour.
    pub sandable_min: f64,
    /// Full cure, min after the last pour.
    pub full_cure_min: f64,
    /// Price of a kit.
    pub kit_price: Money,
    /// Mixed volume of a kit, ml.
    pub kit_ml: f64,
}
