//! How much glitter a zone takes, and how it lies.

use crate::bury::Sprinkled;
use piece::Pressed;
use piece::settings::GlitterProduct;

/// Mass that stays on `area_mm2` of each sprinkled layer, g.
pub fn on_cup_g(area_mm2: f64, glitter: &GlitterProduct) -> f64 {
    area_mm2 * 1e-6 * glitter.g_per_m2
}

/// Flakes of `flake_mm` as they lie, sprinkled so many times and laid down so.
pub fn sprinkled(
    flake_mm: f64,
    layers: u32,
    pressed: Pressed,
    glitter: &GlitterProduct,
) -> Sprinkled {
    Sprinkled { width_mm: flake_mm, thickness_mm: glitter.flake_thickness_mm, layers, pressed }
}
