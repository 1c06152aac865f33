//! `timetable.csv` and `orders.csv`: times are local with their offset, as ISO 8601.

use crate::numbers::fixed;
use crate::tables::Table;
use crate::words;
use jiff::Timestamp;
use work::rota::{Rota, iso};

/// Columns of `timetable.csv`.
const TIMETABLE_COLUMNS: [&str; 22] = [
    "order",
    "group",
    "of_groups",
    "pieces",
    "part",
    "step",
    "kind",
    "sitting",
    "of_sittings",
    "maker",
    "begins",
    "ends",
    "minutes",
    "spindle",
    "turning_until",
    "rests_until",
    "recoat_from",
    "recoat_until",
    "mix",
    "why",
    "fixed",
    "title",
];

/// Columns of `orders.csv`.
const ORDER_COLUMNS: [&str; 10] = [
    "order",
    "title",
    "quantity",
    "due",
    "leave_by",
    "done",
    "leaves",
    "late_min",
    "chance",
    "buffer_for_90_min",
];

/// One row a sitting, in order of time. Columns that do not apply are empty.
pub(super) fn timetable_csv(rota: &Rota) -> Vec<u8> {
    let mut table = Table::new(&TIMETABLE_COLUMNS);
    let moment = |at: Option<Timestamp>| at.map_or_else(String::new, |at| iso(&rota.zone, at));
    for sitting in &rota.sittings {
        let order = &rota.orders[sitting.order];
        let spindles = sitting.turning.iter().flat_map(|(spindles, _)| spindles);
        let (begins, ends) = sitting.at;
        table.row(&[
            order.name.clone(),
            sitting.group.0.to_string(),
            sitting.group.1.to_string(),
            sitting.pieces.to_string(),
            sitting.part.clone().unwrap_or_default(),
            sitting.step.clone(),
            words::step_kind(sitting.kind).to_owned(),
            sitting.number.0.to_string(),
            sitting.number.1.to_string(),
            sitting.maker.map_or_else(String::new, |maker| rota.makers[maker].name.clone()),
            iso(&rota.zone, begins),
            iso(&rota.zone, ends),
            begins.duration_until(ends).as_mins().to_string(),
            spindles.map(u32::to_string).collect::<Vec<_>>().join(" "),
            moment(sitting.turning.as_ref().map(|(_, until)| *until)),
            moment(sitting.rests_until),
            moment(sitting.recoat.map(|(from, _)| from)),
            moment(sitting.recoat.map(|(_, until)| until)),
            sitting.mix.map_or_else(String::new, |mix| mix.to_string()),
            sitting.why.clone(),
            if sitting.fixed { "yes" } else { "no" }.to_owned(),
            order.title.clone(),
        ]);
    }
    table.finish()
}

/// One row an order, as they were named.
pub(super) fn orders_csv(rota: &Rota) -> Vec<u8> {
    let mut table = Table::new(&ORDER_COLUMNS);
    let whole = |value: Option<i64>| value.map_or_else(String::new, |value| value.to_string());
    for order in &rota.orders {
        table.row(&[
            order.name.clone(),
            order.title.clone(),
            order.quantity.to_string(),
            order.due.map_or_else(String::new, |due| due.to_string()),
            order.leave_by.map_or_else(String::new, |at| iso(&rota.zone, at)),
            iso(&rota.zone, order.done),
            iso(&rota.zone, order.leaves),
            whole(order.late_min()),
            order.chance.map_or_else(String::new, |chance| fixed(chance, 3)),
            whole(order.buffer_for_90_min),
        ]);
    }
    table.finish()
}
