//! The price, for the maker's eyes.

use crate::Plan;
use crate::words;
use piece::Money;
use serde_json::{Value, json};

/// Data of the price page, for one piece and for the whole quantity.
pub(super) fn data(plan: &Plan) -> Value {
    let (price, settings) = (&plan.price, &plan.settings);
    let show = |amount: Money| settings.currency.show(amount);
    let hours = words::hours(plan.steps.hands_on_min());
    let line = |name: &str, how: String, amount: Money, sum: bool| json!({ "name": name, "how": how, "amount": show(amount), "sum": sum });
    let pricing = &settings.pricing;
    let lines = vec![
        line("Materials", "used up, spare included".to_owned(), price.materials, false),
        line(
            "Wage",
            format!("{hours} at {} an hour", show(settings.maker.wage_per_h)),
            price.labour,
            false,
        ),
        line(
            "Overhead",
            format!("{hours} at {} an hour", show(pricing.overhead_per_h)),
            price.overhead,
            false,
        ),
        line(
            "Pieces that fail",
            format!("{} made again", words::percent(pricing.failure)),
            price.failure,
            false,
        ),
        line("Cost", "below this the piece loses money".to_owned(), price.cost, true),
        line("Profit", format!("{} of cost", words::percent(pricing.profit)), price.profit, false),
        line(
            "Fees",
            format!(
                "{} of the price and {}",
                words::percent(pricing.fee_share),
                show(pricing.fee_fixed)
            ),
            price.fees,
            false,
        ),
        line(
            "Ask",
            format!("rounded up to a multiple of {}", show(pricing.round_to)),
            price.asked,
            true,
        ),
    ];
    let bought: Money = plan.bill.lines.iter().map(|line| line.cost_bought).sum();
    let used: Money = plan.bill.lines.iter().map(|line| line.cost_used).sum();
    let goods: Vec<_> = plan
        .bill
        .lines
        .iter()
        .map(|line| {
            json!({
                "item": line.item,
                "used": show(line.cost_used),
                "packs": line.packs,
                "pack_price": show(line.pack_price),
                "bought": show(line.cost_bought),
            })
        })
        .collect();
    json!({
        "lines": lines,
        "margin": show(price.margin),
        "earned_per_h": show(price.earned_per_h),
        "hours": hours,
        "asked": show(price.asked),
        "quantity": plan.piece.quantity,
        "asked_for_all": show(Money(price.asked.0 * i64::from(plan.piece.quantity))),
        "goods": goods,
        "used": show(used),
        "bought": show(bought),
        "currency": settings.currency.code,
    })
}
