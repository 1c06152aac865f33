//! A plan by the whole road, for the tests of the pages' data.

use crate::Plan;
use piece::{NoArt, Settings, Source, read_piece};

/// The small cylinder with one of everything, so many of it, in the demo studio.
pub(crate) fn plan(quantity: u32) -> Plan {
    let text = include_str!("../../tests/pieces/reed-ring.toml")
        .replace("seed = 3", &format!("seed = 3\nquantity = {quantity}"));
    let piece = read_piece(&Source::new("piece.toml", text), &NoArt).value.expect("a piece");
    let settings = Settings::demo();
    let shape = shape::shape(&piece, &settings).expect("a shape");
    let stones = stones::lay_stones(&piece, &shape, &settings, &mut |_| true).expect("stones");
    let coats = coats::plan_coats(&piece, &shape, &settings).expect("its resin can be poured");
    let (steps, timetable) =
        work::plan_work(&piece, &settings, &coats, &stones, None, &mut |_| true)
            .expect("nobody stops it");
    let bill = money::plan_bill(&piece, &settings, &coats, &stones, &steps).expect("a bill");
    let price = money::plan_price(&piece, &settings, &bill, &steps).expect("a price");
    let notes = Vec::new();
    Plan { piece, settings, shape, stones, coats, steps, timetable, bill, price, notes }
}

/// The price worked out again, after settings were changed.
pub(super) fn price_again(plan: &mut Plan) {
    let price = money::plan_price(&plan.piece, &plan.settings, &plan.bill, &plan.steps);
    plan.price = price.expect("a price");
}
