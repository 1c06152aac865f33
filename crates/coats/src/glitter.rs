//! How much glitter a zone takes, and how many clear coats bury it.

use piece::settings::GlitterProduct;

/// Density of polyester film, g/cm³ (handbook value for PET, from memory: 1.38).
pub const POLYESTER_G_PER_CM3: f64 = 1.38;

/// Full layers of flakes that stay after pouring on and shaking off (our own simulation: a flake stays
/// if a fifth to a third of it touches the wet bed; 1.45 to 1.74 layers).
pub const LAYERS_HELD: f64 = 1.5;

/// Sine of the tilt of the steepest flakes after patting down, 20 degrees (a choice, no source).
const SIN_TILT: f64 = 0.342_020_143_325_668_7;

/// Clear cover over the highest flake that is left to sand into, mm (a choice, no source).
pub const CLEAR_COVER_MM: f64 = 0.15;

/// Mass that stays on `area_mm2`, g.
pub fn on_cup_g(area_mm2: f64, glitter: &GlitterProduct) -> f64 {
    area_mm2 * 1e-6 * glitter.g_per_m2
}

/// Mean thickness of the held flakes as a solid layer, mm.
pub fn solid_mm(glitter: &GlitterProduct) -> f64 {
    LAYERS_HELD * glitter.flake_thickness_mm
}

/// Clear resin needed over glitter, as a mean thickness, before its surface can be sanded, mm:
/// height of the highest flakes (four flakes stacked, the last one tilted) and the cover over them,
/// less the solid flakes themselves, because resin fills the valleys first.
pub fn clear_needed_mm(flake_mm: f64, glitter: &GlitterProduct) -> f64 {
    let peak_mm = 4.0 * glitter.flake_thickness_mm + flake_mm * SIN_TILT;
    (peak_mm + CLEAR_COVER_MM - solid_mm(glitter)).max(0.0)
}

/// How many clear coats of `film_mm` bury flakes of `flake_mm`.
pub fn clear_coats(flake_mm: f64, film_mm: f64, glitter: &GlitterProduct) -> u32 {
    (clear_needed_mm(flake_mm, glitter) / film_mm).ceil() as u32
}
