//! The price of one piece, from cost upwards.
//!
//! Materials and time of the whole quantity, shared by its pieces; failures as the share of makes
//! that must be made again; profit on cost; then the price at which the channel's fees and the tax leave
//! all of that, rounded up. Every part is rounded to a minor unit once, so that the parts add up
//! exactly, and comes from figures that can be printed in full, so that anyone can multiply it out again.

use crate::Bill;
use crate::bill::MOST;
use crate::level::{Level, Made};
use crate::rules::{Rule, rules};
use crate::selling::Selling;
use piece::money::{BILLION, billionths};
use piece::settings::Channel;
use piece::{Diagnostic, FieldPath, Money, Piece, Settings};
use work::Steps;

/// The price of one piece and how it came about.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Price {
    /// Pieces made together, which share what follows.
    pub pieces: u32,
    /// Hands-on time for all of them, in the whole minutes that are paid, min.
    pub hands_on_min: u64,
    /// Fees and tax that it is sold with.
    pub selling: Selling,
    /// Materials used.
    pub materials: Money,
    /// Wage for hands-on time.
    pub labour: Money,
    /// Overhead for hands-on time.
    pub overhead: Money,
    /// Share for pieces that fail.
    pub failure: Money,
    /// Of it, what is paid for: without the wage.
    pub failed_goods: Money,
    /// Cost: materials, wage, overhead and failures; below it the wage is not paid in full.
    pub cost: Money,
    /// Profit.
    pub profit: Money,
    /// Of the fees, this piece's share of the fixed fees for the order, rounded up.
    pub fee_fixed: Money,
    /// Channel and card fees at the asked price.
    pub fees: Money,
    /// Asked: rounded up, or as typed.
    pub asked: Money,
    /// Whether it was typed.
    pub typed: bool,
    /// What is left over cost, fees and tax.
    pub margin: Money,
    /// What an hour of hands-on time really earns, hours on pieces that fail among them.
    pub earned_per_h: Money,
    /// Least price at which nothing is paid out of the own pocket: materials, overhead, failed goods,
    /// fees and tax; hours go unpaid.
    pub floor: Level,
    /// Least price that pays the wage too.
    pub fair: Level,
    /// The asked price.
    pub at_asked: Level,
    /// What two rules of thumb would ask.
    pub rules: [Rule; 2],
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

    /// What the customer pays for all pieces, tax included.
    pub fn paid_for_all(&self) -> Money {
        let lines = vec![self.asked; self.pieces as usize];
        self.asked_for_all() + self.selling.tax_on_top(&lines)
    }
}

/// What a price is made for, besides the piece.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Sale<'a> {
    /// Where it is sold; `None` for the fees under `pricing` itself.
    pub channel: Option<&'a Channel>,
    /// A price that the maker typed.
    pub asked: Option<Money>,
}

/// The price of one piece with the fees of the settings.
///
/// # Errors
/// Rates and hours that come to more than can be reckoned with.
pub fn plan_price(
    piece: &Piece,
    settings: &Settings,
    bill: &Bill,
    steps: &Steps,
) -> Result<Price, Vec<Diagnostic>> {
    plan_price_on(piece, settings, bill, steps, Sale::default())
}

/// The price of one piece in such a sale.
///
/// # Errors
/// As for [`plan_price`].
pub fn plan_price_on(
    piece: &Piece,
    settings: &Settings,
    bill: &Bill,
    steps: &Steps,
    sale: Sale,
) -> Result<Price, Vec<Diagnostic>> {
    let pieces = piece.quantity.max(1);
    let in_all = u64::from(pieces);
    let hands_on_min = steps.hands_on_for_min(pieces).round() as u64;
    let pricing = &settings.pricing;
    let selling = Selling::of(pricing, sale.channel, pieces);
    let made = Made {
        materials: bill.cost_used().share(1, in_all),
        minutes: hands_on_min,
        pieces: in_all,
        wage_per_h: settings.maker.wage_per_h,
        overhead_per_h: pricing.overhead_per_h,
        failing: billionths(pricing.failure.clamp(0.0, 0.9)),
    };
    let profit = made.cost().part(billionths(pricing.profit));
    let wanted = made.cost() + profit;
    let fixed = selling.fixed + selling.listing;
    if (wanted + fixed).share(in_all, 1) > MOST || sale.asked.is_some_and(|asked| asked > MOST) {
        return Err(vec![absurd(settings, hands_on_min)]);
    }
    let step = pricing.round_to.0.max(1);
    let any = (1, vec![Money::ZERO]);
    let out_of_pocket = made.materials + made.overhead() + made.failed_goods();
    let level = |price: Money| Level::at(price, &made, &selling);
    let floor = level(selling.least_price(out_of_pocket, &any));
    let fair = level(selling.least_price(made.cost(), &any));
    let least = || selling.least_price(wanted, &(step, pricing.endings.clone()));
    let at_asked = level(sale.asked.unwrap_or_else(least));
    Ok(Price {
        pieces,
        hands_on_min,
        materials: made.materials,
        labour: made.labour(),
        overhead: made.overhead(),
        failure: made.failure(),
        failed_goods: made.failed_goods(),
        cost: made.cost(),
        profit,
        fee_fixed: selling.fixed,
        fees: at_asked.fees(),
        asked: at_asked.price,
        typed: sale.asked.is_some(),
        margin: at_asked.margin,
        earned_per_h: at_asked.per_h,
        rules: rules(&made, &selling),
        selling,
        floor,
        fair,
        at_asked,
    })
}

/// The failing share of [`Made`] against what goes well.
pub(crate) fn odds(failing: u64) -> (u64, u64) {
    (failing, BILLION - failing.min(BILLION - 1))
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
