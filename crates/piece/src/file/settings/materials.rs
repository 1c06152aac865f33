//! Paint, glitter and glue as they are typed.

use super::SolventShareFile;
use crate::file::scalars::{Amount, Angle, Length, Mass, Share, Time, Volume};
use schemars::JsonSchema;
use serde::Deserialize;

/// Paint as it is bought and put on.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PaintProductFile {
    /// Wet paint for each square metre and coat, ml.
    #[schemars(range(min = 1.0, max = 2000.0))]
    pub ml_per_m2: f64,
    /// Dry thickness each coat leaves.
    pub film: Length,
    /// Wait between two coats.
    pub between_coats: Time,
    /// Wait after the last, before resin.
    pub before_resin: Time,
    /// Density of the wet paint; left out, 1 g/ml.
    #[schemars(range(min = 0.5, max = 3.0))]
    pub density_g_per_ml: Option<f64>,
    /// Solvents in it by mass, as its safety data sheet has them.
    #[serde(default)]
    #[schemars(length(max = 12))]
    pub solvents: Vec<SolventShareFile>,
    /// Price of a can or bottle.
    pub pack_price: Amount,
    /// Content of a can or bottle.
    pub pack: Volume,
}

/// Glitter as it is bought and put on.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct GlitterProductFile {
    /// Mass that ends on the cup, g for each square metre.
    #[schemars(range(min = 1.0, max = 5000.0))]
    pub g_per_m2: f64,
    /// How many times that to have in the shaker; the rest is caught.
    #[schemars(range(min = 1.0, max = 20.0))]
    pub shaker_times: f64,
    /// Thickness of one flake.
    pub flake_thickness: Length,
    /// What sanding takes off the clear resin over it; left out, 0.05 mm.
    pub sanding: Option<Length>,
    /// Clear resin over the highest flakes that is left after sanding; left out, 0.1 mm.
    pub cover: Option<Length>,
    /// Share bought beyond the need; left out, that of `spare_materials`.
    pub spare: Option<Share>,
    /// Price of a jar.
    pub pack_price: Amount,
    /// Content of a jar.
    pub pack: Mass,
}

/// Glue for stones.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct GlueProductFile {
    /// Thickness of the bond under a stone.
    pub bond: Length,
    /// Share of the stone's diameter that the dot covers after pressing.
    pub dot: Share,
    /// Share of the glue that strings, skins or stays in the tip.
    pub loss: Share,
    /// Stays open for.
    pub open: Time,
    /// From this long after it is set a stone holds wherever it is turned; left out, 20 min.
    pub set: Option<Time>,
    /// Farthest that a stone set more recently may lean from facing up; left out, 60 deg.
    pub tilt: Option<Angle>,
    /// Full strength after.
    pub full: Time,
    /// Price of a tube.
    pub pack_price: Amount,
    /// Content of a tube.
    pub pack: Volume,
}
