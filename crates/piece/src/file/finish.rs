//! Finishes as they are typed, but for stones.

use super::piece::one;
use super::scalars::Length;
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
