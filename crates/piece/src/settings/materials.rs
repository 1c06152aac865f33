//! Paint, glitter and glue, as they are bought and put on.

use super::Solvent;
use crate::Money;

/// Paint as it is bought and put on.
#[derive(Debug, Clone, PartialEq)]
pub struct PaintProduct {
    /// Wet paint per area and coat, ml/m².
    pub ml_per_m2: f64,
    /// Dry thickness each coat leaves, mm.
    pub film_mm: f64,
    /// Between two coats, min.
    pub between_coats_min: f64,
    /// After the last, before resin, min.
    pub before_resin_min: f64,
    /// Density of the wet paint, g/ml.
    pub density_g_per_ml: f64,
    /// Solvents in it and their shares by mass, no solvent twice.
    pub solvents: Vec<(Solvent, f64)>,
    /// Price of a can or bottle.
    pub pack_price: Money,
    /// Content of a can or bottle, ml.
    pub pack_ml: f64,
}

/// A thin bed of resin for each further layer of glitter, mm (common practice, no source).
pub const GLITTER_BED_MM: f64 = 0.15;

/// Glitter as it is bought and put on.
#[derive(Debug, Clone, PartialEq)]
pub struct GlitterProduct {
    /// Mass that ends on the cup, g/m².
    pub g_per_m2: f64,
    /// How many times that to have in the shaker (the rest is caught).
    pub shaker_times: f64,
    /// Thickness of one flake, mm.
    pub flake_thickness_mm: f64,
    /// What sanding takes off the clear resin over it, mm.
    pub sanding_mm: f64,
    /// Clear resin over the highest flakes that is left after sanding, mm.
    pub cover_mm: f64,
    /// Share bought beyond the need.
    pub spare: f64,
    /// Price of a jar.
    pub pack_price: Money,
    /// Content of a jar, g.
    pub pack_g: f64,
}

/// Glue for stones.
#[derive(Debug, Clone, PartialEq)]
pub struct GlueProduct {
    /// A dot spread under a stone: thickness of the bond, mm.
    pub bond_mm: f64,
    /// Share of the stone's diameter the dot covers after pressing.
    pub dot_share: f64,
    /// Share of the glue that strings, skins or stays in the tip.
    pub loss: f64,
    /// Stays open, min.
    pub open_min: f64,
    /// Holds a stone wherever it is turned from this long after it is set, min.
    pub set_min: f64,
    /// Farthest that a stone set more recently may lean from facing up without sliding, rad.
    pub tilt_rad: f64,
    /// Full strength, min.
    pub full_min: f64,
    /// Price of a tube.
    pub pack_price: Money,
    /// Content of a tube, ml.
    pub pack_ml: f64,
}
