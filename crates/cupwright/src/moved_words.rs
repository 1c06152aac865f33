//! What moved against the plan in force, in words and as data.

use jiff::Timestamp;
use serde_json::{Value, json};
use std::fmt::Write;
use work::rota::{Rota, iso};
use work::together::Change;
use work::words::count;

/// So many are told to a person; a script is told all.
const SHOWN: usize = 20;

/// For a person: each step that moved, from when to when, and why.
pub fn text(rota: &Rota, moved: &[Change]) -> String {
    if moved.is_empty() {
        return "\nNothing that the timetable in force knows by its name has moved.\n".to_owned();
    }
    let mut text =
        format!("\n{} moved against the timetable in force:\n", count(moved.len(), "step"));
    for change in moved.iter().take(SHOWN) {
        let hands = change.hands.as_ref();
        let hands = hands.map_or(String::new(), |(was, is)| format!(", {is} instead of {was}"));
        let to = match change.is {
            Some((from, _)) => format!("to {}", moment(rota, from)),
            None => "left out".to_owned(),
        };
        // Writing to a string does not fail.
        let _ = writeln!(
            text,
            "  {}: {}: {} {to}{hands}. {}",
            rota.orders[change.order].name,
            change.step,
            moment(rota, change.was.0),
            change.why
        );
    }
    if moved.len() > SHOWN {
        let _ = writeln!(
            text,
            "  and {}: `--json` tells all of them",
            count(moved.len() - SHOWN, "more step")
        );
    }
    text
}

fn moment(rota: &Rota, at: Timestamp) -> String {
    rota.zone.to_datetime(at).strftime("%a %d %b %H:%M").to_string()
}

/// For a script.
pub fn json(rota: &Rota, moved: &[Change]) -> Value {
    let moment = |at| iso(&rota.zone, at);
    let told = moved.iter().map(|change| {
        json!({
            "order": rota.orders[change.order].name,
            "step": change.step,
            "was": moment(change.was.0),
            "is": change.is.map(|(from, _)| moment(from)),
            "maker_was": change.hands.as_ref().map(|(was, _)| was),
            "maker_is": change.hands.as_ref().map(|(_, is)| is),
            "why": change.why,
        })
    });
    told.collect()
}
