//! What a studio counts besides its products, as written in a studio file.

use crate::file::scalars::{Amount, Share, Time};
use schemars::JsonSchema;
use serde::Deserialize;

/// Something bought by the piece.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SupplyFile {
    /// What it is.
    #[schemars(length(min = 1, max = 80))]
    pub name: String,
    /// What it counts with.
    pub per: SupplyPerFile,
    /// How many for each of those.
    #[schemars(range(min = 0.0, max = 1000.0))]
    pub amount: f64,
    /// Unit word: pair, sheet, each.
    #[schemars(length(min = 1, max = 20))]
    pub unit: String,
    /// Price of a pack.
    pub pack_price: Amount,
    /// Units in a pack.
    #[schemars(range(min = 0.01, max = 1_000_000.0))]
    pub pack: f64,
}

/// What a supply counts with.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum SupplyPerFile {
    /// Each piece.
    Piece,
    /// Each body.
    Body,
    /// Each lid.
    Lid,
    /// Each topper.
    Topper,
    /// Each pour of resin.
    Pour,
    /// Each sanding.
    Sanding,
}

/// Hands-on times, unless said otherwise.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TimesFile {
    /// Wash, degrease, scuff and wipe, for each part.
    pub prepare: Time,
    /// Mask rim and foot, for each part that is coated.
    pub mask: Time,
    /// One coat of paint on one part.
    pub paint_coat: Time,
    /// Glitter one zone.
    pub glitter: Time,
    /// Weigh, mix, pour, spread and torch one coat on one part.
    pub pour: Time,
    /// Stay with the turner after a pour.
    pub watch: Time,
    /// Sand, wash and wipe one part.
    pub sand: Time,
    /// Cut, weed, place and burnish, for each zone of film.
    pub vinyl_zone: Time,
    /// The same, for each separate shape in it.
    pub vinyl_shape: Time,
    /// Wait after film, before resin.
    pub vinyl_rest: Time,
    /// Lay out tools and sort stones, for each sitting of setting.
    pub sitting_setup: Time,
    /// Longest sitting of setting.
    pub sitting: Time,
    /// Check, photograph, clean.
    pub finish: Time,
    /// Pack with card and repair kit.
    pub pack: Time,
    /// Messages, artwork and buying, for each order.
    pub order: Time,
    /// Days from ordering until the goods are there; left out, they are in the drawer.
    #[serde(default)]
    #[schemars(range(min = 0, max = 120))]
    pub delivery_days: u32,
    /// Days in the post before the due day.
    #[schemars(range(min = 0, max = 60))]
    pub post_days: u32,
}

/// How a price is made.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PricingFile {
    /// Power, rent and tools, for each hands-on hour.
    pub overhead_per_h: Amount,
    /// Share of pieces that fail and are made again.
    pub failure: Share,
    /// Added to cost for profit, as a share of cost.
    pub profit: Share,
    /// Share of the price that a channel and the card take.
    pub fee: Share,
    /// Fixed fee for each order.
    pub fee_fixed: Amount,
    /// Asked price is rounded up to a multiple of this.
    pub round_to: Amount,
    /// What an asked price may be above such a multiple: with `round_to` of 10.00, 4.50 and 9.50 give
    /// 64.50, 69.50, 74.50 and so on; left out, nothing.
    #[schemars(length(min = 1, max = 20))]
    pub endings: Option<Vec<Amount>>,
    /// Where pieces are sold, each with its fees.
    #[schemars(length(max = 40))]
    #[serde(default)]
    pub channel: Vec<ChannelFile>,
    /// Tax on sales; left out, none.
    pub tax: Option<TaxFile>,
}

/// Where pieces are sold, and what that takes.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ChannelFile {
    /// What it is called, such as online.
    #[schemars(length(min = 1, max = 60))]
    pub name: String,
    /// Share of the price that it takes; left out, none.
    pub commission: Option<Share>,
    /// Share of what the customer pays that the card takes; left out, none.
    pub card: Option<Share>,
    /// Fixed part of the card's fee, for each order.
    pub card_fixed: Option<Amount>,
    /// Fixed fee for each order besides.
    pub order: Option<Amount>,
    /// Fee for each piece that is offered.
    pub listing: Option<Amount>,
}

/// Tax on sales.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TaxFile {
    /// Added on top of the price, or included in it.
    pub how: TaxHowFile,
    /// Share of the price without tax.
    pub rate: Share,
    /// Rounded for each line of an invoice, or once for its sum.
    pub rounded: TaxRoundedFile,
}

/// Where the tax is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum TaxHowFile {
    /// On top of the price.
    Added,
    /// In the price.
    Included,
}

/// How tax is rounded.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum TaxRoundedFile {
    /// Each line by itself.
    Line,
    /// The sum once.
    Total,
}
