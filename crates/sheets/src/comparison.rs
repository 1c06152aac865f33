//! Several ways to set one zone of a piece, side by side: what each takes and gives.

mod labels;
mod plot;

use crate::folder::failed;
use crate::numbers::fixed;
use crate::tables::Table;
use crate::{Plan, SheetError};
use piece::settings::Currency;
use piece::{Finish, Money};
use std::fs;
use std::path::Path;
use stones::Quality;

/// One zone in several ways.
#[derive(Debug, Clone, PartialEq)]
pub struct Comparison {
    /// Title of the piece.
    pub title: String,
    /// Name of the zone.
    pub zone: String,
    /// Name of its part.
    pub part: String,
    /// Currency of the prices.
    pub currency: Currency,
    /// Prices and times are made-up examples.
    pub demo: bool,
    /// The ways, the present one first.
    pub ways: Vec<Way>,
}

/// One way to set the zone. Hours and price are of the whole piece, one of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Way {
    /// `rows, SS8`; unique.
    pub name: String,
    /// Words of its layouts, as in `zones.csv`.
    pub layout: String,
    /// Names of its sizes, smallest first.
    pub sizes: Vec<String>,
    /// It is how the piece file says.
    pub present: bool,
    /// Stones in the zone.
    pub stones: usize,
    /// Area of the zone, mm².
    pub area_mm2: f64,
    /// Sum of the stones' circles over the area.
    pub coverage: f64,
    /// The same with each diameter grown by the gap.
    pub effective_coverage: f64,
    /// Its gaps, pockets and edge.
    pub quality: Quality,
    /// Hands-on time, min.
    pub hands_on_min: f64,
    /// Price asked.
    pub price: Money,
}

impl Way {
    /// What a plan says of a zone; `None` if that has another finish than stones.
    pub fn of(plan: &Plan, zone: usize, name: String, present: bool) -> Option<Self> {
        let Finish::Stones(finish) = &plan.piece.zones[zone].finish else { return None };
        let filled = plan.stones.zones.iter().find(|filled| filled.zone == zone)?;
        Some(Self {
            name,
            layout: filled.layout.clone(),
            sizes: finish.sizes.iter().rev().map(|size| size.name.clone()).collect(),
            present,
            stones: filled.count,
            area_mm2: filled.area_mm2,
            coverage: filled.coverage,
            effective_coverage: filled.effective_coverage,
            quality: filled.quality,
            hands_on_min: plan.steps.hands_on_min(),
            price: plan.price.asked,
        })
    }
}

/// Columns of `compare.csv`.
const COLUMNS: [&str; 13] = [
    "way",
    "present",
    "layout",
    "sizes",
    "stones",
    "coverage",
    "effective_coverage",
    "gap_mean_mm",
    "gap_least_mm",
    "pockets",
    "wide_holes",
    "hours",
    "price",
];

fn csv(comparison: &Comparison) -> Vec<u8> {
    let mut table = Table::new(&COLUMNS);
    let count = |count: Option<usize>| count.map(|count| count.to_string()).unwrap_or_default();
    for way in &comparison.ways {
        let gap = |pick: fn(&stones::Gaps) -> f64| {
            way.quality.gaps.as_ref().map(|gaps| fixed(pick(gaps), 3)).unwrap_or_default()
        };
        table.row(&[
            &way.name,
            &String::from(if way.present { "yes" } else { "no" }),
            &way.layout,
            &way.sizes.join("+"),
            &way.stones.to_string(),
            &fixed(way.coverage, 4),
            &fixed(way.effective_coverage, 4),
            &gap(|gaps| gaps.mean_mm),
            &gap(|gaps| gaps.least_mm),
            &count(way.quality.pockets),
            &count(way.quality.wide_holes),
            &fixed(way.hands_on_min / 60.0, 2),
            &comparison.currency.number(way.price),
        ]);
    }
    table.finish()
}

/// Writes `compare.csv`, `compare.svg` and `compare.png` into an empty folder that exists, and returns
/// their names.
///
/// # Errors
/// The first file that could not be written, or a plot that could not be drawn.
pub fn write_comparison(comparison: &Comparison, folder: &Path) -> Result<Vec<String>, SheetError> {
    let plot = plot::plot(comparison)?;
    let files = [
        ("compare.csv", csv(comparison)),
        ("compare.svg", plot.svg()),
        ("compare.png", plot.png()?),
    ];
    let mut names = Vec::new();
    for (name, bytes) in files {
        fs::write(folder.join(name), bytes).map_err(|source| failed(name, source))?;
        names.push(name.to_owned());
    }
    Ok(names)
}
