//! The price of one piece, from cost upwards.
//!
//! Materials and time of the whole quantity, shared by its pieces; failures as the share of makes
//! that must be made again; profit on cost; then the price at which the channel's fees leave all of
//! that, rounded up. Every part is rounded to a minor unit once, so that the parts add up exactly,
//! and comes from figures that can be printed in full, so that anyone can multiply it out again.

use crate::Bill;
use crate::bill::MOST;
use piece::{Diagnostic, FieldPath, Money, Piece, Settings};
use work::Steps;

/// The price of one piece and how it came about.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Price {
    /// Pieces made together, which share what follows.
    pub pieces: u32,
    /// Hands-on time for all of them, in the whole minutes that are paid, min.
    pub hands_on_min: u64,
    /// Materials used.
    pub materials: Money,
    /// Wage for hands-on time.
    pub labour: Money,
    /// Overhead for hands-on time.
    pub overhead: Money,
    /// Share for pieces that fail.
    pub failure: Money,
    /// Floor: the four above; below it money is lost.
    pub cost: Money,
    /// Profit.
    pub profit: Money,
    /// Of the fees, this piece's share of the fixed fee for the order, rounded up.
    pub fee_fixed: Money,
    /// Channel and card fees at the asked price.
    pub fees: Money,
    /// Asked, rounded up.
    pub asked: Money,
    /// What is left over cost and fees.
    pub margin: Money,
    /// What an hour of hands-on time really earns: wage and margin.
    pub earned_per_h: Money,
}

impl Price {
    /// What rounding the asked price up adds to the profit.
    pub fn rounding(&self) -> Money {
        self.margin - self.profit
    }

    /// Asked for all pieces.
    pub fn asked_for_all(&self) -> Money {
        self.asked.share(u64::from(self.pieces), 1)
    }
}

/// The price of one piece.
///
/// # Errors
/// Rates and hours that come to more than can be reckoned with.
pub fn plan_price(
    piece: &Piece,
    settings: &Settings,
    bill: &Bill,
    steps: &Steps,
) -> Result<Price, Vec<Diagnostic>> {
    let pieces = piece.quantity.max(1);
    let in_all = u64::from(pieces);
    let hands_on_min = steps.hands_on_for_min(pieces).round() as u64;
    // Minutes of one piece, as parts of an hour: so many of so many.
    let minutes = (hands_on_min, in_all * 60);
    let pricing = &settings.pricing;
    let materials = bill.cost_used().share(1, in_all);
    let labour = settings.maker.wage_per_h.share(minutes.0, minutes.1);
    let overhead = pricing.overhead_per_h.share(minutes.0, minutes.1);
    let made = materials + labour + overhead;
    // To have one good piece, 1 / (1 - f) are begun.
    let failing = pricing.failure.clamp(0.0, 0.9);
    let failure = made.times(failing / (1.0 - failing));
    let cost = made + failure;
    let profit = cost.times(pricing.profit.max(0.0));
    let fee_fixed = Money((pricing.fee_fixed.0.max(0) + i64::from(pieces) - 1) / i64::from(pieces));
    let fee_share = pricing.fee_share.clamp(0.0, 0.9);
    let fees_at = |asked: Money| asked.times(fee_share) + fee_fixed;
    let wanted = cost + profit;
    if (wanted + fee_fixed).share(in_all, 1) > MOST {
        return Err(vec![absurd(settings, hands_on_min)]);
    }
    let step = pricing.round_to.0.max(1);
    let least = ((wanted + fee_fixed).0 as f64 / (1.0 - fee_share)).ceil() as i64;
    let mut asked = Money((least - 1).div_euclid(step) * step + step);
    while asked - fees_at(asked) < wanted {
        asked += Money(step);
    }
    let fees = fees_at(asked);
    let margin = asked - fees - cost;
    let earned_per_h = match hands_on_min {
        0 => Money::ZERO,
        _ => (labour + margin).share(minutes.1, minutes.0),
    };
    Ok(Price {
        pieces,
        hands_on_min,
        materials,
        labour,
        overhead,
        failure,
        cost,
        profit,
        fee_fixed,
        fees,
        asked,
        margin,
        earned_per_h,
    })
}

fn absurd(settings: &Settings, hands_on_min: u64) -> Diagnostic {
    let show = |amount: Money| settings.currency.show(amount);
    let message = format!(
        "cost and profit of the order come to more than {}, the most that can be reckoned with: {} h of hands-on time at {} and {} of overhead an hour",
        show(MOST),
        hands_on_min / 60,
        show(settings.maker.wage_per_h),
        show(settings.pricing.overhead_per_h)
    );
    Diagnostic::error(FieldPath::root().key("quantity"), message).hint(
        "look at the times, rates, prices and shares in the studio's settings, and at the quantity",
    )
}
