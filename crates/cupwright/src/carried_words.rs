//! What came of carrying a design to another cup, in words and as data.

use crate::carrying::Carried;
use piece::settings::LengthUnit;
use piece::{Part, PartRole, Severity, lengths};
use serde_json::{Value, json};
use shape::Shape;
use sheets::Plan;
use std::fmt::Write;

/// A figure before, and after if there is one.
struct Both<T>(Option<T>, Option<T>);

impl<T> Both<T> {
    fn of(carried: &Carried, figure: impl Fn(&Plan) -> Option<T>) -> Self {
        Self(figure(&carried.before), carried.after.as_ref().and_then(figure))
    }

    fn words(&self, show: impl Fn(&T) -> String) -> String {
        match (&self.0, &self.1) {
            (Some(before), Some(after)) => {
                let (before, after) = (show(before), show(after));
                if before == after { before } else { format!("{before} → {after}") }
            }
            (Some(only), None) | (None, Some(only)) => show(only),
            (None, None) => String::new(),
        }
    }
}

impl<T: Into<Value>> Both<T> {
    fn json(self) -> Value {
        json!({ "before": self.0.map(Into::into), "after": self.1.map(Into::into) })
    }
}

/// Ends of a part: length of its wall, and how far across its first and last parallel are, mm.
fn sizes(shape: &Shape, part: usize) -> [f64; 3] {
    let shape = &shape.parts[part];
    let (start_mm, end_mm) = shape.surface.along_range_mm();
    let across = |along_mm: f64| 2.0 * shape.surface.around_scale_mm(along_mm);
    [shape.wall_mm, across(start_mm), across(end_mm)]
}

/// One of these sizes, of both cups.
fn size(carried: &Carried, part: usize, which: usize) -> Both<f64> {
    let after = carried.cup.as_ref().map(|cup| sizes(&cup.shape, part)[which]);
    Both(Some(sizes(&carried.before.shape, part)[which]), after)
}

/// From where to where along the wall a zone reaches, mm from the rim.
fn reach(plan: &Plan, zone: usize) -> Option<(f64, f64)> {
    plan.shape.zones[zone].area.along_range_mm()
}

/// How far its lower end is from the foot, mm.
fn from_foot(plan: &Plan, zone: usize) -> Option<f64> {
    let end_mm = plan.shape.parts[plan.piece.zones[zone].part].surface.along_range_mm().1;
    Some(end_mm - reach(plan, zone)?.1)
}

/// What share of the way round it reaches over.
fn round(plan: &Plan, zone: usize) -> Option<f64> {
    let surface = &plan.shape.parts[plan.piece.zones[zone].part].surface;
    let (from, to) = plan.shape.zones[zone].area.extent(surface)?.around;
    Some(((to - from) / surface.period()?).min(1.0))
}

/// How many stones lie in it, and the share of it that they cover; `None` if it has another finish.
fn filled(plan: &Plan, zone: usize) -> Option<(usize, f64)> {
    let filled = plan.stones.zones.iter().find(|filled| filled.zone == zone)?;
    Some((filled.count, filled.coverage))
}

fn zones(carried: &Carried) -> impl Iterator<Item = usize> {
    let zones = carried.before.piece.zones.iter().enumerate();
    zones.filter(|(_, zone)| carried.parts.contains(&zone.part)).map(|(index, _)| index)
}

/// For a person: parts, a table of zones, and the whole piece.
pub fn text(carried: &Carried) -> String {
    let mut text = String::new();
    let length = |mm: &f64| lengths::show(*mm, carried.unit);
    let parts = carried.before.piece.parts.iter().enumerate();
    for (_, part) in parts.filter(|(index, _)| !carried.parts.contains(index)) {
        // Writing to a string does not fail.
        let _ = writeln!(text, "{}: as it was", part.name);
    }
    for part in &carried.parts {
        let Part { name, role, .. } = &carried.before.piece.parts[*part];
        let (first, last) = match role {
            PartRole::Lid => ("hole", "edge"),
            PartRole::Body | PartRole::Topper => ("rim", "foot"),
        };
        let [wall, rim, foot] = [0, 1, 2].map(|which| size(carried, *part, which).words(length));
        let _ = if carried.before.shape.parts[*part].surface.period().is_some() {
            writeln!(
                text,
                "{name}: wall {wall}, across the {first} {rim}, across the {last} {foot}"
            )
        } else {
            writeln!(text, "{name}: {wall} high")
        };
    }
    for name in carried.art.files.keys() {
        let _ = writeln!(text, "{name}: copied beside the new file");
    }
    for name in &carried.art.others {
        let _ =
            writeln!(text, "{name}: another file of this name lies beside the new one and is used");
    }
    // Of the new zones nothing is known then.
    if carried.after.is_none() {
        return text;
    }
    let (unit, short): (_, fn(f64) -> String) = match carried.unit {
        LengthUnit::Millimetres => ("mm", tenths),
        LengthUnit::Inches => ("in", |mm| lengths::inches(mm).replace(" in", "")),
    };
    let rows: Vec<[String; 5]> = zones(carried)
        .map(|zone| {
            let along = Both::of(carried, |plan| reach(plan, zone));
            [
                carried.before.piece.zones[zone].name.clone(),
                along.words(|(from, to)| format!("{} .. {}", short(*from), short(*to))),
                Both::of(carried, |plan| from_foot(plan, zone)).words(|mm| short(*mm)),
                Both::of(carried, |plan| round(plan, zone))
                    .words(|share| format!("{:.0} %", 100.0 * share)),
                Both::of(carried, |plan| filled(plan, zone))
                    .words(|(count, share)| format!("{count} ({:.0} %)", 100.0 * share)),
            ]
        })
        .collect();
    let heads = [
        "zone".to_owned(),
        format!("from the rim, {unit}"),
        format!("to the foot, {unit}"),
        "of the round".to_owned(),
        "stones (cover)".to_owned(),
    ];
    table(&mut text, &heads, &rows);
    let _ = writeln!(
        text,
        "whole piece: {} stones, {} h of work, price {}{}",
        Both::of(carried, |plan| Some(plan.stones.stones.len())).words(usize::to_string),
        Both::of(carried, |plan| Some(plan.steps.hands_on_min() / 60.0))
            .words(|hours| format!("{hours:.1}")),
        Both::of(carried, |plan| Some(plan.settings.currency.show(plan.price.asked)))
            .words(String::clone),
        if carried.before.settings.demo { " (with made-up example prices)" } else { "" },
    );
    let _ = writeln!(
        text,
        "As they were: title, notes, quantity, due day, colours and the order of work."
    );
    text
}

fn table(text: &mut String, heads: &[String; 5], rows: &[[String; 5]]) {
    let all = || std::iter::once(heads).chain(rows);
    let width = |column: usize| all().map(|row| row[column].chars().count()).max().unwrap_or(0);
    let widths: Vec<usize> = (0..heads.len()).map(width).collect();
    for row in all() {
        let cells = row.iter().zip(&widths).map(|(cell, width)| format!("{cell:<width$}"));
        let line = cells.collect::<Vec<_>>().join("  ");
        let _ = writeln!(text, "  {}", line.trim_end());
    }
}

/// The last word: what was written, and what is to be done about it.
pub fn ending(carried: &Carried, file: &str) -> String {
    let (errors, rest) = (
        carried.not_kept.count(Severity::Error),
        carried.not_kept.count(Severity::Warning) + carried.not_kept.count(Severity::Caution),
    );
    let places = |n: usize| format!("{n} {}", if n == 1 { "place" } else { "places" });
    if errors > 0 {
        format!("Wrote {file}, which is to be mended in {}, told above.", places(errors))
    } else if rest > 0 {
        format!("Wrote {file}; look at {} in it, told above.", places(rest))
    } else {
        format!("Wrote {file}; everything was kept.")
    }
}

/// For a script; lengths in mm.
pub fn json(carried: &Carried) -> Value {
    let parts = carried.parts.iter().map(|part| {
        let size = |which: usize| size(carried, *part, which).json();
        let capacity_ml = Both(
            carried.before.piece.parts[*part].capacity_ml,
            carried.cup.as_ref().and_then(|cup| cup.piece.parts[*part].capacity_ml),
        );
        json!({
            "part": carried.before.piece.parts[*part].name,
            "wall_mm": size(0),
            "rim_across_mm": size(1),
            "foot_across_mm": size(2),
            "capacity_ml": capacity_ml.json(),
        })
    });
    let zones = zones(carried).map(|zone| {
        let along = |plan: &Plan| reach(plan, zone).map(|(from, to)| vec![from, to]);
        json!({
            "zone": carried.before.piece.zones[zone].name,
            "along_mm": Both::of(carried, along).json(),
            "from_foot_mm": Both::of(carried, |plan| from_foot(plan, zone)).json(),
            "round_share": Both::of(carried, |plan| round(plan, zone)).json(),
            "stones": Both::of(carried, |plan| filled(plan, zone).map(|one| one.0)).json(),
            "coverage": Both::of(carried, |plan| filled(plan, zone).map(|one| one.1)).json(),
        })
    });
    let price = |plan: &Plan| Some(plan.settings.currency.number(plan.price.asked));
    json!({
        "parts": parts.collect::<Value>(),
        "copied": carried.art.files.keys().collect::<Vec<_>>(),
        "other_files": carried.art.others,
        "zones": zones.collect::<Value>(),
        "stones": Both::of(carried, |plan| Some(plan.stones.stones.len())).json(),
        "hours": Both::of(carried, |plan| Some(plan.steps.hands_on_min() / 60.0)).json(),
        "price": Both::of(carried, price).json(),
        "currency": carried.before.settings.currency.code,
        "demo": carried.before.settings.demo,
    })
}

/// At most one digit after the point.
fn tenths(mm: f64) -> String {
    let text = format!("{mm:.1}");
    text.strip_suffix(".0").map_or(text.clone(), str::to_owned)
}
