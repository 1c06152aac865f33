//! One price, and what it leaves.

use crate::price::odds;
use crate::selling::Selling;
use piece::Money;
use piece::money::BILLION;

/// What one piece takes to make.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Made {
    /// Materials of one piece.
    pub materials: Money,
    /// Hands-on time of all pieces, min.
    pub minutes: u64,
    pub pieces: u64,
    pub wage_per_h: Money,
    pub overhead_per_h: Money,
    /// Share of pieces that fail, billionths.
    pub failing: u64,
}

impl Made {
    /// An hourly rate for the time of one piece.
    fn hourly(&self, rate: Money) -> Money {
        rate.share(self.minutes, self.pieces * 60)
    }

    pub fn labour(&self) -> Money {
        self.hourly(self.wage_per_h)
    }

    pub fn overhead(&self) -> Money {
        self.hourly(self.overhead_per_h)
    }

    /// To have one good piece, 1 / (1 - f) are begun: f / (1 - f) are spoilt.
    fn spoilt(&self, amount: Money) -> Money {
        let (failing, well) = odds(self.failing);
        amount.share(failing, well)
    }

    pub fn failure(&self) -> Money {
        self.spoilt(self.materials + self.labour() + self.overhead())
    }

    /// Of it, what is paid for, and not worked.
    pub fn failed_goods(&self) -> Money {
        self.spoilt(self.materials + self.overhead())
    }

    pub fn cost(&self) -> Money {
        self.materials + self.labour() + self.overhead() + self.failure()
    }
}

/// A price and what it leaves.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Level {
    /// The price.
    pub price: Money,
    /// What the channel takes of it.
    pub commission: Money,
    /// What the card takes.
    pub card: Money,
    /// Its share of the fixed fees of the order.
    pub fixed: Money,
    /// Fee for offering it.
    pub listing: Money,
    /// Tax: on top of the price, or within it.
    pub tax: Money,
    /// What the customer pays.
    pub paid: Money,
    /// What is left after fees and tax.
    pub kept: Money,
    /// Of that, what is left after materials, overhead and failed goods: for the hours.
    pub for_hours: Money,
    /// What is left over cost, the wage among it; negative if the wage is not paid in full.
    pub margin: Money,
    /// What an hour earns, hours on pieces that fail among them; nothing if there are no hours.
    pub per_h: Money,
}

impl Level {
    /// All fees.
    pub fn fees(&self) -> Money {
        self.commission + self.card + self.fixed + self.listing
    }

    pub(crate) fn at(price: Money, made: &Made, selling: &Selling) -> Self {
        let on_top = selling.tax_on_top(&[price]);
        let kept = selling.kept(price);
        let for_hours = kept - made.materials - made.overhead() - made.failed_goods();
        let (_, well) = odds(made.failing);
        let per_h = match made.minutes {
            0 => Money::ZERO,
            // Hours of the piece and of those spoilt on the way: minutes / 60 / pieces / (1 - f).
            minutes => share_of_hours(for_hours, made.pieces * 60, well, minutes),
        };
        Self {
            price,
            commission: selling.commission_on(price),
            card: selling.card_on(price),
            fixed: selling.fixed,
            listing: selling.listing,
            tax: on_top + selling.tax_within(price),
            paid: price + on_top,
            kept,
            for_hours,
            margin: kept - made.cost(),
            per_h,
        }
    }
}

/// `amount` × `parts` × `well` / (`minutes` × a billion), rounded once.
fn share_of_hours(amount: Money, parts: u64, well: u64, minutes: u64) -> Money {
    // Both products stay below 2^64: at most a thousand pieces, and ten years of minutes.
    match (parts.checked_mul(well), minutes.checked_mul(BILLION)) {
        (Some(of), Some(in_all)) => amount.share(of, in_all),
        _ => amount.share(parts, minutes).share(well, BILLION),
    }
}
