//! A timetable of many pieces in words and as data.

use jiff::Timestamp;
use jiff::tz::TimeZone;
use schedule::Progress;
use serde_json::{Value, json};
use std::collections::BTreeSet;
use std::fmt::Write;
use work::rota::{Rota, RotaOrder, RotaSitting, iso};
use work::words::{count, percent, span};

/// How a search stands, for the progress bar.
pub fn so_far(progress: &Progress) -> String {
    if progress.lost > 0 {
        return format!("looking for room for {}", count(progress.lost as usize, "step"));
    }
    match progress.cost.late {
        0 => format!("round {}, nothing is late", progress.round),
        late => {
            let late = span(late as f64 * work::together::SLOT_MIN as f64);
            format!("round {}, late by {late} in all", progress.round)
        }
    }
}

/// For a person: each order, each maker, and how good it is.
pub fn text(rota: &Rota) -> String {
    let mut text = String::new();
    let moment = |at| moment(&rota.zone, at);
    let zone = rota.zone.iana_name().unwrap_or("UTC");
    // Writing to a string does not fail.
    let _ = writeln!(text, "Planned from {}, {zone}", moment(rota.begins));
    let widest =
        |least: usize, words: &mut dyn Iterator<Item = usize>| words.fold(least, usize::max);
    let wide = widest(5, &mut rota.orders.iter().map(|order| order.name.chars().count()));
    let _ = writeln!(
        text,
        "\n{:<wide$}  {:>4}  {:<20}  {:<20}  {:<10}",
        "order", "made", "done", "leaves", "due"
    );
    for order in &rota.orders {
        let due = order.due.map_or("-".to_owned(), |due| due.to_string());
        let row = format!(
            "{:<wide$}  {:>4}  {:<20}  {:<20}  {due:<10}  {}",
            order.name,
            order.quantity,
            moment(order.done),
            moment(order.leaves),
            in_time(order)
        );
        let _ = writeln!(text, "{}", row.trim_end());
    }
    text.push('\n');
    for (index, maker) in rota.makers.iter().enumerate() {
        let minutes = worked(rota, Some(index)).map(minutes).sum::<f64>().max(0.0);
        let _ = writeln!(text, "{}: {:.1} h of work", maker.name, minutes / 60.0);
    }
    let mixes: BTreeSet<u32> = rota.sittings.iter().filter_map(|sitting| sitting.mix).collect();
    if !mixes.is_empty() {
        let _ = writeln!(
            text,
            "{} of resin shared by several pours",
            count(mixes.len(), "mix").replace("mixs", "mixes")
        );
    }
    for sentence in &rota.quality {
        let _ = writeln!(text, "{sentence}");
    }
    text.push_str(
        "\nGloves, moving air, a vapour mask; follow the maker's safety data sheet and local rules.\n",
    );
    text
}

/// `Tue 2027-04-06 19:10`.
pub fn moment(zone: &TimeZone, at: Timestamp) -> String {
    zone.to_datetime(at).strftime("%a %Y-%m-%d %H:%M").to_string()
}

/// `in time, 3 days to spare`, `late by 2 h`, or nothing without a due day.
fn in_time(order: &RotaOrder) -> String {
    let Some(by) = order.leave_by else { return String::new() };
    let min = |from: Timestamp, to: Timestamp| (to.as_second() - from.as_second()) as f64 / 60.0;
    if order.leaves > by {
        return format!("late by {}", days(min(by, order.leaves)));
    }
    let sure = order.chance.map_or(String::new(), |chance| format!(", {} sure", percent(chance)));
    format!("in time, {} to spare{sure}", days(min(order.leaves, by)))
}

/// Whole days from two on, hours and minutes below.
fn days(min: f64) -> String {
    if min >= 2880.0 { span((min / 1440.0).floor() * 1440.0) } else { span(min) }
}

fn worked(rota: &Rota, maker: Option<usize>) -> impl Iterator<Item = &RotaSitting> {
    rota.sittings.iter().filter(move |sitting| sitting.maker == maker && sitting.at.1 > rota.begins)
}

fn minutes(sitting: &RotaSitting) -> f64 {
    (sitting.at.1.as_second() - sitting.at.0.as_second()) as f64 / 60.0
}

/// For a script.
pub fn json(rota: &Rota) -> Value {
    let moment = |at| iso(&rota.zone, at);
    let orders = rota.orders.iter().map(|order| {
        json!({
            "order": order.name,
            "title": order.title,
            "quantity": order.quantity,
            "due": order.due.map(|due| due.to_string()),
            "leave_by": order.leave_by.map(moment),
            "done": moment(order.done),
            "leaves": moment(order.leaves),
            "chance": order.chance,
            "buffer_for_90_min": order.buffer_for_90_min,
            "late": order.leave_by.is_some_and(|by| order.leaves > by),
        })
    });
    let makers = rota.makers.iter().enumerate().map(|(index, maker)| {
        let minutes: f64 = worked(rota, Some(index)).map(minutes).sum();
        json!({ "maker": maker.name, "hands_on_min": minutes })
    });
    let sittings = rota.sittings.iter().map(|sitting| {
        json!({
            "order": rota.orders[sitting.order].name,
            "group": sitting.group.0,
            "groups": sitting.group.1,
            "pieces": sitting.pieces,
            "part": sitting.part,
            "step": sitting.step,
            "sitting": sitting.number.0,
            "sittings": sitting.number.1,
            "maker": sitting.maker.map(|maker| &rota.makers[maker].name),
            "begins": moment(sitting.at.0),
            "ends": moment(sitting.at.1),
            "spindles": sitting.turning.as_ref().map(|(numbers, _)| numbers),
            "turns_until": sitting.turning.as_ref().map(|(_, until)| moment(*until)),
            "mix": sitting.mix,
            "fixed": sitting.fixed,
            "why": sitting.why,
        })
    });
    json!({
        "begins": moment(rota.begins),
        "time_zone": rota.zone.iana_name(),
        "orders": orders.collect::<Value>(),
        "makers": makers.collect::<Value>(),
        "sittings": sittings.collect::<Value>(),
        "quality": rota.quality,
    })
}
