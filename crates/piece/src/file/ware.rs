//! Goods, and amounts of them, as they are typed in stock and sellers files.

use super::scalars::{Length, Mass, Size, Volume};
use super::stones::MaterialFile;
use schemars::JsonSchema;
use serde::Deserialize;

/// One kind of goods.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WareFile {
    /// What kind.
    pub goods: GoodsFile,
    /// What stones are of; left out, glass. Only with `goods = "stones"`.
    pub material: Option<MaterialFile>,
    /// Size of the stones. Only with `goods = "stones"`, which needs it.
    pub size: Option<Size>,
    /// Colour: `#` and six hexadecimal digits, or a name as piece files have it. Stones, paint, glitter
    /// and film need it.
    #[schemars(length(min = 1, max = 60))]
    pub colour: Option<String>,
    /// Width of a flake. Only with `goods = "glitter"`, which needs it.
    pub flake: Option<Length>,
    /// Name of the supply, as the studio file has it. Only with `goods = "supply"`, which needs it.
    #[schemars(length(min = 1, max = 80))]
    pub name: Option<String>,
}

/// Kinds of goods.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum GoodsFile {
    /// Flat-back stones, counted.
    Stones,
    /// Glue for stones, by volume.
    Glue,
    /// Resin, both parts together, by volume.
    Resin,
    /// Paint, by volume.
    Paint,
    /// Glitter, by weight.
    Glitter,
    /// Adhesive film, in the studio's sheets.
    Film,
    /// Transfer tape, in the same sheets.
    TransferTape,
    /// A supply of the studio file, in its unit.
    Supply,
}

/// An amount: one of the three, as its goods are measured.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct ContentFile {
    /// Stones, sheets, or units of a supply.
    pub count: Option<f64>,
    /// Of glue, resin, paint.
    pub volume: Option<Volume>,
    /// Of glitter.
    pub weight: Option<Mass>,
}
