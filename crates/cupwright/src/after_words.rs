//! What a piece took, in words and as data.

use crate::price_words::{figures, hours};
use learned::Learned;
use money::{About, After, AfterLine};
use piece::{Money, Settings};
use serde_json::{Value, json};
use std::fmt::Write;

/// A piece that was made.
pub struct Made {
    pub title: String,
    pub settings: Settings,
    pub after: After,
    pub learned: Learned,
}

/// For a person: planned and actual, money, what to change.
pub fn text(made: &Made) -> String {
    let Made { title, settings, after, learned } = made;
    let show = |amount: Money| settings.currency.show(amount);
    let several =
        if after.pieces > 1 { format!(" ({} pieces)", after.pieces) } else { String::new() };
    let mut text = format!("{title}{several}\n");
    // Writing to a string does not fail.
    let _ = writeln!(
        text,
        "\n  {:<16}{:>14}{:>14}{:>12}{:>12}{:>12}",
        "", "planned", "actual", "planned", "actual", "more"
    );
    for line in &after.lines {
        let (name, amount) = named(line);
        let actual = line.actual.map_or("unknown".to_owned(), &amount);
        let cost = line.actual_cost.map_or_else(|| "unknown".to_owned(), show);
        let more = line.actual_cost.map(|cost| show(cost - line.planned_cost)).unwrap_or_default();
        let _ = writeln!(
            text,
            "  {name:<16}{:>14}{actual:>14}{:>12}{cost:>12}{more:>12}",
            amount(line.planned),
            show(line.planned_cost)
        );
    }
    let _ = writeln!(
        text,
        "  {:<44}{:>12}{:>12}{:>12}",
        "all that was written down",
        show(after.planned_cost),
        show(after.actual_cost),
        show(after.actual_cost - after.planned_cost)
    );
    if after.failed > 0 {
        let _ = writeln!(text, "\nSpoilt and made again: {}.", after.failed);
    }
    match after.actual_per_h {
        Some(per_h) => {
            let _ = writeln!(
                text,
                "\nAn hour earned {}; planned were {}.",
                show(per_h),
                show(after.planned_per_h)
            );
        }
        None => {
            let unknown = after.lines.iter().filter(|line| line.actual.is_none());
            let unknown: Vec<&str> = unknown.map(|line| named(line).0).collect();
            let _ = writeln!(
                text,
                "\nWhat an hour earned is unknown: nothing is written down of {}.",
                unknown.join(", ")
            );
        }
    }
    let advice: Vec<String> = learned.figures.iter().filter_map(|one| one.advice()).collect();
    text.push_str("\nTo change next time, by all records\n");
    if advice.is_empty() {
        text.push_str("  Nothing: no standard is off by more than the records are unsure.\n");
    }
    for line in advice {
        let _ = writeln!(text, "  {line}");
    }
    text
}

/// The name of a line, and how its amounts are shown.
fn named(line: &AfterLine) -> (&'static str, Box<dyn Fn(f64) -> String>) {
    match line.about {
        About::Hours(craft) => {
            (craft.word(), Box::new(|min: f64| hours(min.max(0.0).round() as u64)))
        }
        About::Material(material) => (
            material.word(),
            Box::new(move |amount: f64| {
                format!("{} {}", (amount * 10.0).round() / 10.0, material.unit())
            }),
        ),
    }
}

/// For a script.
pub fn json(made: &Made) -> Value {
    let Made { settings, after, learned, .. } = made;
    let number = |amount: Money| settings.currency.number(amount);
    let line = |line: &AfterLine| {
        let (about, unit) = match line.about {
            About::Hours(_) => ("hours", "min"),
            About::Material(material) => ("material", material.unit()),
        };
        json!({
            "about": about,
            "what": named(line).0,
            "unit": unit,
            "planned": line.planned,
            "actual": line.actual,
            "planned_cost": number(line.planned_cost),
            "actual_cost": line.actual_cost.map(number),
        })
    };
    json!({
        "title": made.title,
        "demo": settings.demo,
        "currency": settings.currency.code,
        "pieces": after.pieces,
        "failed": after.failed,
        "lines": after.lines.iter().map(line).collect::<Vec<_>>(),
        "planned_cost": number(after.planned_cost),
        "actual_cost": number(after.actual_cost),
        "whole": after.whole,
        "planned_per_h": number(after.planned_per_h),
        "actual_per_h": after.actual_per_h.map(number),
        "advice": learned.figures.iter().filter_map(|one| one.advice()).collect::<Vec<_>>(),
        "learned": figures(learned),
    })
}
