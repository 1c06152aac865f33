//! A sellers file as it is typed: who sells what. The doc comments here are the descriptions in the JSON
//! Schema.

use super::scalars::{Amount, Mass, Name, Share, Volume};
use super::ware::{ContentFile, WareFile};
use schemars::JsonSchema;
use serde::Deserialize;

/// Who sells what, and at which postage.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "Cupwright sellers file, format 1")]
pub struct SellersFile {
    /// Version of this file format: 1.
    #[schemars(extend("const" = 1))]
    pub cupwright_sellers: u32,
    /// What is left over is worth this share of its cheapest price; left out, nothing.
    #[serde(default)]
    pub leftovers: LeftoversFile,
    /// Who sells.
    #[serde(default)]
    #[schemars(length(max = 40))]
    pub seller: Vec<SellerFile>,
    /// What they sell.
    #[serde(default)]
    #[schemars(length(max = 4000))]
    pub offer: Vec<OfferFile>,
}

/// Shares of the price that leftovers are worth, by kind of goods.
#[derive(Debug, Clone, PartialEq, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LeftoversFile {
    /// Of stones.
    pub stones: Option<Share>,
    /// Of glue.
    pub glue: Option<Share>,
    /// Of resin.
    pub resin: Option<Share>,
    /// Of paint.
    pub paint: Option<Share>,
    /// Of glitter.
    pub glitter: Option<Share>,
    /// Of film and transfer tape.
    pub film: Option<Share>,
    /// Of supplies.
    pub supplies: Option<Share>,
}

/// Someone who sells.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SellerFile {
    /// Short name.
    pub name: Name,
    /// Name for people; left out, the short one.
    #[schemars(length(min = 1, max = 120))]
    pub title: Option<String>,
    /// ISO 4217 code of the prices; left out, the studio's.
    #[schemars(length(min = 3, max = 3))]
    pub currency: Option<String>,
    /// Days from ordering until the goods are there.
    #[schemars(range(min = 0, max = 365))]
    pub lead_days: u32,
    /// Least that the goods of an order come to.
    pub least_order: Option<Amount>,
    /// Postage by what the goods come to; either this or `parcel`.
    #[schemars(length(min = 1, max = 12))]
    pub postage: Option<Vec<PostageFile>>,
    /// Postage by weight.
    pub parcel: Option<ParcelFile>,
}

/// Postage from an amount of goods on.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PostageFile {
    /// From which amount of goods on; left out in the first, which holds from the start.
    pub from: Option<Amount>,
    /// What the postage is.
    pub cost: Amount,
}

/// Postage by weight.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ParcelFile {
    /// Postage of a parcel up to `includes`.
    pub first: Amount,
    /// Weight that `first` pays for.
    pub includes: Mass,
    /// Weight of each step beyond.
    pub step: Mass,
    /// Postage of each step begun.
    pub each: Amount,
}

/// One kind of pack.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct OfferFile {
    /// Short name of the seller.
    pub seller: Name,
    /// What is in the pack; either this or `holds`.
    pub of: Option<WareFile>,
    /// How many are in it: stones, sheets, or units of a supply.
    #[schemars(range(min = 0.01, max = 100_000_000.0))]
    pub count: Option<f64>,
    /// How much glue, resin or paint is in it.
    pub volume: Option<Volume>,
    /// How much glitter is in it.
    pub weight: Option<Mass>,
    /// What a kit holds, where that is more than one kind of goods.
    #[schemars(length(min = 1, max = 20))]
    pub holds: Option<Vec<HoldsFile>>,
    /// Price of a pack; left out, it is not known, and the pack is not bought.
    pub price: Option<Amount>,
    /// Most packs that there are; left out, as many as wanted.
    #[schemars(range(min = 0, max = 1_000_000))]
    pub most: Option<u32>,
    /// What a pack weighs in the parcel, where postage goes by weight.
    pub parcel_weight: Option<Mass>,
    /// The seller's number or name of it.
    #[schemars(length(min = 1, max = 80))]
    pub article: Option<String>,
}

impl OfferFile {
    /// The amount as it is typed.
    pub(crate) fn content(&self) -> ContentFile {
        ContentFile { count: self.count, volume: self.volume, weight: self.weight }
    }
}

/// One kind of goods in a kit.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct HoldsFile {
    /// What it is.
    pub of: WareFile,
    /// How many: stones, sheets, or units of a supply.
    #[schemars(range(min = 0.01, max = 100_000_000.0))]
    pub count: Option<f64>,
    /// How much glue, resin or paint.
    pub volume: Option<Volume>,
    /// How much glitter.
    pub weight: Option<Mass>,
}

impl HoldsFile {
    /// The amount as it is typed.
    pub(crate) fn content(&self) -> ContentFile {
        ContentFile { count: self.count, volume: self.volume, weight: self.weight }
    }
}
