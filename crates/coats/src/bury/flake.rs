//! One flake of glitter: a hexagon of polyester film.

/// Density of polyester film, g/cm³ (handbook value for PET, from memory: 1.38).
pub const POLYESTER_G_PER_CM3: f64 = 1.38;

/// How coarse glitter is: its waits and its sealer follow from it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Coarseness {
    /// Under 0.5 mm.
    Fine,
    /// From 0.5 to under 0.8 mm.
    Medium,
    /// From 0.8 mm.
    Chunky,
}

/// How coarse flakes of this width are. The borders lie half-way between what sellers call fine (0.4 mm),
/// medium (0.6 mm) and chunky (1.0 mm).
pub fn coarseness(width_mm: f64) -> Coarseness {
    if width_mm < 0.5 {
        Coarseness::Fine
    } else if width_mm < 0.8 {
        Coarseness::Medium
    } else {
        Coarseness::Chunky
    }
}

/// Area of a flake of this width across flats, mm²: (√3/2) d² (plane geometry).
pub fn area_mm2(width_mm: f64) -> f64 {
    0.5 * 3.0_f64.sqrt() * width_mm * width_mm
}

/// Mass of one full layer without gaps, g/m²: density times thickness.
pub fn layer_g_per_m2(thickness_mm: f64) -> f64 {
    POLYESTER_G_PER_CM3 * thickness_mm * 1000.0
}

/// Flakes in a gram.
pub fn per_g(width_mm: f64, thickness_mm: f64) -> f64 {
    1000.0 / (area_mm2(width_mm) * thickness_mm * POLYESTER_G_PER_CM3)
}

/// Share of the ground that so many layers of freely sprinkled flakes cover: 1 − exp(−layers), since
/// how many lie over a place is Poisson distributed.
pub fn cover_share(layers: f64) -> f64 {
    -libm::expm1(-layers.max(0.0))
}
