//! Finishes as they are typed.

use super::piece::one;
use super::scalars::{Length, Share, Size};
use schemars::JsonSchema;
use serde::Deserialize;

/// Sprayed or brushed colour.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PaintFile {
    /// Name of its colour.
    pub colour: String,
    /// How many coats.
    #[serde(default = "one")]
    #[schemars(range(min = 1, max = 20))]
    pub coats: u32,
}

/// Loose glitter.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct GlitterFile {
    /// Name of its colour.
    pub colour: String,
    /// Width of a flake across flats; left out, 0.4 mm (fine).
    pub flake: Option<Length>,
}

/// Clear epoxy.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ResinFile {
    /// How many coats.
    #[serde(default = "one")]
    #[schemars(range(min = 1, max = 20))]
    pub coats: u32,
    /// Thickness each coat leaves; left out, 0.2 mm.
    pub film: Option<Length>,
}

/// Cut adhesive film.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct VinylFile {
    /// Name of its colour.
    pub colour: String,
}

/// Flat-back stones.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(extend("allOf" = [
    {"oneOf": [{"required": ["size"]}, {"required": ["sizes"]}]},
    {"oneOf": [{"required": ["colour"]}, {"required": ["colours"]}]}
]))]
pub struct StonesFile {
    /// How they are laid.
    pub layout: LayoutFile,
    /// Which line rows run along; left out, level. Only with `layout = "rows"`.
    pub follow: Option<FollowFile>,
    /// Their one size.
    pub size: Option<Size>,
    /// Several sizes with their share by count; the shares sum to 100 %.
    #[schemars(length(min = 1, max = 12))]
    pub sizes: Option<Vec<SizeShare>>,
    /// Name of their one colour.
    pub colour: Option<String>,
    /// Several colours with their share by count; the shares sum to 100 %.
    #[schemars(length(min = 1, max = 40))]
    pub colours: Option<Vec<ColourShare>>,
    /// Least clear distance between two stones, in space; left out, 0.1 mm.
    pub gap: Option<Length>,
    /// What they are made of.
    #[serde(default)]
    pub material: MaterialFile,
}

/// How stones fill a zone.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum LayoutFile {
    /// Rows of one size, each offset by half a stone against the next.
    Rows,
    /// Mixed sizes packed with no order.
    Scatter,
}

/// Which line rows run along.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum FollowFile {
    /// Level rings.
    Level,
    /// The zone's edge nearer the rim, then inward.
    Edge,
}

/// What stones are made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum MaterialFile {
    /// Glass; whether it is free of lead only a test of the lot can tell.
    #[default]
    Glass,
    /// Leaded crystal.
    LeadCrystal,
    /// Moulded resin.
    Resin,
}

/// A size and its share.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SizeShare {
    /// The size.
    pub size: Size,
    /// Its share by count.
    pub share: Share,
}

/// A colour and its share.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ColourShare {
    /// Name of the colour.
    pub colour: String,
    /// Its share by count.
    pub share: Share,
}
