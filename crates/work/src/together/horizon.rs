//! How far a plan may reach.

use super::clock::{Slots, first_moment};
use super::crew::Crew;
use super::unit::{Unit, units};
use super::{Ordered, clock};
use crate::StepKind;
use jiff::civil::Date;
use jiff::{Timestamp, ToSpan};
use piece::Settings;
use piece::hours::Hours;

/// Nothing reaches farther, days.
const MOST_DAYS: i64 = 3660;
/// Time for the waits of one piece and for holidays, days (our choice).
const SPARE_DAYS: i64 = 200;
/// Weeks over which hours are averaged.
const WEEKS: i64 = 26;

/// The last day of a plan: late enough for everything to be done one thing after the other.
pub(crate) fn last_day(
    hours: &Hours,
    settings: &Settings,
    slots: &Slots,
    begins: Timestamp,
    orders: &[Ordered],
) -> Date {
    let first = slots.zone().to_datetime(begins).date();
    let after = |days: i64| first.checked_add(days.min(MOST_DAYS).days()).unwrap_or(Date::MAX);
    let days_of = |day: Date| i64::from((day - first).get_days());
    let dates = orders.iter().flat_map(|order| {
        let begin = order.begin.map(|begin| first_moment(begin).date());
        order.due.into_iter().chain(begin)
    });
    let latest = dates.map(days_of).fold(0, i64::max);
    let trial = Crew::new(hours, settings, slots, begins, after(7 * WEEKS));
    let work_weeks: f64 = orders
        .iter()
        .flat_map(|order| &order.groups)
        .flat_map(|group| units(&group.steps, group.pieces))
        .map(|unit| weeks(&unit, &trial, hours))
        .sum();
    after(latest + SPARE_DAYS + (7.0 * work_weeks).ceil() as i64)
}

/// Weeks that a unit takes if nothing else is done, with the sanding that may come before it.
fn weeks(unit: &Unit<'_>, crew: &Crew, hours: &Hours) -> f64 {
    let kinds = unit.kinds();
    let open: i64 = crew
        .who(&kinds)
        .into_iter()
        .flat_map(|index| crew.open[index].stretches())
        .map(|(from, to)| i64::from(to - from))
        .sum();
    let sittings: f64 = unit.steps.iter().map(|step| f64::from(step.sittings())).sum();
    let set_up = unit.steps.iter().map(|step| step.set_up_min).fold(0.0, f64::max);
    let hands_min = f64::from(unit.work()) * clock::SLOT_MIN as f64
        + set_up * sittings * f64::from(unit.pieces);
    let wet = kinds.contains(&StepKind::Pour);
    let hands = if wet { 2.0 * hands_min } else { hands_min };
    let of_hands = hands * WEEKS as f64 / (open.max(1) * clock::SLOT_MIN) as f64;
    let of_spindles = unit.turning_min().unwrap_or(0.0) * f64::from(unit.pieces)
        / (f64::from(hours.spindles.max(1)) * 7.0 * 1440.0);
    (of_hands + of_spindles).min(520.0)
}
