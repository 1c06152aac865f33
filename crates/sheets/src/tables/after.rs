//! `after.csv`: what a piece took against what was planned.

use super::Table;
use crate::numbers::fixed;
use ::money::{About, After, AfterLine};
use piece::settings::Currency;

/// Columns of `after.csv`, for the whole quantity.
pub(crate) const AFTER_COLUMNS: [&str; 9] = [
    "about",
    "what",
    "unit",
    "planned",
    "actual",
    "planned_cost",
    "actual_cost",
    "more_cost",
    "currency",
];

/// One row for each kind of step and each material, then one for all that was written down; what was not
/// is left empty.
pub(crate) fn after_csv(currency: &Currency, after: &After) -> Vec<u8> {
    let mut table = Table::new(&AFTER_COLUMNS);
    for line in &after.lines {
        table.row(&row(currency, line));
    }
    table.row(&[
        "all",
        "written down",
        "",
        "",
        "",
        &currency.number(after.planned_cost),
        &currency.number(after.actual_cost),
        &currency.number(after.actual_cost - after.planned_cost),
        &currency.code,
    ]);
    table.finish()
}

fn row(currency: &Currency, line: &AfterLine) -> [String; 9] {
    let (about, what, unit) = match line.about {
        About::Hours(craft) => ("hours", craft.word(), "min"),
        About::Material(material) => ("material", material.word(), material.unit()),
    };
    let cost = line.actual_cost;
    let more = cost.map(|cost| currency.number(cost - line.planned_cost));
    [
        about.to_owned(),
        what.to_owned(),
        unit.to_owned(),
        fixed(line.planned, 2),
        line.actual.map_or_else(String::new, |actual| fixed(actual, 2)),
        currency.number(line.planned_cost),
        cost.map_or_else(String::new, |cost| currency.number(cost)),
        more.unwrap_or_default(),
        currency.code.clone(),
    ]
}
