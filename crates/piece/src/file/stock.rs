//! A stock file as it is typed: what is on hand. The doc comments here are the descriptions in the JSON
//! Schema.

use super::scalars::{Day, Mass, Name, Time, Volume};
use super::ware::{ContentFile, WareFile};
use schemars::JsonSchema;
use serde::Deserialize;

/// What is on hand.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "Cupwright stock file, format 1")]
pub struct StockFile {
    /// Version of this file format: 1.
    #[schemars(extend("const" = 1))]
    pub cupwright_stock: u32,
    /// Readability of the scale that bags of stones are weighed on; left out, 0.1 g.
    pub scale: Option<Mass>,
    /// What there is, lot by lot.
    #[serde(default)]
    #[schemars(length(max = 4000))]
    pub lot: Vec<LotFile>,
    /// What should always be there.
    #[serde(default)]
    #[schemars(length(max = 1000))]
    pub least: Vec<LeastFile>,
}

/// Goods that came together.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LotFile {
    /// What it is.
    pub of: WareFile,
    /// What is written on it.
    #[schemars(length(min = 1, max = 60))]
    pub label: Option<String>,
    /// How many: stones, sheets, or units of a supply.
    #[schemars(range(min = 0.0, max = 100_000_000.0))]
    pub count: Option<f64>,
    /// How much glue, resin or paint.
    pub volume: Option<Volume>,
    /// How much glitter.
    pub weight: Option<Mass>,
    /// What a hundred of these stones weigh, counted once; with `bag` instead of `count`.
    pub hundred: Option<Mass>,
    /// What the bag weighs with the stones in it.
    pub bag: Option<Mass>,
    /// What the empty bag weighs; left out, nothing.
    pub empty: Option<Mass>,
    /// Day on which it was opened; with `keeps`.
    pub opened: Option<Day>,
    /// How long it keeps once it is open.
    pub keeps: Option<Time>,
    /// Last day on which it may be used.
    pub expires: Option<Day>,
    /// What is kept for pieces.
    #[serde(default)]
    #[schemars(length(max = 100))]
    pub reserved: Vec<ReservedFile>,
}

impl LotFile {
    /// The amount as it is typed.
    pub(crate) fn content(&self) -> ContentFile {
        ContentFile { count: self.count, volume: self.volume, weight: self.weight }
    }
}

/// A part of a lot that is kept for a piece.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ReservedFile {
    /// The piece: the name of its file without `.toml`.
    pub piece: Name,
    /// How many: stones, sheets, or units of a supply.
    #[schemars(range(min = 0.0, max = 100_000_000.0))]
    pub count: Option<f64>,
    /// How much glue, resin or paint.
    pub volume: Option<Volume>,
    /// How much glitter.
    pub weight: Option<Mass>,
}

impl ReservedFile {
    /// The amount as it is typed.
    pub(crate) fn content(&self) -> ContentFile {
        ContentFile { count: self.count, volume: self.volume, weight: self.weight }
    }
}

/// A level below which stock should not fall.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LeastFile {
    /// What of.
    pub of: WareFile,
    /// How many: stones, sheets, or units of a supply.
    #[schemars(range(min = 0.0, max = 100_000_000.0))]
    pub count: Option<f64>,
    /// How much glue, resin or paint.
    pub volume: Option<Volume>,
    /// How much glitter.
    pub weight: Option<Mass>,
}

impl LeastFile {
    /// The amount as it is typed.
    pub(crate) fn content(&self) -> ContentFile {
        ContentFile { count: self.count, volume: self.volume, weight: self.weight }
    }
}
