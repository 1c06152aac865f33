//! `summary.json`: counts, totals, hours, price and warnings, for scripts.

mod film;
mod zones;

use crate::Plan;
use crate::numbers::rounded;
use crate::tables;
use crate::words;
use coats::Matter;
use piece::{Diagnostic, Finish};
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};

/// The keys of `summary.json`. Lengths in mm, areas in mm², volumes in ml, masses in g, times in
/// min; counts, amounts and times are for one piece, the bill for the whole quantity.
#[derive(Debug, Serialize)]
struct Summary<'a> {
    /// Version of this layout.
    summary: u32,
    /// Title of the piece.
    title: &'a str,
    /// How many of it.
    quantity: u32,
    /// Day it is due, ISO 8601, or null.
    due: Option<String>,
    /// True when prices and times are made-up examples.
    demo: bool,
    /// Each part.
    parts: Vec<PartSummary<'a>>,
    /// Each zone, in order of work.
    zones: Vec<zones::ZoneSummary<'a>>,
    /// Stones.
    stones: StoneSummary<'a>,
    /// Coats and film.
    coats: CoatSummary,
    /// Steps and times.
    work: WorkSummary,
    /// ISO 4217 code of all money.
    currency: &'a str,
    /// Lines of the price of one piece, in the currency's main unit, as text.
    price: BTreeMap<&'static str, String>,
    /// What the bill costs for the whole quantity, as text.
    bill: BillSummary,
    /// Every warning and caution of the road, in order.
    notes: Vec<NoteSummary<'a>>,
}

#[derive(Debug, Serialize)]
struct PartSummary<'a> {
    name: &'a str,
    area_mm2: f64,
    wall_mm: f64,
    height_mm: f64,
    volume_ml: f64,
}

#[derive(Debug, Serialize)]
struct StoneSummary<'a> {
    count: usize,
    by_part: BTreeMap<&'a str, usize>,
    by_zone: BTreeMap<&'a str, usize>,
    by_size: BTreeMap<&'a str, usize>,
    by_colour: BTreeMap<&'a str, usize>,
    patches: usize,
    /// Waiting for glue while stones are set, min: with one pair of hands for all parts that are ready
    /// together, the least that any order of these patches waits, and both for each part by itself.
    idle_min: f64,
    idle_bound_min: f64,
    idle_apart_min: f64,
    idle_apart_bound_min: f64,
}

#[derive(Debug, Serialize)]
struct CoatSummary {
    paint_coats: usize,
    glitter_coats: usize,
    resin_coats: usize,
    resin_mixed_ml: f64,
    resin_a_g: f64,
    resin_b_g: f64,
    film_zones: usize,
    film_shapes: usize,
    /// Each colour of film on its sheets, for the whole quantity.
    film: Vec<film::FilmSummary>,
    girth_added_mm: f64,
}

#[derive(Debug, Serialize)]
struct WorkSummary {
    steps: usize,
    hands_on_min: f64,
    begins: Option<String>,
    ready: Option<String>,
    post_by: Option<String>,
}

#[derive(Debug, Serialize)]
struct BillSummary {
    lines: usize,
    cost_used: String,
    cost_bought: String,
}

#[derive(Debug, Serialize)]
struct NoteSummary<'a> {
    severity: &'static str,
    path: &'a str,
    message: &'a str,
    hints: &'a [String],
}

/// The content of `summary.json`, with a line end.
pub fn summary_json(plan: &Plan) -> Vec<u8> {
    let summary = Summary {
        summary: 1,
        title: &plan.piece.title,
        quantity: plan.piece.quantity,
        due: plan.piece.due.map(|day| day.to_string()),
        demo: plan.settings.demo,
        parts: parts(plan),
        zones: zones::zones(plan),
        stones: stones(plan),
        coats: coats(plan),
        work: WorkSummary {
            steps: plan.steps.steps.len(),
            hands_on_min: rounded(plan.steps.hands_on_min(), 1),
            begins: plan
                .timetable
                .as_ref()
                .and_then(|timetable| timetable.sittings.first())
                .map(|sitting| sitting.begins.to_string()),
            ready: plan.timetable.as_ref().map(|timetable| timetable.ready.to_string()),
            post_by: plan
                .timetable
                .as_ref()
                .and_then(|timetable| timetable.post_by)
                .map(|day| day.to_string()),
        },
        currency: &plan.settings.currency.code,
        price: tables::price_lines(&plan.price)
            .into_iter()
            .map(|(name, amount)| (name, plan.settings.currency.number(amount)))
            .collect(),
        bill: BillSummary {
            lines: plan.bill.lines.len(),
            cost_used: plan
                .settings
                .currency
                .number(plan.bill.lines.iter().map(|line| line.cost_used).sum()),
            cost_bought: plan
                .settings
                .currency
                .number(plan.bill.lines.iter().map(|line| line.cost_bought).sum()),
        },
        notes: plan.notes.iter().map(note).collect(),
    };
    let mut json = serde_json::to_vec_pretty(&summary).expect("a summary has only plain keys");
    json.push(b'\n');
    json
}

fn parts(plan: &Plan) -> Vec<PartSummary<'_>> {
    plan.piece
        .parts
        .iter()
        .zip(&plan.shape.parts)
        .map(|(part, shape)| PartSummary {
            name: &part.name,
            area_mm2: rounded(shape.area_mm2, 1),
            wall_mm: rounded(shape.wall_mm, 2),
            height_mm: rounded(shape.height_mm, 2),
            volume_ml: rounded(shape.volume_ml, 1),
        })
        .collect()
}

fn stones(plan: &Plan) -> StoneSummary<'_> {
    let setting = stones::plan_setting(&plan.piece, &plan.settings, &plan.stones);
    let mut summary = StoneSummary {
        count: plan.stones.stones.len(),
        by_part: BTreeMap::new(),
        by_zone: BTreeMap::new(),
        by_size: BTreeMap::new(),
        by_colour: BTreeMap::new(),
        patches: 0,
        idle_min: rounded(setting.idle_min, 1),
        idle_bound_min: rounded(setting.bound_min, 1),
        idle_apart_min: rounded(setting.idle_apart_min, 1),
        idle_apart_bound_min: rounded(setting.bound_apart_min, 1),
    };
    let mut patches = BTreeSet::new();
    for stone in &plan.stones.stones {
        let zone = &plan.piece.zones[stone.zone];
        *summary.by_part.entry(&plan.piece.parts[stone.part].name).or_default() += 1;
        *summary.by_zone.entry(&zone.name).or_default() += 1;
        *summary.by_colour.entry(&plan.piece.colours[stone.colour].name).or_default() += 1;
        if let Finish::Stones(finish) = &zone.finish {
            *summary.by_size.entry(&finish.sizes[stone.size].name).or_default() += 1;
        }
        patches.insert((stone.part, stone.patch));
    }
    summary.patches = patches.len();
    summary
}

fn coats(plan: &Plan) -> CoatSummary {
    let coats = &plan.coats.coats;
    let count =
        |matches: fn(&Matter) -> bool| coats.iter().filter(|coat| matches(&coat.matter)).count();
    let resin = |amount: fn(&coats::Mix) -> f64| -> f64 {
        let total = coats
            .iter()
            .filter_map(|coat| match &coat.matter {
                Matter::Resin(mix) => Some(amount(mix)),
                Matter::Paint { .. } | Matter::Glitter { .. } => None,
            })
            .sum();
        rounded(total, 2)
    };
    CoatSummary {
        paint_coats: count(|matter| matches!(matter, Matter::Paint { .. })),
        glitter_coats: count(|matter| matches!(matter, Matter::Glitter { .. })),
        resin_coats: count(|matter| matches!(matter, Matter::Resin(_))),
        resin_mixed_ml: resin(|mix| mix.a_ml + mix.b_ml),
        resin_a_g: resin(|mix| mix.a_g),
        resin_b_g: resin(|mix| mix.b_g),
        film_zones: plan.coats.films.len(),
        film_shapes: plan.coats.films.iter().map(|film| film.shapes).sum(),
        film: film::film(plan),
        girth_added_mm: rounded(
            coats.iter().map(|coat| coat.girth_added_mm).fold(0.0, f64::max),
            2,
        ),
    }
}

fn note(note: &Diagnostic) -> NoteSummary<'_> {
    NoteSummary {
        severity: words::severity(note.severity),
        path: &note.path.0,
        message: &note.message,
        hints: &note.hints,
    }
}
