//! A piece file as it is typed. The doc comments here are the descriptions in the JSON Schema.

use super::named::Named;
use super::part::PartFile;
use super::scalars::{Day, Letter, Srgb};
use super::strength::StrengthFile;
use super::zone::ZoneFile;
use schemars::JsonSchema;
use serde::Deserialize;

/// A piece: one decorated cup with everything that belongs to it.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "Cupwright piece file, format 1")]
pub struct PieceFile {
    /// Version of this file format: 1.
    #[schemars(extend("const" = 1))]
    pub cupwright: u32,
    /// Title, as the customer knows it.
    #[schemars(length(min = 1, max = 120))]
    pub title: String,
    /// Notes that the customer may read.
    #[serde(default)]
    #[schemars(length(max = 4000))]
    pub notes: String,
    /// How many of it are made.
    #[serde(default = "one")]
    #[schemars(range(min = 1, max = 1000))]
    pub quantity: u32,
    /// Day it must be with the customer.
    pub due: Option<Day>,
    /// What it will hold.
    #[serde(default)]
    pub drinks: DrinksFile,
    /// Made for a child of 12 or under.
    #[serde(default)]
    pub for_child: bool,
    /// Seed of everything random; another seed gives another scatter.
    #[serde(default = "seed")]
    #[schemars(range(min = 0, max = 9_007_199_254_740_991_u64))]
    pub seed: u64,
    /// Colours by the maker's own names; blank, paint, glitter, film and stones share them.
    #[serde(default)]
    #[schemars(extend("maxProperties" = 100))]
    pub colours: Named<ColourFile>,
    /// Separate surfaces: body, lid, topper.
    #[schemars(length(min = 1, max = 12))]
    pub part: Vec<PartFile>,
    /// Finishes in the order of work; a later one lies on top.
    #[serde(default)]
    #[schemars(length(max = 60))]
    pub zone: Vec<ZoneFile>,
    /// The design with fewer stones, to be offered beside the whole one; left out, a rule makes two.
    #[serde(default)]
    #[schemars(length(max = 8))]
    pub strength: Vec<StrengthFile>,
}

pub(super) fn one() -> u32 {
    1
}

fn seed() -> u64 {
    1
}

/// What a cup holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum DrinksFile {
    /// Cold drinks only.
    #[default]
    Cold,
    /// Hot drinks, perhaps also cold ones.
    Hot,
}

/// A colour: `"#rrggbb"`, or a table that also gives its letter.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(untagged)]
pub enum ColourFile {
    /// Only the colour; its letter is given out automatically.
    Srgb(Srgb),
    /// The colour and its letter.
    Lettered(LetteredColour),
}

/// A colour with the letter that tells it apart on paper.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LetteredColour {
    /// The colour in sRGB.
    pub srgb: Srgb,
    /// One or two capital letters printed beside or inside stones of this colour.
    pub letter: Option<Letter>,
}
