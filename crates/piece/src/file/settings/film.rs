//! Adhesive film as it is typed.

use crate::file::scalars::{Amount, Length, Share};
use schemars::JsonSchema;
use serde::Deserialize;

/// What is cut round a piece of film to weed inside.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum WeedingFile {
    /// A line that follows the piece.
    #[default]
    Outline,
    /// A rectangle.
    Box,
    /// A rectangle, cut across wherever a level line passes between shapes.
    Strips,
    /// Nothing.
    None,
}

/// Adhesive film as it is bought.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct VinylProductFile {
    /// Thickness.
    pub film: Length,
    /// Thinnest stroke that is cut and weeded with ease; left out, 1 mm.
    pub least_stroke: Option<Length>,
    /// How far film of two layers runs under each other, with `join = "overlap"` or `"choke"` in a piece that names no `trap`; left out, 0.3 mm.
    pub trap: Option<Length>,
    /// What is cut round each piece to weed inside; left out, its outline.
    #[serde(default)]
    pub weeding: WeedingFile,
    /// From a shape to the line to weed inside; left out, 4 mm.
    pub weed_margin: Option<Length>,
    /// Between the lines to weed inside of two pieces on a sheet, half of it at the edges of the sheet; left out, 8 mm.
    pub spacing: Option<Length>,
    /// How far it may be stretched as it is laid on a wall that is curved both ways; left out, 2 %.
    pub stretch: Option<Share>,
    /// Width of a sheet.
    pub sheet_width: Length,
    /// Height of a sheet.
    pub sheet_height: Length,
    /// Price of a sheet.
    pub sheet_price: Amount,
    /// Price of transfer tape for each sheet of the same size.
    pub transfer_price: Amount,
}
