//! Words and drawings as they are typed.

use super::piece::one;
use super::places::{Place, Reach};
use super::scalars::{Angle, FileName, Length, Share};
use super::zone::AroundFile;
use schemars::JsonSchema;
use serde::Deserialize;

/// Words set on the surface.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(extend("oneOf" = [{"required": ["height"]}, {"required": ["round"]}]))]
pub struct LetteringFile {
    /// The words.
    #[schemars(length(min = 1, max = 400))]
    pub text: String,
    /// A typeface that ships with the program, or a `.ttf` or `.otf` file beside this one; left out, a sturdy one.
    pub font: Option<String>,
    /// Height of a capital H, as a length or as a share of the band, or of the wall where there is none.
    pub height: Option<Reach>,
    /// Width of the words as a share of the way round the bare part at their middle, instead of a height.
    pub round: Option<Share>,
    /// The middle along the wall: from the rim, from the foot, or as a share of the wall (on a flat part:
    /// down from the centre; left out, 0).
    pub along: Option<Place>,
    /// Middle round the part from the front, as an angle (on a flat part: as a length right of the centre).
    pub around: Option<AroundFile>,
    /// Turned clockwise as seen from outside.
    pub turn: Option<Angle>,
    /// Copies spread evenly round the part.
    #[serde(default = "one")]
    #[schemars(range(min = 1, max = 60))]
    pub repeat: u32,
    /// Rows of copies down the wall; left out, one.
    pub rows: Option<RowsFile>,
    /// How the words lie; left out, level.
    #[serde(default)]
    pub lie: LetteringLie,
    /// With lie = "rising": the angle at which they climb to the right.
    pub rise: Option<Angle>,
    /// Grown all round by this much.
    pub outline: Option<Length>,
    /// With `outline`: only the border, without the letters.
    pub only: Option<OnlyFile>,
}

/// A drawing laid on the surface.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(extend("allOf" = [
    {"oneOf": [{"required": ["path"]}, {"required": ["file"]}]},
    {"oneOf": [{"required": ["width"]}, {"required": ["height"]}, {"required": ["round"]}]}
]))]
pub struct ArtFile {
    /// SVG path data; y grows downwards.
    #[schemars(length(min = 1, max = 1_000_000))]
    pub path: Option<String>,
    /// An SVG file beside this one, or a PNG or JPEG picture to trace.
    pub file: Option<FileName>,
    /// In a picture: the tone of the border, from black (0 %) to white (100 %); left out, 50 %.
    pub threshold: Option<Share>,
    /// In a picture: take what is darker than that (the default), or, with `false`, what is lighter.
    pub darker: Option<bool>,
    /// In a picture: leave out islands and holes smaller than a disc of this width; left out, 0.5 mm.
    pub least: Option<Length>,
    /// Only what is seen in this colour, such as `#12343b`, or in the group of this name.
    #[schemars(length(min = 1, max = 200))]
    pub layer: Option<String>,
    /// Width it is scaled to.
    pub width: Option<Length>,
    /// Height it is scaled to, as a length or as a share of the band, or of the wall where there is none.
    pub height: Option<Reach>,
    /// Width it is scaled to, as a share of the way round the bare part at its middle.
    pub round: Option<Share>,
    /// The middle along the wall: from the rim, from the foot, or as a share of the wall (on a flat part:
    /// down from the centre; left out, 0).
    pub along: Option<Place>,
    /// Middle round the part from the front, as an angle (on a flat part: as a length right of the centre).
    pub around: Option<AroundFile>,
    /// Turned clockwise as seen from outside.
    pub turn: Option<Angle>,
    /// Mirrored left to right before turning.
    #[serde(default)]
    pub mirror: bool,
    /// Copies spread evenly round the part.
    #[serde(default = "one")]
    #[schemars(range(min = 1, max = 60))]
    pub repeat: u32,
    /// Rows of copies down the wall; left out, one.
    pub rows: Option<RowsFile>,
    /// How it lies; left out, level.
    #[serde(default)]
    pub lie: ArtLie,
    /// Grown all round by this much.
    pub outline: Option<Length>,
    /// With `outline`: only the border, without the drawing.
    pub only: Option<OnlyFile>,
}

/// Rows of copies down the wall, the first at `along`.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RowsFile {
    /// How many rows.
    #[schemars(range(min = 1, max = 60))]
    pub count: u32,
    /// From the middle of one row to that of the next along the wall, as a length or as a share of the
    /// band, or of the wall where there is none.
    pub apart: Reach,
    /// Whether every other row is shifted; left out, not.
    #[serde(default)]
    pub drop: DropFile,
}

/// Whether every other row is shifted.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum DropFile {
    /// Copies stand below each other.
    #[default]
    None,
    /// Every other row is shifted to the right by half a step from copy to copy.
    Half,
}

/// How words lie on a part that is not flat.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum LetteringLie {
    /// Along a parallel of the part: level when the cup stands.
    #[default]
    Level,
    /// As a straight sticker lies: level at the middle, the ends climb on a wall that narrows downwards.
    Straight,
    /// Climbing to the right at the angle `rise`.
    Rising,
    /// Letters upright, one below the other.
    Column,
}

/// How a drawing lies on a part that is not flat.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum ArtLie {
    /// Along a parallel of the part: level when the cup stands.
    #[default]
    Level,
    /// As a flat sticker lies: level at the middle, the ends climb on a wall that narrows downwards.
    Straight,
}

/// What is left of art with an outline.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum OnlyFile {
    /// Only the border.
    Outline,
}
