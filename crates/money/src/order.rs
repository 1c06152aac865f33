//! From what lacks and who sells to a book for the solver, in whole numbers.

use crate::lack::{Lack, Lacks, in_one_lot};
use crate::purchase::BuyTerms;
use buying::{Book, Item, Postage, Seller, Tier, Want};
use jiff::civil::Date;
use piece::sellers::{Offer, Sellers};
use piece::{Money, Ware};

/// Parts of a unit that amounts are counted in: a hundredth of a millilitre or gram is more than anyone
/// weighs.
const PARTS: f64 = 100.0;
/// A share as whole parts of this, so that worth is reckoned in whole numbers.
const SHARE_PARTS: f64 = 1_000_000.0;

/// A book, and what its wants and offers are.
pub(crate) struct Ordering {
    pub book: Book,
    /// For each want: the line of [`Lacks`], and which of its `needed`; `None` for a refill.
    pub wants: Vec<(usize, Option<usize>)>,
    /// For each offer of the book its index in the sellers file.
    pub offers: Vec<usize>,
}

impl Ordering {
    /// The book of everything that lacks but for the wants in `without`. Items are lines of `lacks`.
    pub fn new(
        lacks: &Lacks,
        sellers: &Sellers,
        terms: &BuyTerms,
        without: &[(usize, Option<usize>)],
    ) -> Self {
        let mut made = Self { book: Book::default(), wants: Vec::new(), offers: Vec::new() };
        for (index, line) in lacks.lines.iter().enumerate() {
            made.book.items.push(Item { one_lot: in_one_lot(&line.ware) });
            made.add_wants(index, line, terms, without);
        }
        made.book.sellers =
            sellers.sellers.iter().map(|seller| self::seller(seller, terms)).collect();
        for (index, offer) in sellers.offers.iter().enumerate() {
            made.add_offer(index, offer, lacks, sellers);
        }
        made
    }

    fn add_wants(
        &mut self,
        index: usize,
        line: &Lack,
        terms: &BuyTerms,
        without: &[(usize, Option<usize>)],
    ) {
        let lacking = line.needed.iter().enumerate().map(|(at, needed)| {
            // Without a day of ordering nobody can be too late.
            let latest = terms.on.and(needed.by).map(day_number);
            (Some(at), needed.lacks, latest)
        });
        for (at, amount, latest) in lacking.chain([(None, line.refill, None)]) {
            let amount = (amount * PARTS - 1e-3).ceil().max(0.0) as u64;
            if amount > 0 && !without.contains(&(index, at)) {
                self.book.wants.push(Want { item: index, amount, latest });
                self.wants.push((index, at));
            }
        }
    }

    fn add_offer(&mut self, index: usize, offer: &Offer, lacks: &Lacks, sellers: &Sellers) {
        let Some(price) = offer.price else { return };
        let line = |ware: &Ware| lacks.lines.iter().position(|line| line.ware.is(ware));
        let held = |(ware, amount): &(Ware, f64)| Some((line(ware)?, parts(*amount)));
        let holds: Vec<(usize, u64)> =
            offer.holds.iter().filter_map(held).filter(|(_, amount)| *amount > 0).collect();
        let wanted = |item: usize| self.book.wants.iter().any(|want| want.item == item);
        if !holds.iter().any(|(item, _)| wanted(*item)) {
            return;
        }
        let worth: Money =
            offer.holds.iter().map(|(ware, amount)| worth(ware, *amount, sellers)).sum();
        self.offers.push(index);
        self.book.offers.push(buying::Offer {
            seller: offer.seller,
            holds,
            price: price.0,
            worth: worth.0.clamp(0, price.0),
            most: offer.most.map(u64::from),
            grams: offer.parcel_g.ceil().max(0.0) as u64,
        });
    }
}

/// What an amount of goods is worth where it is left over: the share that the file tells of the cheapest
/// price at which it is sold alone, rounded once to a minor unit; nothing if it is sold only in kits.
pub(crate) fn worth(ware: &Ware, amount: f64, sellers: &Sellers) -> Money {
    let share = (sellers.leftovers.of(ware) * SHARE_PARTS).round() as u64;
    let alone = sellers.offers.iter().filter_map(|offer| match offer.holds.as_slice() {
        [(held, content)] if held.is(ware) => Some((offer.price?, parts(*content))),
        _ => None,
    });
    // Unit prices are compared crosswise, without division.
    let cheapest = alone.min_by(|(price, content), (other, other_content)| {
        let crosswise = |price: &Money, content: &u64| i128::from(price.0) * i128::from(*content);
        crosswise(price, other_content).cmp(&crosswise(other, content))
    });
    cheapest.map_or(Money::ZERO, |(price, content)| {
        let of = u128::from(share) * u128::from(parts(amount));
        let in_all = u128::from(content) * SHARE_PARTS as u128;
        price
            .share(u64::try_from(of).unwrap_or(u64::MAX), u64::try_from(in_all).unwrap_or(u64::MAX))
    })
}

fn seller(seller: &piece::sellers::Seller, terms: &BuyTerms) -> Seller {
    let postage = match &seller.postage {
        piece::sellers::Postage::BySpend(tiers) => Postage::BySpend(
            tiers.iter().map(|(from, cost)| Tier { from: from.0, postage: cost.0 }).collect(),
        ),
        piece::sellers::Postage::ByWeight { first, included_g, step_g, each } => {
            Postage::ByWeight {
                first: first.0,
                included_g: included_g.floor() as u64,
                step_g: (step_g.floor() as u64).max(1),
                each: each.0,
            }
        }
    };
    Seller {
        postage,
        least_order: seller.least_order.0,
        arrives: terms.on.map_or(0, day_number) + i64::from(seller.lead_days),
    }
}

/// An amount in whole parts of its unit.
fn parts(amount: f64) -> u64 {
    (amount * PARTS + 1e-3).floor().max(0.0) as u64
}

/// An amount in its unit.
pub(crate) fn amount(parts: u64) -> f64 {
    parts as f64 / PARTS
}

/// Days since 1970-01-01.
pub(crate) fn day_number(day: Date) -> i64 {
    let epoch = jiff::civil::date(1970, 1, 1);
    i64::from((day - epoch).get_days())
}

/// The day of this number; the last day there is beyond that.
pub(crate) fn day_of(number: i64) -> Date {
    let span = jiff::Span::new().try_days(number);
    span.and_then(|span| jiff::civil::date(1970, 1, 1).checked_add(span)).unwrap_or(Date::MAX)
}
