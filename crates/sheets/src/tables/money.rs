//! `bill.csv`, and the lines of a price for the summary.

use super::Table;
use crate::Plan;
use crate::numbers::fixed;
use crate::words;
use ::money::Price;
use piece::Money;

/// Columns of `bill.csv`, for the whole quantity; amounts in `unit`.
pub(crate) const BILL_COLUMNS: [&str; 12] = [
    "goods",
    "item",
    "unit",
    "need",
    "repair_kit",
    "with_spare",
    "pack",
    "packs",
    "pack_price",
    "cost_used",
    "cost_bought",
    "currency",
];

/// One row for each thing to buy.
pub(crate) fn bill_csv(plan: &Plan) -> Vec<u8> {
    let mut table = Table::new(&BILL_COLUMNS);
    let currency = &plan.settings.currency;
    for line in &plan.bill.lines {
        table.row(&[
            words::goods(line.goods),
            &line.item,
            &line.unit,
            &fixed(line.need, 2),
            &fixed(line.repair_kit, 2),
            &fixed(line.with_spare, 2),
            &fixed(line.pack, 2),
            &line.packs.to_string(),
            &currency.number(line.pack_price),
            &currency.number(line.cost_used),
            &currency.number(line.cost_bought),
            &currency.code,
        ]);
    }
    table.finish()
}

/// The lines of a price by their names, as in `price.csv` and `summary.json`.
pub(crate) fn lines(price: &Price) -> [(&'static str, Money); 10] {
    [
        ("materials", price.materials),
        ("labour", price.labour),
        ("overhead", price.overhead),
        ("failure", price.failure),
        ("cost", price.cost),
        ("profit", price.profit),
        ("fees", price.fees),
        ("asked", price.asked),
        ("margin", price.margin),
        ("earned_per_h", price.earned_per_h),
    ]
}
