//! From the pour to full cure: when each thing may be done, on one axis of time.

use super::Plotted;
use super::bands::{
    FINE, TICK, axis_line, bold, guide_line, limit_line, planned_line, safe_ground, small,
};
use crate::SheetError;
use crate::drawing::Letters;
use crate::numbers::fixed;
use crate::plotting::{Area, Failure, LEFT, Plot, title};
use coats::Pours;
use coats::cure::{Duration, Plan};
use plotters::prelude::*;
use plotters::style::text_anchor::{HPos, Pos, VPos};

/// Size in pixels of the SVG, 96 to the inch; the picture has twice as many.
const SIZE: (u32, u32) = (900, 470);
/// Left, right, top and bottom of the field, steps.
const FIELD: [i32; 4] = [190 * FINE, 872 * FINE, 84 * FINE, 420 * FINE];
/// Space below the field's own words, steps.
const FOOT: i32 = 10 * FINE;
/// The axis begins here, min.
const FIRST_MIN: f64 = 4.0;
/// Half the height of a bar, of rows that are one high.
const HALF: f64 = 0.22;
/// Names at the end of a bar stand left of it beyond this share of the axis.
const RIGHT_SHARE: f64 = 0.72;

/// One row: from when to when, with the range of both ends.
struct Row {
    name: &'static str,
    from: Option<Duration>,
    to: Duration,
}

/// Plots what may be done when after a pour; `name` says of what, and `room` in what room.
///
/// # Errors
/// A plot that could not be drawn.
pub fn after_a_pour(name: &str, room: &str, pours: &Pours) -> Result<Option<Plotted>, SheetError> {
    let Some(pour) = pours.pours.first() else { return Ok(None) };
    let plot = Plot::new("cure.svg", SIZE, FINE as u32, |area| draw(name, room, &pour.plan, area))?;
    Plotted::of(&plot).map(Some)
}

fn rows(plan: &Plan) -> [Row; 6] {
    let till = |name, to| Row { name, from: None, to };
    [
        till("thin enough to pour", plan.working),
        till("no longer sticks", plan.tack_free),
        till("keep turning", plan.turning),
        Row { name: "next coat bonds", from: Some(plan.recoat_from), to: plan.recoat_to },
        till("hard enough to sand", plan.sandable),
        till("full cure", plan.full_cure),
    ]
}

fn draw<'a>(name: &str, room: &str, plan: &Plan, area: &Area<'a>) -> Result<(), Failure<'a>> {
    let letters = Letters::new();
    title(area, &letters, name, FIELD[1], FINE)?;
    area.draw_text(room, &small(), (LEFT * FINE, 50 * FINE))?;
    let rows = rows(plan);
    let last_min = rows.iter().map(|row| row.to.most_min).fold(60.0, f64::max) * 1.6;
    let n = rows.len() as f64;
    let mut chart = ChartBuilder::on(area)
        .margin_left(0)
        .margin_right(SIZE.0 as i32 * FINE - FIELD[1])
        .margin_top(FIELD[2])
        .margin_bottom(FOOT)
        .set_label_area_size(LabelAreaPosition::Left, FIELD[0])
        .set_label_area_size(LabelAreaPosition::Bottom, SIZE.1 as i32 * FINE - FIELD[3] - FOOT)
        .build_cartesian_2d((FIRST_MIN..last_min).log_scale(), 0.0..n)?;
    let ticks = [5.0, 15.0, 30.0, 60.0, 120.0, 240.0, 480.0, 1440.0, 2880.0, 5760.0, 11_520.0];
    let at = |chart: &ChartContext<'_, _, Cartesian2d<_, _>>, min: f64, row: f64| {
        chart.backend_coord(&(min, row))
    };
    let (foot, head) = (at(&chart, FIRST_MIN, 0.0), at(&chart, last_min, n));
    for min in ticks.into_iter().filter(|min| *min < last_min) {
        let x = at(&chart, min, 0.0).0;
        area.draw(&PathElement::new([(x, head.1), (x, foot.1)], guide_line()))?;
        area.draw(&PathElement::new([(x, foot.1), (x, foot.1 + TICK)], axis_line()))?;
        let style = small().pos(Pos::new(HPos::Center, VPos::Top));
        area.draw_text(&span(min), &style, (x, foot.1 + 2 * TICK))?;
    }
    area.draw(&PathElement::new([foot, (head.0, foot.1)], axis_line()))?;
    for (index, row) in rows.iter().enumerate() {
        let middle = n - 0.5 - index as f64;
        // What comes before the axis begins is drawn at its beginning; its words tell the time.
        let on_axis = |min: f64| min.max(FIRST_MIN);
        let from_min = row.from.map_or(FIRST_MIN, |from| on_axis(from.min));
        chart.draw_series([Rectangle::new(
            [(from_min, middle - HALF), (on_axis(row.to.min), middle + HALF)],
            safe_ground(),
        )])?;
        for end in row.from.iter().chain([&row.to]) {
            let tip = on_axis(end.min);
            let tip = [(tip, middle - HALF), (tip, middle + HALF)];
            chart.draw_series([PathElement::new(tip, planned_line())])?;
            let range = [(on_axis(end.least_min), middle), (on_axis(end.most_min), middle)];
            chart.draw_series([PathElement::new(range, limit_line())])?;
        }
        let (x, y) = at(&chart, on_axis(row.to.most_min), middle);
        let words = match row.from {
            Some(from) => format!("{} to {}", span(from.min), span(row.to.min)),
            None => span(row.to.min),
        };
        let left = FIELD[0] + ((FIELD[1] - FIELD[0]) as f64 * RIGHT_SHARE) as i32;
        let (hold, x) = if x > left {
            (
                HPos::Right,
                at(&chart, row.from.map_or(row.to.least_min, |from| from.least_min), middle).0
                    - 9 * FINE,
            )
        } else {
            (HPos::Left, x + 9 * FINE)
        };
        area.draw_text(&words, &bold().pos(Pos::new(hold, VPos::Center)), (x, y))?;
        let style = small().pos(Pos::new(HPos::Right, VPos::Center));
        area.draw_text(row.name, &style, (FIELD[0] - 10 * FINE, y))?;
    }
    Ok(())
}

/// `40 min`, `4 h`, `3 d`.
fn span(min: f64) -> String {
    if min < 90.0 {
        format!("{} min", fixed(min, 0))
    } else if min < 2880.0 {
        let hours = min / 60.0;
        format!("{} h", fixed(hours, if (hours - hours.round()).abs() < 0.05 { 0 } else { 1 }))
    } else {
        let days = min / 1440.0;
        format!("{} d", fixed(days, if (days - days.round()).abs() < 0.05 { 0 } else { 1 }))
    }
}
