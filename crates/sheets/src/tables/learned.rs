//! `learned.csv`: what records taught.

use super::Table;
use crate::numbers::fixed;
use learned::{Figure, Learned};

/// Columns of `learned.csv`.
pub(crate) const LEARNED_COLUMNS: [&str; 10] = [
    "figure",
    "key",
    "unit",
    "standard",
    "learned",
    "low",
    "high",
    "records",
    "missing",
    "standard_is_off",
];

/// One row for each figure; what was not learned is left empty.
pub(crate) fn learned_csv(learned: &Learned) -> Vec<u8> {
    let mut table = Table::new(&LEARNED_COLUMNS);
    for figure in &learned.figures {
        table.row(&row(figure));
    }
    table.finish()
}

fn row(figure: &Figure) -> [String; 10] {
    let number = |value: f64| fixed(value, 4);
    let found = |get: fn(&learned::Found) -> f64| {
        figure.found.as_ref().map_or_else(String::new, |found| number(get(found)))
    };
    [
        figure.subject.name(),
        figure.subject.key().unwrap_or_default(),
        figure.subject.unit().to_owned(),
        number(figure.standard),
        found(|found| found.value),
        found(|found| found.within.0),
        found(|found| found.within.1),
        figure.records.to_string(),
        figure.missing.to_string(),
        if figure.standard_is_off() { "yes" } else { "no" }.to_owned(),
    ]
}
