//! How much glue stones take.

use piece::settings::GlueProduct;
use std::f64::consts::PI;

/// Glue squeezed from the tube for one stone, ml: a dot that covers its share of the stone's diameter
/// in a bond of the product's thickness, and the share that strings, skins or stays in the tip.
pub fn per_stone_ml(diameter_mm: f64, glue: &GlueProduct) -> f64 {
    let dot_mm = diameter_mm * glue.dot_share;
    let held_ml = PI / 4.0 * dot_mm * dot_mm * glue.bond_mm / 1000.0;
    held_ml / (1.0 - glue.loss.clamp(0.0, 0.95))
}
