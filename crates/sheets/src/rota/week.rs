//! `this-week.pdf`: the data of a page for each maker's seven days from the beginning of the plan.

use super::axis::{day_after, days_between};
use super::{local, said};
use crate::workbook::paper_name;
use crate::{SheetError, typeset, words};
use jiff::Timestamp;
use jiff::civil::{Date, DateTime};
use piece::Settings;
use serde_json::{Value, json};
use std::collections::BTreeMap;
use work::StepKind;
use work::rota::{Rota, RotaOrder, RotaSitting};

/// Days on a page.
const DAYS: usize = 7;

/// The pages of all makers, set.
pub(super) fn pdf(rota: &Rota, settings: &Settings) -> Result<Vec<u8>, SheetError> {
    let files =
        BTreeMap::from([("data.json".to_owned(), data(rota, settings).to_string().into_bytes())]);
    typeset::pdf("this-week.pdf", "this-week.typ", files)
}

fn data(rota: &Rota, settings: &Settings) -> Value {
    let begins = local(rota, rota.begins).date();
    let ends = day_after(begins, DAYS - 1);
    let makers = (0..rota.makers.len()).map(|maker| page(rota, maker, begins));
    json!({
        "paper": paper_name(settings),
        "studio": settings.studio,
        "demo": settings.demo,
        "span": format!("{} to {}", words::short_day(begins), words::day(ends)),
        "makers": makers.collect::<Vec<_>>(),
        "leaves": leaves(rota, begins),
    })
}

/// One maker's seven days.
fn page(rota: &Rota, maker: usize, begins: Date) -> Value {
    let mine = week(rota, begins).filter(|sitting| sitting.maker == Some(maker));
    let mine: Vec<&RotaSitting> = mine.collect();
    let hands: i64 =
        mine.iter().map(|sitting| sitting.at.0.duration_until(sitting.at.1).as_mins()).sum();
    let days = (0..DAYS).map(|day| self::day(rota, maker, day_after(begins, day), begins));
    let days: Vec<_> =
        days.filter(|day| day["rows"].as_array().is_some_and(|rows| !rows.is_empty())).collect();
    json!({
        "name": rota.makers[maker].name,
        "hands": words::hours(hands as f64),
        "days": days,
        "cautions": cautions(&mine),
        "pours": mine.iter().any(|sitting| sitting.kind == StepKind::Pour),
    })
}

/// Sittings of the seven days, in order of time.
fn week(rota: &Rota, begins: Date) -> impl Iterator<Item = &RotaSitting> {
    rota.sittings.iter().filter(move |sitting| in_week(rota, begins, sitting.at.0))
}

fn in_week(rota: &Rota, begins: Date, at: Timestamp) -> bool {
    (0..DAYS as i64).contains(&days_between(begins, local(rota, at).date()))
}

/// A day of a maker: her hours, her sittings, and what comes off the turner after them.
fn day(rota: &Rota, maker: usize, date: Date, begins: Date) -> Value {
    let on = |at: Timestamp| local(rota, at).date() == date;
    let mut rows: Vec<(Timestamp, Value)> = Vec::new();
    for sitting in week(rota, begins) {
        let order = &rota.orders[sitting.order];
        let mine = sitting.maker == Some(maker);
        if (mine || sitting.maker.is_none()) && on(sitting.at.0) {
            rows.push((sitting.at.0, row(rota, sitting, date)));
        }
        if let Some((spindles, until)) =
            sitting.turning.as_ref().filter(|(_, until)| mine && on(*until))
        {
            let part = sitting.part.as_deref().unwrap_or("piece");
            rows.push((
                *until,
                json!({
                    "kind": "back",
                    "from": words::clock(local(rota, *until)),
                    "what": format!("{part} may come off {}", said::spindles(spindles)),
                    "which": said::which(order, sitting),
                }),
            ));
        }
    }
    rows.sort_by_key(|(at, _)| *at);
    let open = rota.makers[maker].open.iter().filter(|(from, _)| on(*from));
    let open = open.map(|(from, until)| {
        let [from, until] = [from, until].map(|at| words::clock(local(rota, *at)));
        format!("{from}\u{2013}{until}")
    });
    json!({
        "day": date.strftime("%A %-d %B").to_string(),
        "open": open.collect::<Vec<_>>().join(", "),
        "rows": rows.into_iter().map(|(_, row)| row).collect::<Vec<_>>(),
    })
}

/// A sitting, seen from its day.
fn row(rota: &Rota, sitting: &RotaSitting, date: Date) -> Value {
    let order = &rota.orders[sitting.order];
    let near = |at: Timestamp| seen_from(date, local(rota, at));
    let mut back = Vec::new();
    if let Some((_, until)) = &sitting.turning {
        back.push(format!("off the turner {}", near(*until)));
    }
    if let Some((from, until)) = sitting.recoat {
        back.push(format!("recoat {} to {}, or sand first", near(from), near(until)));
    } else if let Some(until) = sitting.rests_until {
        back.push(format!("leave it until {}", near(until)));
    }
    let mut place: Vec<String> = sitting.part.iter().cloned().collect();
    place.extend(sitting.turning.iter().map(|(numbers, _)| said::spindles(numbers)));
    json!({
        "kind": if sitting.maker.is_some() { "hands" } else { "alone" },
        "from": words::clock(local(rota, sitting.at.0)),
        "to": words::clock(local(rota, sitting.at.1)),
        "what": said::what(sitting),
        "which": said::which(order, sitting),
        "where": place.join(", "),
        "ready": said::have_ready(sitting.kind),
        "back": back,
        "mix": mix(rota, sitting),
        "fixed": sitting.fixed,
    })
}

/// With whom a mix of resin is shared.
fn mix(rota: &Rota, sitting: &RotaSitting) -> Option<String> {
    let number = sitting.mix?;
    let others = rota
        .sittings
        .iter()
        .filter(|other| other.mix == Some(number) && !std::ptr::eq(*other, sitting));
    let others = others.map(|other| {
        let title = &rota.orders[other.order].title;
        other.part.as_ref().map_or_else(|| title.clone(), |part| format!("{title}, {part}"))
    });
    let others = others.collect::<Vec<_>>().join("; ");
    Some(if others.is_empty() {
        format!("mix {number}")
    } else {
        format!("mix {number}, with {others}")
    })
}

/// `14:30` on the same day, `Wed 14:30` within six days, `Wed 10 Mar 14:30` beyond.
fn seen_from(date: Date, at: DateTime) -> String {
    match days_between(date, at.date()) {
        0 => words::clock(at),
        1..=6 => format!("{} {}", at.strftime("%a"), words::clock(at)),
        _ => said::moment(at),
    }
}

/// What to beware of this week, a line for each kind of work, in order of first doing.
fn cautions(sittings: &[&RotaSitting]) -> Vec<Value> {
    let mut kinds: Vec<StepKind> = Vec::new();
    for sitting in sittings.iter().filter(|sitting| !sitting.cautions.is_empty()) {
        if !kinds.contains(&sitting.kind) {
            kinds.push(sitting.kind);
        }
    }
    let line = |kind: StepKind| {
        said::beware(kind).map(|line| json!({ "kind": words::step_kind(kind), "line": line }))
    };
    kinds.into_iter().filter_map(line).collect()
}

/// What leaves or should have left by the end of the seven days, soonest first.
fn leaves(rota: &Rota, begins: Date) -> Vec<Value> {
    let soon = |order: &&RotaOrder| {
        in_week(rota, begins, order.leaves)
            || order.leave_by.is_some_and(|by| in_week(rota, begins, by))
    };
    let mut orders: Vec<&RotaOrder> = rota.orders.iter().filter(soon).collect();
    orders.sort_by_key(|order| (order.leave_by.unwrap_or(order.leaves), order.leaves));
    let order = |order: &RotaOrder| {
        let moment = |at| said::moment(local(rota, at));
        json!({
            "title": order.title,
            "quantity": order.quantity,
            "leaves": moment(order.leaves),
            "by": order.leave_by.map(moment),
            "due": order.due.map(words::short_day),
            "late": said::late(order),
        })
    };
    orders.into_iter().map(order).collect()
}
