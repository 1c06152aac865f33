//! The price of one piece, from cost upwards.
//!
//! Materials and time of the whole quantity, shared by its pieces; failures as the share of makes
//! that must be made again; profit on cost; then the price at which the channel's fees leave all of
//! that, rounded up. Every part is rounded to a minor unit once, so that the parts add up exactly.

use crate::Bill;
use piece::{Money, Piece, Settings};
use work::Steps;

/// The price of one piece and how it came about.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Price {
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
    /// Channel and card fees at the asked price.
    pub fees: Money,
    /// Asked, rounded up.
    pub asked: Money,
    /// What is left over cost and fees.
    pub margin: Money,
    /// What an hour of hands-on time really earns: wage and margin.
    pub earned_per_h: Money,
}

/// The price of one piece.
pub fn plan_price(piece: &Piece, settings: &Settings, bill: &Bill, steps: &Steps) -> Price {
    let pieces = piece.quantity.max(1);
    let hours = steps.hands_on_for_min(pieces) / 60.0 / f64::from(pieces);
    let pricing = &settings.pricing;
    let materials = bill.cost_used().times(1.0 / f64::from(pieces));
    let labour = settings.maker.wage_per_h.times(hours);
    let overhead = pricing.overhead_per_h.times(hours);
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
    let step = pricing.round_to.0.max(1);
    let least = ((wanted + fee_fixed).0 as f64 / (1.0 - fee_share)).ceil() as i64;
    let mut asked = Money((least - 1).div_euclid(step) * step + step);
    while asked - fees_at(asked) < wanted {
        asked += Money(step);
    }
    let fees = fees_at(asked);
    let margin = asked - fees - cost;
    let earned_per_h = if hours > 0.0 { (labour + margin).times(1.0 / hours) } else { Money::ZERO };
    Price { materials, labour, overhead, failure, cost, profit, fees, asked, margin, earned_per_h }
}
