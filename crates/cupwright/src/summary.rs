//! A plan in a few lines.

use piece::settings::LengthUnit;
use piece::{Finish, Zone};
use serde_json::Value;
use sheets::Plan;
use std::fmt::Write;

/// For a person, after the folder is written: stones, hours, price and days in two lines.
pub fn short(plan: &Plan) -> String {
    let days = days(plan).map(|days| format!("\n{days}.")).unwrap_or_default();
    format!("{}: {}.{days}", plan.piece.title, figures(plan))
}

fn figures(plan: &Plan) -> String {
    format!(
        "{} stones, {:.1} h of work, price {}{}",
        plan.stones.stones.len(),
        plan.steps.hands_on_min() / 60.0,
        plan.settings.currency.show(plan.price.asked),
        if plan.settings.demo { " (with made-up example prices)" } else { "" },
    )
}

/// The day on which work begins; `None` if there is no timetable.
pub fn begins(plan: &Plan) -> Option<jiff::civil::Date> {
    Some(plan.timetable.as_ref()?.sittings.first()?.begins.date())
}

/// When work begins and when it is ready; `None` if there is no timetable.
fn days(plan: &Plan) -> Option<String> {
    let timetable = plan.timetable.as_ref()?;
    let begins = begins(plan)?;
    let post = timetable.post_by.map(|day| format!(", to be posted by {day}")).unwrap_or_default();
    Some(format!("Begin on {begins}, ready on {}{post}", timetable.ready.date()))
}

/// For a person: the title and one line for each part and zone, ending with a line break.
pub fn text(plan: &Plan) -> String {
    let (unit, mm2_per_unit) = match plan.settings.lengths {
        LengthUnit::Millimetres => ("cm²", 100.0),
        LengthUnit::Inches => ("in²", 645.16),
    };
    let mut text = format!("{}\n", plan.piece.title);
    let mut line = |name: &str, what: &str, area_mm2: f64, n_stones: Option<usize>| {
        let stones = n_stones.map(|count| format!("{count:>7} stones")).unwrap_or_default();
        let area = area_mm2 / mm2_per_unit;
        let row = format!("  {name:<20} {what:<18} {area:>9.1} {unit}{stones}");
        // Writing to a string does not fail.
        let _ = writeln!(text, "{}", row.trim_end());
    };
    for (part, shape) in plan.piece.parts.iter().zip(&plan.shape.parts) {
        line(&part.name, "part", shape.area_mm2, None);
    }
    for (index, (zone, shape)) in plan.piece.zones.iter().zip(&plan.shape.zones).enumerate() {
        let what = format!("{} on {}", finish_word(zone), plan.piece.parts[zone.part].name);
        line(&zone.name, &what, shape.area_mm2, n_stones(plan, index));
    }
    let _ = writeln!(text, "  {}", figures(plan));
    if let Some(days) = days(plan) {
        let _ = writeln!(text, "  {days}");
    }
    text
}

/// For a script: what `summary.json` says.
pub fn json(plan: &Plan) -> Value {
    serde_json::from_slice(&sheets::summary_json(plan)).unwrap_or_default()
}

/// Stones in a zone; `None` if it has another finish.
fn n_stones(plan: &Plan, zone: usize) -> Option<usize> {
    plan.stones.zones.iter().find(|filled| filled.zone == zone).map(|filled| filled.count)
}

/// The finish in a word; of stones their layouts in order, as in `zones.csv`.
fn finish_word(zone: &Zone) -> String {
    match &zone.finish {
        Finish::Paint { .. } => "paint".to_owned(),
        Finish::Glitter { .. } => "glitter".to_owned(),
        Finish::Resin { .. } => "resin".to_owned(),
        Finish::Vinyl { .. } => "film".to_owned(),
        Finish::Stones(stones) => {
            let words: Vec<&str> = stones.layers.iter().map(|layer| layer.layout.word()).collect();
            words.join("+")
        }
    }
}
