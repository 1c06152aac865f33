//! The greatest thickness as time goes on, with the planned coat on it.

use super::Plotted;
use super::bands::{
    FINE, TICK, axis_line, below, bold, film, guide_line, limit_line, per_cent, planned_line,
    safe_ground, small, tight_ground, words,
};
use crate::SheetError;
use crate::drawing::{INK, Letters};
use crate::numbers::fixed;
use crate::plotting::{Area, Failure, LEFT, Plot, colour, title};
use coats::turner::{Allowed, Fate};
use plotters::prelude::*;
use plotters::style::text_anchor::{HPos, Pos, VPos};

/// Size in pixels of the SVG, 96 to the inch; the picture has twice as many.
const SIZE: (u32, u32) = (900, 560);
/// Left, right, top and bottom of the field, steps.
const FIELD: [i32; 4] = [64 * FINE, 872 * FINE, 136 * FINE, 490 * FINE];
/// Space below the field's own words, steps.
const FOOT: i32 = 12 * FINE;
/// From so many minutes on the axis counts hours.
const HOURS_FROM_MIN: f64 = 180.0;
/// The field reaches to this many times the greatest thickness at the pour, and this much above the
/// planned one.
const ROOM: (f64, f64) = (2.2, 1.15);

/// Plots what stays on from the pour on; `name` says which coat: `Moon tide, coat 1 of 2`.
///
/// # Errors
/// A plot that could not be drawn.
pub fn allowed_over_time(name: &str, allowed: &Allowed) -> Result<Plotted, SheetError> {
    Plotted::of(&Plot::new("coat.svg", SIZE, FINE as u32, |area| draw(name, allowed, area))?)
}

fn sentence(allowed: &Allowed) -> String {
    let fate = match allowed.fate {
        Fate::Safe => "safe",
        Fate::Tight => "tight",
        Fate::Sags => "it sags",
    };
    let when = if allowed.tightest.min > 0.0 {
        format!("{} min after the pour", fixed(allowed.tightest.min, 0))
    } else {
        "as it is poured".to_owned()
    };
    format!(
        "At {} turns a minute {} stay on {when}; {} is {} of that: {fate}.",
        allowed.rpm,
        film(allowed.tightest.most_mm),
        film(allowed.planned_mm),
        per_cent(allowed.share)
    )
}

fn draw<'a>(name: &str, allowed: &Allowed, area: &Area<'a>) -> Result<(), Failure<'a>> {
    let letters = Letters::new();
    title(area, &letters, name, FIELD[1], FINE)?;
    words(area, &letters, &sentence(allowed), allowed.safe_share)?;
    area.draw_text("Mean thickness", &small(), (LEFT * FINE, FIELD[2] - 27 * FINE))?;

    let last_min = allowed.course.last().map_or(1.0, |last| last.min).max(1.0);
    let (unit_min, unit) = if last_min > HOURS_FROM_MIN { (60.0, "h") } else { (1.0, "min") };
    let curve: Vec<(f64, f64)> =
        allowed.course.iter().map(|moment| (moment.min / unit_min, moment.most_mm)).collect();
    let greatest = curve.iter().map(|point| point.1).fold(0.0, f64::max);
    let top = ROOM.1 * greatest.min(ROOM.0 * allowed.tightest.most_mm).max(allowed.planned_mm);
    let last = last_min / unit_min;
    let mut chart = ChartBuilder::on(area)
        .margin_left(0)
        .margin_right(SIZE.0 as i32 * FINE - FIELD[1])
        .margin_top(FIELD[2])
        .margin_bottom(FOOT)
        .set_label_area_size(LabelAreaPosition::Left, FIELD[0])
        .set_label_area_size(LabelAreaPosition::Bottom, SIZE.1 as i32 * FINE - FIELD[3] - FOOT)
        .build_cartesian_2d(0.0..last, 0.0..top)?;

    let safe: Vec<(f64, f64)> =
        curve.iter().map(|&(at, most)| (at, allowed.safe_share * most)).collect();
    for (values, ground) in [(&curve, tight_ground()), (&safe, safe_ground())] {
        // Paper first, so that the two grounds do not mix.
        for style in [WHITE.filled(), ground] {
            chart.draw_series([Polygon::new(under(values, last, top), style)])?;
        }
    }
    chart
        .configure_mesh()
        .disable_x_mesh()
        .light_line_style(TRANSPARENT)
        .bold_line_style(guide_line())
        .axis_style(axis_line())
        .set_all_tick_mark_size(TICK)
        .label_style(small())
        .x_labels(9)
        .y_labels(6)
        .x_label_formatter(&|at| {
            let digits = if at.fract() == 0.0 { 0 } else { 1 };
            format!("{} {unit}", fixed(*at, digits))
        })
        .y_label_formatter(&|mm| format!("{} mm", fixed(*mm, if top > 0.5 { 1 } else { 2 })))
        .x_desc("Time after the pour")
        .axis_desc_style(small())
        .draw()?;
    chart.draw_series([PathElement::new(below(&curve, top), limit_line())])?;
    let planned = [(0.0, allowed.planned_mm), (last, allowed.planned_mm)];
    chart.draw_series([PathElement::new(planned, planned_line())])?;

    let at = chart.backend_coord(&(allowed.tightest.min / unit_min, allowed.tightest.most_mm));
    area.draw(&Circle::new(at, 5 * FINE, colour(INK).filled()))?;
    let at = chart.backend_coord(&planned[1]);
    let style = bold().pos(Pos::new(HPos::Right, VPos::Bottom));
    let words = format!("planned {}", film(allowed.planned_mm));
    area.draw_text(&words, &style, (at.0 - 8 * FINE, at.1 - 6 * FINE))
}

/// Corners of the ground below a curve, cut off at `top`.
fn under(curve: &[(f64, f64)], last: f64, top: f64) -> Vec<(f64, f64)> {
    let mut corners = below(curve, top);
    let end = corners.last().map_or(0.0, |corner| corner.0);
    if end < last {
        corners.extend([(last, top), (last, 0.0)]);
    } else {
        corners.push((end, 0.0));
    }
    corners.push((0.0, 0.0));
    corners
}
