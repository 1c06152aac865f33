//! After a piece is made: what it took against what was planned.
//!
//! What nobody wrote down is unknown, never nothing: it stays out of both sides of a sum.

use crate::{Bill, Goods, Price};
use piece::hours::Craft;
use piece::records::{Logged, Material, Record};
use piece::{Money, Records, Settings};
use std::collections::BTreeMap;
use work::Steps;

/// What one line is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum About {
    /// Hands-on time of a kind of step, min.
    Hours(Craft),
    /// A material, what is lost included.
    Material(Material),
}

/// One line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AfterLine {
    /// What it is about.
    pub about: About,
    /// Planned, for the whole quantity.
    pub planned: f64,
    /// What was written down; `None` for nothing.
    pub actual: Option<f64>,
    /// What the planned amount costs: wage, or materials as they are paid.
    pub planned_cost: Money,
    /// What the actual amount costs.
    pub actual_cost: Option<Money>,
}

/// What a piece took.
#[derive(Debug, Clone, PartialEq)]
pub struct After {
    /// Hours first, then materials; only what was planned or written down.
    pub lines: Vec<AfterLine>,
    /// Pieces that were planned.
    pub pieces: u32,
    /// Pieces written down as spoilt.
    pub failed: u32,
    /// What was planned of all that was written down too.
    pub planned_cost: Money,
    /// What that came to.
    pub actual_cost: Money,
    /// Whether everything planned was written down.
    pub whole: bool,
    /// What an hour was to earn at the asked price.
    pub planned_per_h: Money,
    /// What it earned; `None` unless everything was written down.
    pub actual_per_h: Option<Money>,
}

/// Amounts in thousandths, so that money is shared by whole numbers.
fn thousandths(amount: f64) -> u64 {
    (amount.max(0.0) * 1000.0).round() as u64
}

/// What a piece took, by its lines in the records.
pub fn after(
    title: &str,
    settings: &Settings,
    steps: &Steps,
    bill: &Bill,
    price: &Price,
    records: &Records,
) -> After {
    let mine: Vec<&Record> = records.of(title).collect();
    let mut lines = hours(settings, steps, price, &mine);
    lines.extend(materials(bill, &mine));
    lines.retain(|line| line.planned > 0.0 || line.actual.is_some());
    let known = |line: &&AfterLine| line.actual_cost.is_some();
    let whole = lines.iter().all(|line| line.actual.is_some());
    let failed = mine.iter().filter_map(|record| match &record.logged {
        Logged::Step(step) if step.failed => Some(step.pieces),
        _ => None,
    });
    After {
        pieces: price.pieces,
        failed: failed.sum(),
        planned_cost: lines.iter().filter(known).map(|line| line.planned_cost).sum(),
        actual_cost: lines.iter().filter_map(|line| line.actual_cost).sum(),
        whole,
        planned_per_h: price.earned_per_h,
        actual_per_h: whole.then(|| earned_per_h(settings, bill, price, &lines)).flatten(),
        lines,
    }
}

fn hours(settings: &Settings, steps: &Steps, price: &Price, mine: &[&Record]) -> Vec<AfterLine> {
    let mut planned: BTreeMap<usize, f64> = BTreeMap::new();
    for step in &steps.steps {
        let at = Craft::ALL.iter().position(|craft| *craft == work::craft(step.kind));
        *planned.entry(at.unwrap_or_default()).or_default() += step.hands_on_for_min(price.pieces);
    }
    let wage = |min: f64| settings.maker.wage_per_h.share(thousandths(min), 60_000);
    let line = |(at, craft): (usize, Craft)| {
        let minutes = mine.iter().filter_map(|record| match &record.logged {
            Logged::Step(step) if step.craft == craft => Some(step.minutes),
            _ => None,
        });
        let minutes: Vec<f64> = minutes.collect();
        let actual = (!minutes.is_empty()).then(|| minutes.iter().sum());
        let planned = planned.get(&at).copied().unwrap_or(0.0);
        AfterLine {
            about: About::Hours(craft),
            planned,
            actual,
            planned_cost: wage(planned),
            actual_cost: actual.map(wage),
        }
    };
    Craft::ALL.into_iter().enumerate().map(line).collect()
}

/// Which lines of the bill a material is.
fn goods(material: Material) -> Goods {
    match material {
        Material::Stones => Goods::Stones,
        Material::Resin => Goods::Resin,
        Material::Glitter => Goods::Glitter,
        Material::Glue => Goods::Glue,
    }
}

fn materials(bill: &Bill, mine: &[&Record]) -> Vec<AfterLine> {
    let line = |material: Material| {
        let of_it = || bill.lines.iter().filter(|line| line.goods == goods(material));
        let planned: f64 = of_it().map(|line| line.with_spare).sum();
        let planned_cost: Money = of_it().map(|line| line.cost_used).sum();
        let used = mine.iter().filter_map(|record| match &record.logged {
            Logged::Material(found) if found.material == material => Some(found.used),
            _ => None,
        });
        let used: Vec<f64> = used.collect();
        let actual: Option<f64> = (!used.is_empty()).then(|| used.iter().sum());
        // At the mean price of what was planned; without any, the price is unknown.
        let cost = |used: f64| planned_cost.share(thousandths(used), thousandths(planned));
        AfterLine {
            about: About::Material(material),
            planned,
            actual,
            planned_cost,
            actual_cost: actual.filter(|_| planned > 0.0).map(cost),
        }
    };
    Material::ALL.into_iter().map(line).collect()
}

/// What an hour earned at the asked price: what fees and tax leave for all pieces, less materials and
/// overhead as they were. Goods that nobody writes down count as planned.
fn earned_per_h(
    settings: &Settings,
    bill: &Bill,
    price: &Price,
    lines: &[AfterLine],
) -> Option<Money> {
    let hours = lines.iter().filter(|line| matches!(line.about, About::Hours(_)));
    let minutes = thousandths(hours.filter_map(|line| line.actual).sum());
    let materials = lines.iter().filter(|line| matches!(line.about, About::Material(_)));
    let (mut planned, mut actual) = (Money::ZERO, Money::ZERO);
    for line in materials {
        planned += line.planned_cost;
        actual += line.actual_cost?;
    }
    let kept = price.at_asked.kept.share(u64::from(price.pieces), 1);
    let overhead = settings.pricing.overhead_per_h.share(minutes, 60_000);
    let left = kept - (bill.cost_used() - planned + actual) - overhead;
    (minutes > 0).then(|| left.share(60_000, minutes))
}
