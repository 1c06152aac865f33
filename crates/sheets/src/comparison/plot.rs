//! The plot of a comparison: what each way asks against what it covers, every point named.

use super::labels::{Named, places};
use super::{Comparison, Way};
use crate::SheetError;
use crate::drawing::{ACCENT, GUIDE, INK, Letters};
use crate::numbers::fixed;
use crate::plotting::{Area, Failure, LEFT, LINE, NAME, Plot, SANS, colour, title, width};
use glam::DVec2;
use plotters::prelude::*;
use plotters::style::text_anchor::{HPos, Pos, VPos};

/// Size in pixels of the SVG, 96 to the inch; `compare.png` has twice as many.
const SIZE: (u32, u32) = (900, 612);
/// Left, right, top and bottom of the field of points.
const FIELD: [i32; 4] = [78, 870, 106, 538];
/// Space below the field's own words.
const FOOT: i32 = 14;
/// Half the width of a mark, and of the ring round that of the present way.
const MARK: (i32, i32) = (5, 9);

/// Draws a comparison of at least one way.
pub(super) fn plot(comparison: &Comparison) -> Result<Plot, SheetError> {
    Plot::new("compare.svg", SIZE, 1, |area| draw(comparison, area))
}

/// A range with some air at both ends.
fn range(values: impl Iterator<Item = f64> + Clone, least: f64) -> std::ops::Range<f64> {
    let low = values.clone().fold(f64::INFINITY, f64::min);
    let high = values.fold(f64::NEG_INFINITY, f64::max);
    let air = (0.12 * (high - low)).max(least);
    (low - air).max(0.0)..high + air
}

fn draw<'a>(comparison: &Comparison, area: &Area<'a>) -> Result<(), Failure<'a>> {
    let ways = &comparison.ways;
    let unit = 10_u64.pow(comparison.currency.minor_digits) as f64;
    let price = |way: &Way| way.price.0 as f64 / unit;
    let letters = Letters::new();
    title(area, &letters, &comparison.title, FIELD[1], 1)?;
    let small = (SANS, 17).into_font().color(&colour(INK));
    let about = format!(
        "Zone {} on {}. Full dots are rows and rings, open ones lie without order; the hours are those \
         of the whole piece.",
        comparison.zone, comparison.part
    );
    area.draw_text(&about, &small, (LEFT, 50))?;
    area.draw_text("Zone covered", &small, (LEFT, FIELD[2] - 28))?;

    let prices = range(ways.iter().map(price), 0.01 * price(&ways[0]).max(1.0));
    let covers = range(ways.iter().map(|way| 100.0 * way.coverage), 2.0);
    let covers = covers.start..covers.end.min(100.0);
    let mut chart = ChartBuilder::on(area)
        .margin_left(0)
        .margin_right(SIZE.0 as i32 - FIELD[1])
        .margin_top(FIELD[2])
        .margin_bottom(FOOT)
        .set_label_area_size(LabelAreaPosition::Left, FIELD[0])
        .set_label_area_size(LabelAreaPosition::Bottom, SIZE.1 as i32 - FIELD[3] - FOOT)
        .build_cartesian_2d(prices, covers)?;
    let shown = |amount: &f64| {
        let minor = libm::round(amount * unit) as i64;
        let text = comparison.currency.show(piece::Money(minor));
        text.trim_end_matches(".00").to_owned()
    };
    chart
        .configure_mesh()
        .disable_x_mesh()
        .light_line_style(TRANSPARENT)
        .bold_line_style(colour(GUIDE).mix(0.35))
        .axis_style(colour(INK))
        .label_style((SANS, NAME as i32).into_font().color(&colour(INK)))
        .x_labels(8)
        .y_labels(6)
        .x_label_formatter(&shown)
        .y_label_formatter(&|cover| format!("{} %", fixed(*cover, 0)))
        .x_desc(if comparison.demo {
            "Price asked, with made-up example prices and times"
        } else {
            "Price asked"
        })
        .axis_desc_style((SANS, 17).into_font().color(&colour(INK)))
        .draw()?;

    let named: Vec<(String, Named)> = ways
        .iter()
        .map(|way| {
            let name = name(way);
            let (x, y) = chart.backend_coord(&(price(way), 100.0 * way.coverage));
            let radius = f64::from(if way.present { MARK.1 } else { MARK.0 });
            let size = DVec2::new(width(&letters, &name), LINE);
            (name, Named { at: DVec2::new(f64::from(x), f64::from(y)), radius, size })
        })
        .collect();
    let points: Vec<Named> = named.iter().map(|named| named.1).collect();
    let [left, right, top, bottom] = FIELD.map(f64::from);
    let corners = places(&points, [DVec2::new(left, top), DVec2::new(right, bottom)]);
    for ((way, (name, point)), corner) in ways.iter().zip(&named).zip(corners) {
        let at = (point.at.x as i32, point.at.y as i32);
        mark(area, way, at)?;
        let style = if way.present {
            (SANS, NAME as i32, FontStyle::Bold).into_font().color(&colour(ACCENT))
        } else {
            (SANS, NAME as i32).into_font().color(&colour(INK))
        };
        // The lines behind it would cut through its letters.
        let far = corner + point.size;
        let behind = [(corner.x as i32, corner.y as i32), (far.x as i32, far.y as i32)];
        area.draw(&Rectangle::new(behind, WHITE.filled()))?;
        // Held at the side that its point is on: how wide it is, is only reckoned.
        let (side, x) = if far.x <= point.at.x {
            (HPos::Right, far.x)
        } else if corner.x >= point.at.x {
            (HPos::Left, corner.x)
        } else {
            (HPos::Center, corner.x + point.size.x / 2.0)
        };
        let style = style.pos(Pos::new(side, VPos::Top));
        area.draw_text(name, &style, (x as i32, corner.y as i32 + 1))?;
    }
    Ok(())
}

/// A full mark for rows and rings, an open one for what lies without order; the present way has a ring.
fn mark<'a>(area: &Area<'a>, way: &Way, at: (i32, i32)) -> Result<(), Failure<'a>> {
    let ink = colour(if way.present { ACCENT } else { INK });
    if way.layout.contains("scatter") {
        area.draw(&Circle::new(at, MARK.0, WHITE.filled()))?;
        area.draw(&Circle::new(at, MARK.0, ink.stroke_width(2)))?;
    } else {
        area.draw(&Circle::new(at, MARK.0, ink.filled()))?;
    }
    if way.present {
        area.draw(&Circle::new(at, MARK.1, ink.stroke_width(2)))?;
    }
    Ok(())
}

/// `rows, SS8 · 29 h`.
fn name(way: &Way) -> String {
    let now = if way.present { "now: " } else { "" };
    format!("{now}{} · {} h", way.name, fixed(way.hands_on_min / 60.0, 0))
}
