//! Finishes as they are typed, but for stones.

use super::piece::one;
use super::scalars::Length;
use crate::Pressed;
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
    /// How many times it is sprinkled, each time on a fresh bed.
    #[serde(default = "one")]
    #[schemars(range(min = 1, max = 6))]
    pub layers: u32,
    /// How the flakes are laid down.
    #[serde(default)]
    pub pressed: PressedFile,
}

/// How flakes are laid down.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum PressedFile {
    /// Patted down with a gloved hand.
    #[default]
    Patted,
    /// Left as they fell.
    Loose,
    /// Rolled flat.
    Rolled,
}

impl From<PressedFile> for Pressed {
    fn from(file: PressedFile) -> Self {
        match file {
            PressedFile::Patted => Self::Patted,
            PressedFile::Loose => Self::Loose,
            PressedFile::Rolled => Self::Rolled,
        }
    }
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
    /// How it meets film of earlier zones that it lies on or touches; left out, that stays whole.
    #[serde(default)]
    pub join: JoinFile,
    /// How far the film beneath runs on under its edge, or keeps back from it; left out, as the studio says. Only with `join = "overlap"` or `"choke"`.
    pub trap: Option<Length>,
    /// How its pieces may be turned on the sheet; left out, by quarters.
    #[serde(default)]
    pub turns: TurnsFile,
    /// Whether it is cut from its back, as film to be pressed on with heat is: the cut file is mirrored.
    #[serde(default)]
    pub mirrored: bool,
    /// Split it by relief cuts where the wall is curved both ways and it would have to stretch more than
    /// the studio's film bears; left out, it stays whole.
    #[serde(default)]
    pub relief: bool,
    /// Whether three crosses lie beside each layer of art that lies in several films; left out, true.
    pub registration: Option<bool>,
}

/// How film meets film beneath it.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum JoinFile {
    /// The film beneath stays whole.
    #[default]
    Whole,
    /// The film beneath ends where this begins, edge to edge.
    Butt,
    /// The film beneath ends under this, by the trap.
    Overlap,
    /// The film beneath stays whole but for its edge under this, which keeps back by the trap.
    Choke,
}

/// How pieces of film may be turned on the sheet.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum TurnsFile {
    /// Not at all: film with a pattern that has an upper end.
    None,
    /// Upside down: film with a grain.
    Half,
    /// By quarters: plain film.
    #[default]
    Quarter,
}
