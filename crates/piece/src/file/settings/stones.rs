//! Prices of stones, the drawer and the repair kit as they are typed.

use crate::file::scalars::{Amount, Size, Volume};
use crate::file::stones::MaterialFile;
use schemars::JsonSchema;
use serde::Deserialize;

/// Price of stones of one material and size.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct StonePriceFile {
    /// Material.
    pub material: MaterialFile,
    /// Size.
    pub size: Size,
    /// Stones in a pack (a gross is 144).
    #[schemars(range(min = 1, max = 1_000_000))]
    pub pack: u32,
    /// Price of a pack.
    pub pack_price: Amount,
    /// Stones a practised hand sets in an hour.
    #[schemars(range(min = 1.0, max = 10_000.0))]
    pub set_per_h: f64,
}

/// Stones of one material, size and colour in the drawer.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct DrawerFile {
    /// Material.
    #[serde(default)]
    pub material: MaterialFile,
    /// Size.
    pub size: Size,
    /// Name of the colour, as piece files have it.
    #[schemars(length(min = 1, max = 60))]
    pub colour: String,
    /// How many there are.
    #[schemars(range(min = 0, max = 10_000_000))]
    pub count: u32,
}

/// What each customer gets to mend a piece with stones with.
#[derive(Debug, Clone, PartialEq, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RepairKitFile {
    /// Spare stones of each material, size and colour on the piece; left out, none.
    #[serde(default)]
    #[schemars(range(min = 0, max = 1000))]
    pub stones: u32,
    /// Glue for them; left out, none.
    pub glue: Option<Volume>,
}
