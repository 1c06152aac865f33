//! `price.pdf`: one page for the maker, not for the customer.

use super::Priced;
use crate::tables::per_hundred;
use crate::workbook::{minutes, paper_name};
use crate::{SheetError, typeset};
use ::money::{Level, Price, Rule, RuleKind};
use piece::Money;
use piece::money::billionths;
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// Most figures of the records that the page tells; all stand in `learned.csv`.
const MOST_LEARNED: usize = 11;

/// The page, set.
pub(super) fn pdf(priced: &Priced) -> Result<Vec<u8>, SheetError> {
    let files = BTreeMap::from([("data.json".to_owned(), data(priced).to_string().into_bytes())]);
    typeset::pdf("price.pdf", "price-sheet.typ", files)
}

fn data(priced: &Priced) -> Value {
    let Priced { piece, settings, price, batch, channels, learned, .. } = priced;
    let asked = if price.typed { "As typed" } else { "Asked" };
    let levels = [("Floor", &price.floor), ("Fair", &price.fair), (asked, &price.at_asked)];
    // Bars share one scale; a price below what is paid for shows parts longer than itself.
    let longest = levels.iter().map(|(_, level)| spent(price, level).max(level.price.0)).max();
    let longest = longest.unwrap_or(1).max(1);
    let show = |amount: Money| settings.currency.show(amount);
    let level = |(name, level): &(&str, &Level)| {
        let widths = parts(price, level).map(|amount| amount.0.max(0) as f64 / longest as f64);
        json!({
            "name": name,
            "price": show(level.price),
            "paid": (level.paid != level.price).then(|| show(level.paid)),
            "per_h": show(level.per_h),
            "margin": show(level.margin),
            "short": level.margin < Money::ZERO,
            "parts": parts(price, level).map(show),
            "widths": widths,
        })
    };
    json!({
        "paper": paper_name(settings),
        "studio": settings.studio,
        "demo": settings.demo,
        "title": piece.title,
        "currency": settings.currency.code,
        "pieces": price.pieces,
        "asked_for_all": show(price.asked_for_all()),
        "hours": minutes(price.hands_on_min),
        "wage": show(settings.maker.wage_per_h),
        "levels": levels.iter().map(level).collect::<Vec<_>>(),
        "rows": rows(priced),
        "rules": price.rules.iter().map(|rule| self::rule(priced, rule)).collect::<Vec<_>>(),
        "batch": batch.iter().map(|one| made_together(priced, one)).collect::<Vec<_>>(),
        "channels": channels.iter().map(|one| channel(priced, one)).collect::<Vec<_>>(),
        "learned": learned.as_ref().map(|(learned, name)| {
            let mut found: Vec<_> = learned.found().collect();
            // Those first that the standard does not fit.
            found.sort_by_key(|one| !one.standard_is_off());
            let found: Vec<Value> = found.into_iter().map(figure).collect();
            json!({
                "name": name,
                "more": found.len().saturating_sub(MOST_LEARNED),
                "kept": learned.figures.len() - found.len(),
                "found": found.into_iter().take(MOST_LEARNED).collect::<Vec<_>>(),
            })
        }),
    })
}

/// What a price goes into: materials, overhead, failed goods, fees, tax within it, hours, and what is over.
fn parts(price: &Price, level: &Level) -> [Money; 7] {
    let wage = price.labour + price.failure - price.failed_goods;
    [
        price.materials,
        price.overhead,
        price.failed_goods,
        level.fees(),
        price.selling.tax_within(level.price),
        Money(level.for_hours.0.clamp(0, wage.0.max(0))),
        Money(level.margin.0.max(0)),
    ]
}

fn spent(price: &Price, level: &Level) -> i64 {
    parts(price, level).iter().map(|part| part.0).sum()
}

/// The names of the parts, how each comes about, and whether there is anything of it.
fn rows(priced: &Priced) -> Vec<Value> {
    let Priced { settings, price, .. } = priced;
    let show = |amount: Money| settings.currency.show(amount);
    let percent = |billionths: u64| format!("{}\u{a0}%", per_hundred(billionths));
    let selling = &price.selling;
    let hours = minutes(price.hands_on_min);
    let shared =
        if price.pieces > 1 { format!(", shared by {}", price.pieces) } else { String::new() };
    let mut fees: Vec<String> = Vec::new();
    if selling.commission > 0 {
        fees.push(format!("{} of the price", percent(selling.commission)));
    }
    if selling.card > 0 {
        fees.push(format!("{} for the card", percent(selling.card)));
    }
    if selling.order > Money::ZERO {
        fees.push(format!("{} an order{shared}", show(selling.order)));
    }
    if selling.listing > Money::ZERO {
        fees.push(format!("{} for offering it", show(selling.listing)));
    }
    let tax = selling.tax.map_or(String::new(), |tax| {
        let how = if tax.included { "in the price" } else { "on top, for the customer to pay" };
        format!("{} {how}", percent(tax.rate))
    });
    let failing = percent(billionths(settings.pricing.failure));
    let at = |rate: Money| format!("{hours} at {}{shared}", show(rate));
    [
        ("Materials", "used up, spare included".to_owned()),
        ("Overhead", at(settings.pricing.overhead_per_h)),
        ("Pieces that fail", format!("{failing} fail: their materials and overhead")),
        ("Fees", if fees.is_empty() { "none".to_owned() } else { fees.join(", ") }),
        ("Tax", tax),
        (
            "For your hours",
            format!("{}; those on failed pieces too", at(settings.maker.wage_per_h)),
        ),
        (
            "Over",
            match price.typed {
                true => "left over all this".to_owned(),
                false => format!(
                    "profit of {} on cost, and rounding",
                    percent(billionths(settings.pricing.profit))
                ),
            },
        ),
    ]
    .map(|(name, how)| json!({ "name": name, "how": how }))
    .to_vec()
}

fn figure(figure: &learned::Figure) -> Value {
    let subject = &figure.subject;
    let show = |value: f64| subject.show(value);
    json!({
        "name": subject.name(),
        "value": show(figure.value()),
        "within": figure.found.map(|found| format!("{} to {}", show(found.within.0), show(found.within.1))),
        "standard": show(figure.standard),
        "off": figure.standard_is_off(),
        "records": figure.records,
    })
}

fn rule(priced: &Priced, rule: &Rule) -> Value {
    let show = |amount: Money| priced.settings.currency.show(amount);
    json!({
        "name": match rule.kind {
            RuleKind::Average => "the average of materials and wage with three times the materials",
            RuleKind::HalfOfFourfold => "half of four times the materials and the wage",
        },
        "asks": show(rule.level.price),
        "margin": show(rule.level.margin),
        "short": rule.level.margin < Money::ZERO,
        "per_h": show(rule.level.per_h),
        "loses_from": rule.loses_from_min.map(minutes),
    })
}

fn made_together(priced: &Priced, price: &Price) -> Value {
    let show = |amount: Money| priced.settings.currency.show(amount);
    let alone = priced.batch.first().unwrap_or(price);
    let saving = price.saving_against(alone);
    json!({
        "pieces": price.pieces,
        "hours": minutes(price.hands_on_min),
        "cost": show(price.cost),
        "asked": show(price.asked),
        "for_all": show(price.asked_for_all()),
        "saving": (saving.asked != Money::ZERO).then(|| {
            format!("{} ({}\u{a0}%)", show(saving.asked), saving.percent())
        }),
        "per_h": show(price.earned_per_h),
    })
}

fn channel(priced: &Priced, price: &Price) -> Value {
    let show = |amount: Money| priced.settings.currency.show(amount);
    json!({
        "name": price.selling.channel.as_deref().unwrap_or("the usual fees"),
        "this": price.selling.channel == priced.price.selling.channel,
        "floor": show(price.floor.price),
        "fair": show(price.fair.price),
        "asked": show(price.asked),
        "fees": show(price.fees),
        "per_h": show(price.earned_per_h),
    })
}
