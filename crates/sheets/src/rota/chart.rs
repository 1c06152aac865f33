//! `chart.svg`, `chart.png` and `chart.pdf`: all weeks at a glance, then week by week.

use super::axis::{Axis, DAYS, Daytime, mondays};
use super::blocks::{HEADING, SOFT, rectangle, width, words};
use super::legend::legend;
use super::makers::looks;
use super::rows::{Row, anything, rows};
use super::strip::{HEAD, LABELS, Pen};
use super::{local, overview, said};
use crate::drawing::{Bounds, Drawing, INK, Ink, Layer, Letters, Mark, Trace, WHITE};
use crate::numbers::fixed;
use crate::workbook::{note, paper_mm, paper_name};
use crate::{SheetError, pixels, typeset, words as said_as};
use glam::DVec2;
use jiff::civil::Date;
use piece::Settings;
use resvg::tiny_skia::{Pixmap, Transform};
use resvg::usvg::{Options, Tree};
use serde_json::{Value, json};
use std::collections::{BTreeMap, BTreeSet};
use work::rota::Rota;

/// Left and right margin of the pages, mm; the same as in `pages/rota-chart.typ`.
const MARGIN_MM: f64 = 12.0;
/// Height that head, foot and legend of a page take, mm; the same as in `pages/rota-chart.typ`.
const TAKEN_MM: f64 = 48.0;
/// Between strips, mm.
const GAP: f64 = 11.0;
/// White about the whole, mm.
const EDGE: f64 = 9.0;
/// Pixels to the millimetre of the picture, and pixels at most.
const PNG_PER_MM: f64 = 6.0;
const PNG_PIXELS: f64 = 40e6;

/// The chart drawn, with where each page of it lies.
pub(super) struct Chart {
    title: String,
    drawing: Drawing,
    pages: Vec<Bounds>,
    legend: Bounds,
    /// Height of the pages without head, foot and legend, mm.
    room: f64,
}

impl Chart {
    pub(super) fn of(rota: &Rota, settings: &Settings) -> Self {
        let letters = Letters::new();
        let looks = looks(rota);
        let paper = paper_mm(settings);
        let (wide, room) = (paper.y - 2.0 * MARGIN_MM, paper.x - TAKEN_MM);
        let title = title(settings);
        let mut head = Layer::new("title", &*title);
        head.marks.push(words(&letters, &title, 1.3 * HEADING, (0.0, 0.0), INK));
        let from = span_words(rota);
        let right = wide - width(&letters, &from, 2.0);
        head.marks.push(words(&letters, &from, 2.0, (right, 0.0), SOFT));
        let (legend_layer, legend) = legend(rota, &letters, &looks, wide, 6.0);
        let mut layers = vec![head, legend_layer];
        let mut pages = Vec::new();
        let mut at = legend.max.y + GAP;
        let mut pen = Pen { rota, letters: &letters, looks: &looks, drawn: BTreeSet::new() };
        let mondays = mondays(rota);
        if mondays.len() > 1 && !rota.orders.is_empty() {
            let (count, high) = overview::pages(rota.orders.len(), room);
            let each = rota.orders.len().div_ceil(count);
            for page in 0..count {
                let orders = page * each..((page + 1) * each).min(rota.orders.len());
                let (layer, foot) = pen.overview(orders, high, wide, at);
                layers.push(layer);
                pages.push(rectangle(0.0, at, wide, foot));
                at = foot + GAP;
            }
        }
        let daytime = Daytime::of(rota);
        for (week, monday) in mondays.into_iter().enumerate() {
            let day_mm = (wide - LABELS) / DAYS as f64;
            let axis = Axis { monday, daytime, left: LABELS, day_mm };
            if week > 0 && !anything(rota, &axis) {
                continue;
            }
            for (part, rows) in parts(rows(rota, &axis, &letters), room - HEAD).iter().enumerate() {
                let more = if part > 0 { format!("-{}", part + 1) } else { String::new() };
                let id = format!("week-{}{more}", week + 1);
                let (strip, foot) = pen.strip(&axis, rows, &id, at);
                layers.extend(strip);
                pages.push(rectangle(0.0, at, wide, foot));
                at = foot + GAP;
            }
        }
        let foot = pages.last().map_or(legend.max.y, |page| page.max.y);
        let sheet = rectangle(-EDGE, -EDGE - HEADING, wide + EDGE, foot + EDGE);
        let mut ground = Layer::new("paper", "Paper");
        ground.marks.push(Mark::path(Trace::rectangle(sheet), Ink::fill(WHITE)));
        layers.insert(0, ground);
        Self { title, drawing: Drawing { layers }, pages, legend, room }
    }

    /// The whole chart, week beneath week.
    pub(super) fn svg(&self) -> String {
        self.drawing.svg(
            &self.title,
            "Orders by time, a week in each strip, nights narrow; spindles and makers beneath. One user unit is 1 mm.",
        )
    }

    /// A page for each strip, and at the end the orders in figures and what the plan rests on.
    pub(super) fn pdf(&self, rota: &Rota, settings: &Settings) -> Result<Vec<u8>, SheetError> {
        let mut files = BTreeMap::new();
        let mut pages = Vec::new();
        for (index, view) in self.pages.iter().enumerate() {
            let name = format!("page-{}.svg", index + 1);
            let view = view.grown(0.5);
            // A strip that no page holds is shown smaller.
            let scale = (self.room / view.size().y).min(1.0);
            let size = view.size() * scale;
            pages.push(json!({ "file": name, "width_mm": size.x, "height_mm": size.y }));
            files.insert(name, self.drawing.tile(view).into_bytes());
        }
        files.insert("legend.svg".to_owned(), self.drawing.tile(self.legend).into_bytes());
        let legend = self.legend.size();
        let data = json!({
            "paper": paper_name(settings),
            "studio": settings.studio,
            "title": self.title,
            "span": span_words(rota),
            "pages": pages,
            "legend": { "width_mm": legend.x, "height_mm": legend.y },
            "orders": orders(rota),
            "quality": rota.quality,
            "notes": rota.notes.iter().map(note).collect::<Vec<_>>(),
        });
        files.insert("data.json".to_owned(), data.to_string().into_bytes());
        typeset::pdf("chart.pdf", "rota-chart.typ", files)
    }
}

/// Rows in parts that each fit in so many mm.
fn parts(rows: Vec<Row>, room: f64) -> Vec<Vec<Row>> {
    let mut parts: Vec<Vec<Row>> = vec![Vec::new()];
    let mut taken = 0.0;
    for row in rows {
        if taken + row.height > room && taken > 0.0 {
            parts.push(Vec::new());
            taken = 0.0;
        }
        taken += row.height;
        if let Some(part) = parts.last_mut() {
            part.push(row);
        }
    }
    parts
}

fn title(settings: &Settings) -> String {
    if settings.studio.is_empty() {
        "Timetable".to_owned()
    } else {
        format!("Timetable of {}", settings.studio)
    }
}

/// `Mon 1 Mar 2027 to Fri 19 Mar 2027`.
fn span_words(rota: &Rota) -> String {
    let begins: Date = local(rota, rota.begins).date();
    format!("{} to {}", said_as::day(begins), said_as::day(super::axis::last(rota)))
}

fn orders(rota: &Rota) -> Vec<Value> {
    let order = |(index, order): (usize, &work::rota::RotaOrder)| {
        let moment = |at| said::moment(local(rota, at));
        json!({
            "number": index + 1,
            "title": order.title,
            "quantity": order.quantity,
            "due": order.due.map(said_as::short_day),
            "leave_by": order.leave_by.map(moment),
            "done": moment(order.done),
            "leaves": moment(order.leaves),
            "late": said::late(order),
            "chance": order.chance.map(|chance| format!("{}\u{a0}%", fixed(100.0 * chance, 0))),
            "buffer": order.buffer_for_90_min.map(|min| said_as::span(min as f64)),
        })
    };
    rota.orders.iter().enumerate().map(order).collect()
}

/// The drawing as a picture; a very long one in fewer pixels to the millimetre.
pub(super) fn png(svg: &str) -> Result<Vec<u8>, SheetError> {
    let refused = |reason: String| SheetError::Typeset { file: "chart.png".to_owned(), reason };
    let tree =
        Tree::from_str(svg, &Options::default()).map_err(|error| refused(error.to_string()))?;
    let size = DVec2::new(f64::from(tree.size().width()), f64::from(tree.size().height()));
    // The drawing has 96 units to the inch.
    let scale = (PNG_PER_MM * 25.4 / 96.0).min((PNG_PIXELS / (size.x * size.y)).sqrt());
    let pixels = (size * scale).ceil();
    let mut canvas = Pixmap::new(pixels.x as u32, pixels.y as u32)
        .ok_or_else(|| refused("there is nothing to draw".to_owned()))?;
    canvas.fill(resvg::tiny_skia::Color::WHITE);
    resvg::render(&tree, Transform::from_scale(scale as f32, scale as f32), &mut canvas.as_mut());
    pixels::drawn(&canvas).map_err(|error| refused(error.to_string()))
}
