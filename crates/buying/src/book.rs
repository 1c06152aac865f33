//! What is wanted, and who sells it.

/// Everything that an order is made from. Lists refer to each other by index.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Book {
    /// Kinds of goods.
    pub items: Vec<Item>,
    /// What is wanted of them, beyond what is on hand.
    pub wants: Vec<Want>,
    /// Who sells.
    pub sellers: Vec<Seller>,
    /// What they sell.
    pub offers: Vec<Offer>,
}

/// A kind of goods.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Item {
    /// Whether all that one want takes must come from one seller, as colours differ from lot to lot.
    pub one_lot: bool,
}

/// An amount that is wanted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Want {
    /// Which item.
    pub item: usize,
    /// How much, in the item's unit; more than 0.
    pub amount: u64,
    /// Last day on which it may arrive; `None` for any day.
    pub latest: Option<i64>,
}

/// Someone who sells.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Seller {
    /// What postage is asked.
    pub postage: Postage,
    /// Least that the goods of an order come to, minor units.
    pub least_order: i64,
    /// Day on which the goods would arrive.
    pub arrives: i64,
}

/// What postage is asked for a parcel.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Postage {
    /// By what the goods come to: the last tier that is reached. The first begins at 0; they rise.
    BySpend(Vec<Tier>),
    /// By weight.
    ByWeight {
        /// Up to `included_g`, minor units.
        first: i64,
        /// Grams that `first` pays for.
        included_g: u64,
        /// Grams in each step beyond; at least 1.
        step_g: u64,
        /// For each step begun, minor units.
        each: i64,
    },
}

/// Postage from an amount of goods on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Tier {
    /// From which amount of goods on, minor units.
    pub from: i64,
    /// Postage, minor units.
    pub postage: i64,
}

/// One kind of pack of one seller.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Offer {
    /// Who sells it.
    pub seller: usize,
    /// Items in it and how much of each, no item twice; amounts above 0. A kit holds several.
    pub holds: Vec<(usize, u64)>,
    /// Price of a pack, minor units.
    pub price: i64,
    /// What its content is worth where it is left over, minor units, 0 to `price`.
    pub worth: i64,
    /// Most packs that there are; `None` for any number.
    pub most: Option<u64>,
    /// What a pack weighs in the parcel, g.
    pub grams: u64,
}

/// Largest money, amount and weight of one pack, want or tier: sums of many stay whole in `i64`, and
/// each is a number of its own in floating point.
const LARGEST: u64 = 1_000_000_000_000;

impl Book {
    /// The first thing that makes no sense, in words.
    ///
    /// # Errors
    /// An index that leads nowhere, an amount of 0 or beyond all reason, tiers out of order.
    pub fn check(&self) -> Result<(), String> {
        let large = |value: i64| !(0..=LARGEST as i64).contains(&value);
        for (number, want) in self.wants.iter().enumerate() {
            if want.item >= self.items.len() || want.amount == 0 || want.amount > LARGEST {
                return Err(format!("want {number} has no item, or no amount that can be bought"));
            }
        }
        for (number, seller) in self.sellers.iter().enumerate() {
            let fits = match &seller.postage {
                Postage::BySpend(tiers) => {
                    tiers.first().is_some_and(|first| first.from == 0)
                        && tiers.windows(2).all(|two| two[0].from < two[1].from)
                        && !tiers.iter().any(|tier| large(tier.from) || large(tier.postage))
                }
                Postage::ByWeight { first, included_g, step_g, each } => {
                    !large(*first)
                        && !large(*each)
                        && *included_g <= LARGEST
                        && (1..=LARGEST).contains(step_g)
                }
            };
            if !fits || large(seller.least_order) {
                return Err(format!("seller {number} asks a postage that cannot be reckoned"));
            }
        }
        for (number, offer) in self.offers.iter().enumerate() {
            let held = &offer.holds;
            let items = held.iter().all(|(item, amount)| {
                *item < self.items.len()
                    && (1..=LARGEST).contains(amount)
                    && held.iter().filter(|(other, _)| other == item).count() == 1
            });
            let money = !large(offer.price) && (0..=offer.price).contains(&offer.worth);
            if offer.seller >= self.sellers.len()
                || held.is_empty()
                || !items
                || !money
                || offer.grams > LARGEST
            {
                return Err(format!(
                    "offer {number} has a seller, content or price that cannot be"
                ));
            }
        }
        Ok(())
    }

    /// How much of an item is wanted in all.
    pub(crate) fn wanted(&self, item: usize) -> u64 {
        self.wants.iter().filter(|want| want.item == item).map(|want| want.amount).sum()
    }

    /// How much of an item a pack of an offer holds.
    pub(crate) fn held(&self, offer: usize, item: usize) -> u64 {
        let holds = self.offers[offer].holds.iter();
        holds.filter(|(held, _)| *held == item).map(|(_, amount)| *amount).sum()
    }

    /// Whether goods of a seller arrive by a day.
    pub(crate) fn in_time(&self, seller: usize, latest: Option<i64>) -> bool {
        latest.is_none_or(|latest| self.sellers[seller].arrives <= latest)
    }

    /// Most packs of an offer that any order needs: as many as cover all that is wanted of what it holds,
    /// or as lift the goods to the dearest threshold of its seller on their own; one more can go back.
    pub(crate) fn most_packs(&self, offer: usize) -> u64 {
        let told = &self.offers[offer];
        let covering = told.holds.iter().map(|(item, amount)| self.wanted(*item).div_ceil(*amount));
        let covering = covering.max().unwrap_or(0);
        let seller = &self.sellers[told.seller];
        let threshold = match &seller.postage {
            Postage::BySpend(tiers) => tiers.last().map_or(0, |tier| tier.from),
            Postage::ByWeight { .. } => 0,
        };
        let threshold = threshold.max(seller.least_order).unsigned_abs();
        // What costs nothing lifts nothing.
        let lifting = match told.price.unsigned_abs() {
            0 => 0,
            price => threshold.div_ceil(price),
        };
        if covering == 0 {
            return 0;
        }
        covering.max(lifting).min(told.most.unwrap_or(u64::MAX))
    }
}

impl Seller {
    /// Postage for a parcel of goods worth `goods` minor units that weigh `grams`.
    pub fn postage(&self, goods: i64, grams: u64) -> i64 {
        match &self.postage {
            Postage::BySpend(tiers) => {
                tiers.iter().rev().find(|tier| tier.from <= goods).map_or(0, |tier| tier.postage)
            }
            Postage::ByWeight { first, included_g, step_g, each } => {
                let steps = grams.saturating_sub(*included_g).div_ceil(*step_g);
                first.saturating_add(each.saturating_mul(steps as i64))
            }
        }
    }
}
