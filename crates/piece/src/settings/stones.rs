//! Stones, as they are bought and as they lie in the drawer.

use crate::{Money, StoneMaterial};

/// Price of stones of one material and size.
#[derive(Debug, Clone, PartialEq)]
pub struct StonePrice {
    /// Material.
    pub material: StoneMaterial,
    /// Size name, as in the piece file.
    pub size: String,
    /// Stones in a pack (a gross is 144).
    pub pack: u32,
    /// Price of a pack.
    pub pack_price: Money,
    /// Stones a practised hand sets in an hour.
    pub set_per_h: f64,
}

/// Stones an hour where the settings do not say (practised makers: 300 to 500).
pub const STONES_PER_H: f64 = 300.0;

/// Stones of one material, size and colour in the drawer.
#[derive(Debug, Clone, PartialEq)]
pub struct DrawerStones {
    /// Material.
    pub material: StoneMaterial,
    /// Size name, as in the piece file.
    pub size: String,
    /// Name of the colour, as in the piece file.
    pub colour: String,
    /// How many there are.
    pub count: u32,
}

/// What each customer gets to mend a piece with stones with.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct RepairKit {
    /// Spare stones of each material, size and colour on the piece.
    pub stones: u32,
    /// Glue for them, ml.
    pub glue_ml: f64,
}
