//! What a studio counts besides its products: supplies, times, and how a price is made.

use crate::Money;

/// Something bought by the piece.
#[derive(Debug, Clone, PartialEq)]
pub struct Supply {
    /// What it is.
    pub name: String,
    /// What it counts with.
    pub per: SupplyPer,
    /// How many for each of those.
    pub amount: f64,
    /// Unit word: `pair`, `sheet`, `each`.
    pub unit: String,
    /// Price of a pack.
    pub pack_price: Money,
    /// Units in a pack.
    pub pack: f64,
}

/// What a supply counts with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SupplyPer {
    /// Each piece.
    Piece,
    /// Each body, lid or topper.
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

/// Hands-on times, min, unless said otherwise.
#[derive(Debug, Clone, PartialEq)]
pub struct Times {
    /// Wash, degrease, scuff and wipe, for each part.
    pub prepare_min: f64,
    /// Mask rim and foot, for each part that is coated.
    pub mask_min: f64,
    /// One coat of paint on one part.
    pub paint_coat_min: f64,
    /// Glitter one zone.
    pub glitter_min: f64,
    /// Weigh, mix, pour, spread and torch one coat on one part.
    pub pour_min: f64,
    /// Stay with the turner after a pour.
    pub watch_min: f64,
    /// Sand, wash and wipe one part.
    pub sand_min: f64,
    /// Cut, weed, place and burnish: for each zone of film.
    pub vinyl_zone_min: f64,
    /// The same, for each separate shape in it.
    pub vinyl_shape_min: f64,
    /// After film, before resin, waiting.
    pub vinyl_rest_min: f64,
    /// Lay out tools and sort stones, for each sitting of setting.
    pub sitting_setup_min: f64,
    /// Longest sitting of setting.
    pub sitting_min: f64,
    /// Check, photograph, clean.
    pub finish_min: f64,
    /// Pack with card and repair kit.
    pub pack_min: f64,
    /// Messages, artwork and buying, for each order.
    pub order_min: f64,
    /// How much longer than usual a stone takes in a layout, by the layout's word; those left out take 1.
    pub layout_pace: Vec<(&'static str, f64)>,
    /// Days from ordering until the goods are there and the first part can be prepared.
    pub delivery_days: u32,
    /// Days in the post before the due day.
    pub post_days: u32,
}

impl Times {
    /// How much longer than usual a stone takes in this layout.
    pub fn pace_in(&self, layout: &str) -> f64 {
        self.layout_pace.iter().find(|(word, _)| *word == layout).map_or(1.0, |(_, pace)| *pace)
    }
}

/// How a price is made.
#[derive(Debug, Clone, PartialEq)]
pub struct Pricing {
    /// Power, rent, tools, by the hands-on hour.
    pub overhead_per_h: Money,
    /// Share of pieces that fail and are made again.
    pub failure: f64,
    /// Added to cost for profit, as a share of cost.
    pub profit: f64,
    /// Share of the price a channel and the card take.
    pub fee_share: f64,
    /// Fixed fee for each order.
    pub fee_fixed: Money,
    /// Asked price is rounded up to a multiple of this, and one of [`Pricing::endings`] more.
    pub round_to: Money,
    /// What an asked price may be above a multiple of `round_to`; never empty, in order.
    pub endings: Vec<Money>,
    /// Where pieces are sold, each with its fees; no name twice.
    pub channels: Vec<Channel>,
    /// Tax on sales; `None` for none.
    pub tax: Option<Tax>,
}

/// Where pieces are sold, and what that takes.
#[derive(Debug, Clone, PartialEq)]
pub struct Channel {
    /// What it is called.
    pub name: String,
    /// Share of the price that it takes.
    pub commission: f64,
    /// Share of what the customer pays that the card takes.
    pub card: f64,
    /// Fixed part of the card's fee, for each order.
    pub card_fixed: Money,
    /// Fixed fee for each order besides.
    pub order: Money,
    /// Fee for each piece that is offered.
    pub listing: Money,
}

/// Tax on sales.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tax {
    /// Contained in the price; otherwise put on top of it.
    pub included: bool,
    /// Share of the price without tax.
    pub rate: f64,
    /// Rounded for each line; otherwise once for the sum.
    pub by_line: bool,
}
