//! Who sells what: the sellers file with every amount in the unit of its goods.

use crate::{Money, Ware};

/// Everything that a sellers file says; all prices are in the studio's currency.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Sellers {
    /// Who sells; no name twice.
    pub sellers: Vec<Seller>,
    /// What they sell.
    pub offers: Vec<Offer>,
    /// What leftovers are worth.
    pub leftovers: Leftovers,
}

/// Shares of the cheapest price that leftovers are worth, 0 to 1.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Leftovers {
    /// Of stones.
    pub stones: f64,
    /// Of glue.
    pub glue: f64,
    /// Of resin.
    pub resin: f64,
    /// Of paint.
    pub paint: f64,
    /// Of glitter.
    pub glitter: f64,
    /// Of film and transfer tape.
    pub film: f64,
    /// Of supplies.
    pub supplies: f64,
}

impl Leftovers {
    /// The share for these goods.
    pub fn of(&self, ware: &Ware) -> f64 {
        match ware {
            Ware::Stones { .. } => self.stones,
            Ware::Glue => self.glue,
            Ware::Resin => self.resin,
            Ware::Paint { .. } => self.paint,
            Ware::Glitter { .. } => self.glitter,
            Ware::Film { .. } | Ware::TransferTape => self.film,
            Ware::Supply { .. } => self.supplies,
        }
    }
}

/// Someone who sells.
#[derive(Debug, Clone, PartialEq)]
pub struct Seller {
    /// Short name, fit for a file name.
    pub name: String,
    /// Name for people.
    pub title: String,
    /// Days from ordering until the goods are there.
    pub lead_days: u32,
    /// Least that the goods of an order come to.
    pub least_order: Money,
    /// What postage is asked.
    pub postage: Postage,
}

/// What postage is asked for a parcel.
#[derive(Debug, Clone, PartialEq)]
pub enum Postage {
    /// From which amount of goods on, and how much; the first from nothing on, rising.
    BySpend(Vec<(Money, Money)>),
    /// By weight.
    ByWeight {
        /// Up to `included_g`.
        first: Money,
        /// What `first` pays for, g.
        included_g: f64,
        /// Each step beyond, g.
        step_g: f64,
        /// Postage of each step begun.
        each: Money,
    },
}

/// One kind of pack.
#[derive(Debug, Clone, PartialEq)]
pub struct Offer {
    /// Index of the seller.
    pub seller: usize,
    /// What is in a pack and how much of each.
    pub holds: Vec<(Ware, f64)>,
    /// Price of a pack; `None` if it is not known.
    pub price: Option<Money>,
    /// Most packs that there are.
    pub most: Option<u32>,
    /// What a pack weighs in the parcel, g; 0 if it is not told.
    pub parcel_g: f64,
    /// The seller's number or name of it.
    pub article: Option<String>,
}
