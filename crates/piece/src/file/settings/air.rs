//! What gets into the air of the room, and the limits one keeps to, as they are typed.

use crate::file::scalars::{Mass, Share, Time, Volume};
use schemars::JsonSchema;
use serde::Deserialize;

/// A solvent whose limits are known here.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum SolventFile {
    /// Acetone.
    Acetone,
    /// Ethanol.
    Ethanol,
    /// Isopropanol, rubbing alcohol.
    Isopropanol,
    /// n-Butyl acetate.
    ButylAcetate,
    /// Xylenes, all three together.
    Xylenes,
    /// Toluene.
    Toluene,
}

/// What a solvent is used for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum SolventStepFile {
    /// Wiping a part before paint or resin.
    Wipe,
    /// A coat of paint, beside what is in `[paint]`.
    Paint,
    /// Gluing stones.
    Glue,
    /// Cleaning tools.
    Clean,
}

/// A solvent that is used up, each time for one piece.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(extend("oneOf" = [{"required": ["mass"]}, {"required": ["volume"]}]))]
pub struct SolventUseFile {
    /// Which.
    pub name: SolventFile,
    /// How much each time.
    pub mass: Option<Mass>,
    /// How much each time, instead of `mass`.
    pub volume: Option<Volume>,
    /// What for.
    pub step: SolventStepFile,
    /// How long it takes to evaporate; left out, it is in the air at once.
    pub lasts: Option<Time>,
}

/// The share of a solvent in a product.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SolventShareFile {
    /// Which.
    pub name: SolventFile,
    /// Share by mass.
    pub share: Share,
}

/// Limits that one keeps to where they are stricter than the federal ones.
#[derive(Debug, Clone, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct AirFile {
    /// Limits of another body or of the safety data sheet; the lower one counts.
    #[serde(default)]
    #[schemars(length(max = 12))]
    pub limits: Vec<AirLimitFile>,
}

/// A limit of one solvent in air.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct AirLimitFile {
    /// Which.
    pub name: SolventFile,
    /// Mean of eight hours, parts per million by volume.
    #[schemars(range(min = 0.001, max = 10_000.0))]
    pub ppm: f64,
}
