//! What a channel and a tax take of a price, and the least price that leaves a given amount.

use piece::Money;
use piece::money::{BILLION, billionths};
use piece::settings::{Channel, Pricing};

/// Fees and tax on one piece of an order.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Selling {
    /// Name of the channel; `None` for the fees under `pricing` itself.
    pub channel: Option<String>,
    /// Share of the price, billionths.
    pub commission: u64,
    /// Share of what the customer pays, billionths.
    pub card: u64,
    /// Fixed fees for the whole order.
    pub order: Money,
    /// This piece's share of them, rounded up.
    pub fixed: Money,
    /// Fee for offering the piece.
    pub listing: Money,
    /// Tax, if there is one.
    pub tax: Option<TaxRate>,
}

/// A tax in whole numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TaxRate {
    /// Contained in the price.
    pub included: bool,
    /// Share of the price without tax, billionths.
    pub rate: u64,
    /// Rounded for each line, not once for the sum.
    pub by_line: bool,
}

impl TaxRate {
    /// The tax on these lines: on top of them, or contained in them.
    pub fn on(&self, lines: &[Money]) -> Money {
        let one = |amount: Money| match self.included {
            true => amount.share(self.rate, BILLION + self.rate),
            false => amount.part(self.rate),
        };
        match self.by_line {
            true => lines.iter().map(|line| one(*line)).sum(),
            false => one(lines.iter().copied().sum()),
        }
    }
}

impl Selling {
    /// Of a channel, or of the fees under `pricing` itself, for so many pieces in one order.
    pub(crate) fn of(pricing: &Pricing, channel: Option<&Channel>, pieces: u32) -> Self {
        let (commission, card, order, listing) = match channel {
            Some(one) => (one.commission, one.card, one.order + one.card_fixed, one.listing),
            None => (pricing.fee_share, 0.0, pricing.fee_fixed, Money::ZERO),
        };
        let pieces = i64::from(pieces);
        let tax = pricing.tax.map(|tax| TaxRate {
            included: tax.included,
            rate: billionths(tax.rate),
            by_line: tax.by_line,
        });
        Self {
            channel: channel.map(|channel| channel.name.clone()),
            commission: billionths(commission.clamp(0.0, 0.9)),
            card: billionths(card.clamp(0.0, 0.9)),
            order,
            fixed: Money((order.0.max(0) + pieces - 1) / pieces),
            listing,
            tax,
        }
    }

    /// Tax on top of these prices; nothing where it is contained in them.
    pub fn tax_on_top(&self, lines: &[Money]) -> Money {
        self.tax.filter(|tax| !tax.included).map_or(Money::ZERO, |tax| tax.on(lines))
    }

    /// Tax contained in a price.
    pub fn tax_within(&self, price: Money) -> Money {
        self.tax.filter(|tax| tax.included).map_or(Money::ZERO, |tax| tax.on(&[price]))
    }

    /// What the channel takes of a price.
    pub(crate) fn commission_on(&self, price: Money) -> Money {
        price.part(self.commission)
    }

    /// What the card takes of a price, and of the tax on top.
    pub(crate) fn card_on(&self, price: Money) -> Money {
        (price + self.tax_on_top(&[price])).part(self.card)
    }

    /// What is left of a price after fees and tax.
    pub(crate) fn kept(&self, price: Money) -> Money {
        let fees = self.commission_on(price) + self.card_on(price) + self.fixed + self.listing;
        price - self.tax_within(price) - fees
    }

    /// The least price of those allowed that leaves at least `wanted`: those are the multiples of a step,
    /// each with one of the endings more.
    pub(crate) fn least_price(&self, wanted: Money, allowed: &(i64, Vec<Money>)) -> Money {
        let needed = i128::from((wanted + self.fixed + self.listing).0);
        let whole = i128::from(BILLION);
        let (commission, card) = (i128::from(self.commission), i128::from(self.card));
        let rate = i128::from(self.tax.map_or(0, |tax| tax.rate));
        let within = self.tax.is_some_and(|tax| tax.included);
        // Of each billion of the price, before any rounding.
        let left = match within {
            true => whole * whole / (whole + rate) - commission - card,
            false => whole - commission - card - card * rate / whole,
        };
        // Roundings can make a price enough that lies a few minor units lower.
        let about = needed * whole / left.max(1) - 8;
        let about = about.clamp(0, i128::from(i64::MAX / 4)) as i64;
        let mut price = at_least(about, allowed);
        while self.kept(price) < wanted {
            price = at_least(price.0 + 1, allowed);
        }
        price
    }
}

/// The least allowed price that is not below `least`.
fn at_least(least: i64, (step, endings): &(i64, Vec<Money>)) -> Money {
    let with = |ending: &Money| {
        let above = (least - ending.0).rem_euclid(*step);
        if above == 0 { least } else { least + step - above }
    };
    Money(endings.iter().map(with).min().unwrap_or(least).max(0))
}
