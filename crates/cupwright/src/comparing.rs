//! Walks the road with a zone set in several ways, and puts them side by side.

use crate::args::CompareArgs;
use crate::findings::Findings;
use crate::open::Opened;
use crate::progress::Progress;
use crate::road::{Halt, Travel, walk};
use crate::stop::Stop;
use crate::studio::Studio;
use crate::trouble::Trouble;
use crate::ways::{Tried, ways};
use piece::{Diagnostic, Finish, Piece, Settings, Severity};
use rayon::prelude::*;
use serde_json::{Value, json};
use sheets::{Comparison, Plan, Way};
use std::fmt::Write;
use std::sync::atomic::{AtomicUsize, Ordering};

/// What came of it.
pub struct Outcome {
    /// The ways that can be made.
    pub comparison: Comparison,
    /// Names of those that cannot, with the reason.
    pub left_out: Vec<(String, String)>,
    /// What is to say of single ways, with their names.
    remarks: Vec<(String, String)>,
}

/// Walks every way. `None` if the piece as it is needs mending first.
///
/// # Errors
/// Stopped; a zone or sizes that there are none of.
pub fn compare(
    args: &CompareArgs,
    opened: &Opened,
    studio: &Studio,
    stop: &Stop,
    progress: &Progress,
    findings: &mut Findings,
) -> Result<Option<Outcome>, Trouble> {
    let (piece, settings) = (&opened.piece, &studio.settings);
    let named = args.zone.as_deref().map(|name| zone_named(piece, name)).transpose()?;
    // As it is: nothing can be compared with a piece that cannot be made.
    let telling = |share: f64, doing: &str| progress.show(0.1 * share, doing);
    let first = walk(piece.clone(), travel(settings, stop, &telling));
    let plan = match first {
        Ok(plan) => plan,
        Err(Halt::Stopped) => return Err(Trouble::stopped()),
        Err(Halt::Mend(errors)) => {
            opened.found(errors, studio, findings);
            return Ok(None);
        }
    };
    let Some(zone) = named.or_else(|| largest(&plan)) else {
        return Err(Trouble::usage(format!(
            "\"{}\" has no zone of stones to compare",
            piece.title
        )));
    };
    let tried = ways(piece, settings, zone, main_layer(&plan, zone), &args.sizes, &args.layouts)
        .map_err(|message| {
            Trouble::usage(message).hint(
                "Put commas between sizes to try each by itself, or add scatter to --layouts.",
            )
        })?;
    let others = &tried[1..];
    let done = AtomicUsize::new(0);
    let walked: Vec<Result<Plan, Halt>> = others
        .par_iter()
        .map(|one| {
            let share = done.load(Ordering::Relaxed) as f64 / others.len() as f64;
            progress.show(0.1 + 0.9 * share, &format!("trying {}", one.name));
            let plan = walk(one.piece.clone(), travel(settings, stop, &|_, _| {}));
            done.fetch_add(1, Ordering::Relaxed);
            plan
        })
        .collect();
    if stop.asked() {
        return Err(Trouble::stopped());
    }
    Ok(Some(side_by_side(&plan, zone, &tried, walked)))
}

fn travel<'a>(
    settings: &Settings,
    stop: &'a Stop,
    progress: &'a (dyn Fn(f64, &str) + Sync),
) -> Travel<'a> {
    Travel {
        notes: Vec::new(),
        settings: settings.clone(),
        begin: None,
        stop,
        long_work: &|_| true,
        progress,
    }
}

fn side_by_side(
    plan: &Plan,
    zone: usize,
    tried: &[Tried],
    walked: Vec<Result<Plan, Halt>>,
) -> Outcome {
    let (mut left_out, mut remarks) = (Vec::new(), Vec::new());
    let mut list: Vec<Way> = Way::of(plan, zone, tried[0].name.clone(), true).into_iter().collect();
    let about_zone = |found: &&Diagnostic| found.path.0.starts_with(&format!("zone[{zone}]"));
    for (one, walked) in tried[1..].iter().zip(walked) {
        match walked {
            Ok(other) => {
                list.extend(Way::of(&other, zone, one.name.clone(), one.present));
                let warned = |found: &&Diagnostic| found.severity == Severity::Warning;
                let found = other.stones.notes.iter().filter(about_zone).filter(warned);
                remarks.extend(found.map(|found| (one.name.clone(), found.message.clone())));
            }
            Err(Halt::Mend(errors)) => {
                let error = errors.first().map(|error| error.message.clone());
                left_out.push((one.name.clone(), error.unwrap_or_default()));
            }
            Err(Halt::Stopped) => {}
        }
    }
    let described = &plan.piece.zones[zone];
    let comparison = Comparison {
        title: plan.piece.title.clone(),
        zone: described.name.clone(),
        part: plan.piece.parts[described.part].name.clone(),
        currency: plan.settings.currency.clone(),
        demo: plan.settings.demo,
        ways: list,
    };
    Outcome { comparison, left_out, remarks }
}

/// The zone of stones of this name.
fn zone_named(piece: &Piece, name: &str) -> Result<usize, Trouble> {
    let of_stones = || {
        let zones = piece.zones.iter().enumerate();
        zones.filter(|(_, zone)| matches!(zone.finish, Finish::Stones(_)))
    };
    of_stones().find(|(_, zone)| zone.name == name).map(|(index, _)| index).ok_or_else(|| {
        let names: Vec<&str> = of_stones().map(|(_, zone)| zone.name.as_str()).collect();
        let known = match names.as_slice() {
            [] => "it has none".to_owned(),
            [one] => format!("the only one is {one}"),
            more => format!("there are {}", more.join(", ")),
        };
        Trouble::usage(format!(
            "\"{}\" has no zone of stones `{}`; {known}",
            piece.title,
            name.escape_debug()
        ))
    })
}

/// The zone of stones with the largest area, the first of those alike.
fn largest(plan: &Plan) -> Option<usize> {
    let zones = plan.stones.zones.iter();
    zones.rev().max_by(|a, b| a.area_mm2.total_cmp(&b.area_mm2)).map(|filled| filled.zone)
}

/// The layer that most stones of the zone belong to.
fn main_layer(plan: &Plan, zone: usize) -> usize {
    let Finish::Stones(finish) = &plan.piece.zones[zone].finish else { return 0 };
    let count = |layer: usize| {
        let stones = plan.stones.stones.iter();
        stones.filter(|stone| stone.zone == zone && stone.layer == layer).count()
    };
    (0..finish.layers.len()).rev().max_by_key(|layer| count(*layer)).unwrap_or(0)
}

/// A table for a person.
pub fn text(outcome: &Outcome) -> String {
    let comparison = &outcome.comparison;
    let Some(now) = comparison.ways.first() else { return String::new() };
    let wide = comparison.ways.iter().map(|way| way.name.chars().count()).max().unwrap_or(0);
    let (wide, money) = (wide.max(5), &comparison.currency);
    let mut text =
        format!("{}: zone {} on {}\n\n", comparison.title, comparison.zone, comparison.part);
    // Writing to a string does not fail.
    let _ = writeln!(
        text,
        "       {:<wide$}  stones  covers  pockets  holes   hours      price   against now",
        ""
    );
    for way in &comparison.ways {
        let mark = if way.present { "now" } else { "" };
        let count = |count: Option<usize>| count.map_or("-".to_owned(), |count| count.to_string());
        let against = if way.present {
            String::new()
        } else {
            let price = way.price.0 - now.price.0;
            let sign = if price < 0 { "-" } else { "+" };
            // To the tenth, and never less than nothing by rounding.
            let hours = ((way.hands_on_min - now.hands_on_min) / 6.0).round() / 10.0 + 0.0;
            format!("{hours:+.1} h, {sign}{}", money.show(piece::Money(price.abs())))
        };
        let row = format!(
            "  {mark:<4} {:<wide$} {:>7} {:>5.1} % {:>8} {:>6} {:>7.1} {:>10}   {against}",
            way.name,
            way.stones,
            100.0 * way.coverage,
            count(way.quality.pockets),
            count(way.quality.wide_holes),
            way.hands_on_min / 60.0,
            money.show(way.price),
        );
        let _ = writeln!(text, "{}", row.trim_end());
    }
    let demo = if comparison.demo { ", with made-up example prices and times" } else { "" };
    let _ = writeln!(
        text,
        "\nOf the zone: stones, what they cover, pockets that would take its smallest size, and holes \
         wider than 1.7 mm.\nOf one whole piece: hours and price{demo}."
    );
    for (name, reason) in &outcome.left_out {
        let _ = writeln!(text, "Left out: {name}: {reason}.");
    }
    for (name, remark) in &outcome.remarks {
        let _ = writeln!(text, "{name}: {remark}.");
    }
    text
}

/// The same for a script.
pub fn json(outcome: &Outcome) -> Value {
    let comparison = &outcome.comparison;
    let pairs = |list: &[(String, String)], key: &str| -> Value {
        list.iter().map(|(name, text)| json!({ "way": name, key: text })).collect()
    };
    let way = |way: &Way| {
        json!({
            "way": way.name,
            "present": way.present,
            "layout": way.layout,
            "sizes": way.sizes,
            "stones": way.stones,
            "coverage": rounded(way.coverage, 4),
            "effective_coverage": rounded(way.effective_coverage, 4),
            "gap_mean_mm": way.quality.gaps.map(|gaps| rounded(gaps.mean_mm, 3)),
            "gap_least_mm": way.quality.gaps.map(|gaps| rounded(gaps.least_mm, 3)),
            "pockets": way.quality.pockets,
            "wide_holes": way.quality.wide_holes,
            "hours": rounded(way.hands_on_min / 60.0, 2),
            "price": comparison.currency.number(way.price),
        })
    };
    json!({
        "title": comparison.title,
        "zone": comparison.zone,
        "part": comparison.part,
        "demo": comparison.demo,
        "currency": comparison.currency.code,
        "ways": comparison.ways.iter().map(way).collect::<Value>(),
        "left_out": pairs(&outcome.left_out, "reason"),
        "remarks": pairs(&outcome.remarks, "remark"),
    })
}

fn rounded(value: f64, digits: usize) -> f64 {
    format!("{value:.digits$}").parse().unwrap_or(value)
}
