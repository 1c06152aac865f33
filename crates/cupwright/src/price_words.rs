//! A price in words and as data.

use crate::records_file;
use learned::Learned;
use money::{Level, Price, RuleKind};
use piece::{Money, Settings};
use serde_json::{Value, json};
use sheets::Priced;
use std::fmt::Write;

/// For a person: the build-up, three prices, rules of thumb, batch, channels, records.
pub fn text(priced: &Priced) -> String {
    let Priced { piece, settings, price, batch, channels, learned, .. } = priced;
    let mut text = format!("{}: {} hands-on", piece.title, hours(price.hands_on_min));
    if price.pieces > 1 {
        let _ = write!(text, " for {} made together", price.pieces);
    }
    let made_up = if settings.demo { " (with made-up example prices)" } else { "" };
    let _ = writeln!(text, "{made_up}");
    built_up(&mut text, settings, price);
    rules(&mut text, settings, price);
    if batch.len() > 1 {
        together(&mut text, settings, batch);
    }
    if channels.len() > 1 {
        elsewhere(&mut text, settings, channels);
    }
    if let Some(learned) = learned {
        let _ = writeln!(text, "\n{}.", records_file::said(learned));
        for figure in learned.0.found() {
            let _ = writeln!(text, "  {}", figure.sentence());
        }
    }
    text
}

// Writing to a string does not fail, in all of what follows.

fn built_up(text: &mut String, settings: &Settings, price: &Price) {
    let asked = if price.typed { "typed" } else { "asked" };
    let _ = writeln!(text, "\n{:<34}{:>12}{:>12}{:>12}", "One piece", "floor", "fair", asked);
    let levels = [&price.floor, &price.fair, &price.at_asked];
    let mut row = |name: &str, amount: &dyn Fn(&Level) -> Money| {
        let amounts = levels.map(|level| settings.currency.show(amount(level)));
        let [floor, fair, asked] = amounts;
        let _ = writeln!(text, "  {name:<32}{floor:>12}{fair:>12}{asked:>12}");
    };
    row("materials", &|_| price.materials);
    row("overhead", &|_| price.overhead);
    row("pieces that fail, goods", &|_| price.failed_goods);
    row("fees", &|level| level.fees());
    if let Some(tax) = price.selling.tax {
        row(if tax.included { "tax, in the price" } else { "tax, on top" }, &|level| level.tax);
    }
    row("for your hours", &|level| level.for_hours);
    row("price", &|level| level.price);
    if price.selling.tax.is_some_and(|tax| !tax.included) {
        row("the customer pays", &|level| level.paid);
    }
    row("an hour pays", &|level| level.per_h);
    row("over the wage", &|level| level.margin);
    let show = |amount: Money| settings.currency.show(amount);
    let _ = writeln!(
        text,
        "  Floor: nothing out of your pocket, hours unpaid. Fair: hours paid at {}.",
        show(settings.maker.wage_per_h)
    );
    if price.pieces > 1 {
        let (all, paid) = (price.asked_for_all(), price.paid_for_all());
        let tax = if paid == all { String::new() } else { format!("; with tax {}", show(paid)) };
        let _ = writeln!(text, "  All {} together: {}{tax}.", price.pieces, show(all));
    }
}

fn rules(text: &mut String, settings: &Settings, price: &Price) {
    let show = |amount: Money| settings.currency.show(amount);
    text.push_str("\nRules of thumb\n");
    for rule in &price.rules {
        let against = match rule.level.margin {
            Money(margin) if margin < 0 => format!("{} short of the wage", show(Money(-margin))),
            margin => format!("{} over the wage", show(margin)),
        };
        let _ = writeln!(
            text,
            "  {}: {}, {against}, {} an hour",
            rule_name(rule.kind),
            show(rule.level.price),
            show(rule.level.per_h)
        );
    }
    let from = match price.rules[0].loses_from_min {
        Some(min) => format!("they lose money from {} of work on one piece", hours(min)),
        None => "with these materials they never lose money".to_owned(),
    };
    let _ = writeln!(text, "  Both are twice the materials and half the wage; {from}.");
}

fn rule_name(kind: RuleKind) -> &'static str {
    match kind {
        RuleKind::Average => "average of materials and wage with 3 x materials",
        RuleKind::HalfOfFourfold => "half of 4 x materials and wage",
    }
}

fn together(text: &mut String, settings: &Settings, batch: &[Price]) {
    let show = |amount: Money| settings.currency.show(amount);
    let _ = writeln!(
        text,
        "\n{:<18}{:>12}{:>12}{:>12}{:>18}{:>14}",
        "Made together", "hands-on", "cost", "ask", "less than one", "for all"
    );
    for price in batch {
        let saving = price.saving_against(&batch[0]);
        let saved = match saving.asked {
            Money::ZERO => "-".to_owned(),
            asked => format!("{} ({} %)", show(asked), saving.percent()),
        };
        let _ = writeln!(
            text,
            "  {:<16}{:>12}{:>12}{:>12}{saved:>18}{:>14}",
            price.pieces,
            hours(price.hands_on_min),
            show(price.cost),
            show(price.asked),
            show(price.asked_for_all()),
        );
    }
}

fn elsewhere(text: &mut String, settings: &Settings, channels: &[Price]) {
    let show = |amount: Money| settings.currency.show(amount);
    let _ = writeln!(
        text,
        "\n{:<22}{:>12}{:>12}{:>12}{:>12}{:>14}",
        "Sold", "floor", "fair", "ask", "fees", "an hour pays"
    );
    for price in channels {
        let _ = writeln!(
            text,
            "  {:<20}{:>12}{:>12}{:>12}{:>12}{:>14}",
            price.selling.channel.as_deref().unwrap_or("with the usual fees"),
            show(price.floor.price),
            show(price.fair.price),
            show(price.asked),
            show(price.fees),
            show(price.earned_per_h),
        );
    }
}

/// `12 h 33 min`.
pub fn hours(min: u64) -> String {
    match (min / 60, min % 60) {
        (0, left) => format!("{left} min"),
        (hours, 0) => format!("{hours} h"),
        (hours, left) => format!("{hours} h {left} min"),
    }
}

/// For a script.
pub fn json(priced: &Priced) -> Value {
    let Priced { piece, settings, price, batch, channels, learned, .. } = priced;
    let number = |amount: Money| settings.currency.number(amount);
    let rule = |rule: &money::Rule| {
        json!({
            "rule": match rule.kind {
                RuleKind::Average => "average",
                RuleKind::HalfOfFourfold => "half",
            },
            "at": level(settings, &rule.level),
            "loses_from_min": rule.loses_from_min,
        })
    };
    let made = |price: &Price| {
        let saving = price.saving_against(&batch[0]);
        json!({
            "pieces": price.pieces,
            "hands_on_min": price.hands_on_min,
            "cost": number(price.cost),
            "asked": number(price.asked),
            "asked_for_all": number(price.asked_for_all()),
            "saving": number(saving.asked),
            "saving_per_mille": saving.per_mille,
            "earned_per_h": number(price.earned_per_h),
        })
    };
    json!({
        "title": piece.title,
        "demo": settings.demo,
        "currency": settings.currency.code,
        "channel": price.selling.channel,
        "pieces": price.pieces,
        "hands_on_min": price.hands_on_min,
        "materials": number(price.materials),
        "labour": number(price.labour),
        "overhead": number(price.overhead),
        "failure": number(price.failure),
        "failed_goods": number(price.failed_goods),
        "cost": number(price.cost),
        "profit": number(price.profit),
        "typed": price.typed,
        "floor": level(settings, &price.floor),
        "fair": level(settings, &price.fair),
        "asked": level(settings, &price.at_asked),
        "asked_for_all": number(price.asked_for_all()),
        "paid_for_all": number(price.paid_for_all()),
        "rules": price.rules.iter().map(rule).collect::<Vec<_>>(),
        "batch": batch.iter().map(made).collect::<Vec<_>>(),
        "channels": channels.iter().map(|one| json!({
            "channel": one.selling.channel,
            "floor": number(one.floor.price),
            "fair": number(one.fair.price),
            "asked": level(settings, &one.at_asked),
        })).collect::<Vec<_>>(),
        "learned": learned.as_ref().map(|(learned, _)| figures(learned)),
    })
}

fn level(settings: &Settings, level: &Level) -> Value {
    let number = |amount: Money| settings.currency.number(amount);
    json!({
        "price": number(level.price),
        "fees": number(level.fees()),
        "tax": number(level.tax),
        "paid": number(level.paid),
        "kept": number(level.kept),
        "for_hours": number(level.for_hours),
        "margin": number(level.margin),
        "per_h": number(level.per_h),
    })
}

/// What records taught, for a script.
pub fn figures(learned: &Learned) -> Value {
    let one = |figure: &learned::Figure| {
        json!({
            "figure": figure.subject.name(),
            "key": figure.subject.key(),
            "unit": figure.subject.unit(),
            "standard": figure.standard,
            "learned": figure.found.map(|found| found.value),
            "low": figure.found.map(|found| found.within.0),
            "high": figure.found.map(|found| found.within.1),
            "records": figure.records,
            "missing": figure.missing,
            "standard_is_off": figure.standard_is_off(),
        })
    };
    learned.figures.iter().map(one).collect()
}
