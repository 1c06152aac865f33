//! The greatest thickness along the wall, with the planned coat on it; its start, of a cup the rim, is on
//! top, as on the cup.

use super::Plotted;
use super::bands::{
    FINE, TICK, axis_line, bold, film, guide_line, limit_line, per_cent, planned_line, safe_ground,
    small, tight_ground, words,
};
use crate::SheetError;
use crate::drawing::{ACCENT, Letters};
use crate::numbers::fixed;
use crate::plotting::{Area, Failure, LEFT, Plot, colour, title, width};
use coats::turner::{Along, Place};
use piece::lengths::show;
use piece::settings::LengthUnit;
use plotters::coord::types::RangedCoordf64;
use plotters::prelude::*;
use plotters::style::text_anchor::{HPos, Pos, VPos};

/// Size in pixels of the SVG, 96 to the inch; the picture has twice as many.
const SIZE: (u32, u32) = (900, 700);
/// Left, right, top and bottom of the field, steps.
const FIELD: [i32; 4] = [78 * FINE, 872 * FINE, 136 * FINE, 632 * FINE];
/// Space below the field's own words, steps.
const FOOT: i32 = 12 * FINE;
/// Air beyond the greatest thickness, and where the coat sags, for its name.
const AIR: (f64, f64) = (1.12, 1.5);
/// Most labels of the axis across, and of that along the wall.
const LABELS: (usize, usize) = (8, 9);
/// Places farther apart than this have something between them that is left out, mm.
const APART_MM: f64 = 2.001;

/// Plots what stays on along a wall; `name` says which coat: `Moon tide, coat 1 of 2`.
///
/// # Errors
/// A plot that could not be drawn.
pub fn allowed_along_wall(
    name: &str,
    along: &Along,
    safe_share: f64,
    lengths: LengthUnit,
) -> Result<Plotted, SheetError> {
    Plotted::of(&Plot::new("coat-wall.svg", SIZE, FINE as u32, |area| {
        draw(name, along, safe_share, lengths, area)
    })?)
}

/// As few decimals as tell the labels of an axis, at most `most` of them, as they are.
fn digits(from: f64, to: f64, most: usize) -> usize {
    let labels = RangedCoordf64::from(from..to).key_points(most);
    let exact = |digits: &usize| {
        let off =
            |label: &f64| fixed(*label, *digits).parse().map_or(0.0, |told: f64| told - label);
        labels.iter().all(|label| off(label).abs() < 1e-6)
    };
    (0..4).find(exact).unwrap_or(4)
}

/// Stretches of places with nothing left out between them.
fn stretches(places: &[Place]) -> Vec<&[Place]> {
    places.chunk_by(|one, next| next.along_mm - one.along_mm <= APART_MM).collect()
}

fn draw<'a>(
    name: &str,
    along: &Along,
    safe_share: f64,
    lengths: LengthUnit,
    area: &Area<'a>,
) -> Result<(), Failure<'a>> {
    let letters = Letters::new();
    title(area, &letters, name, FIELD[1], FINE)?;
    let worst = &along.worst;
    let place = show(worst.along_mm, lengths);
    let sentence = format!(
        "Fullest {place} from the start of the wall: {} of the {} that stay on there, {}.",
        film(worst.planned_mm),
        film(worst.most_mm),
        per_cent(worst.share())
    );
    words(area, &letters, &sentence, safe_share)?;
    area.draw_text(
        "Along the wall from its start, of a cup the rim",
        &small(),
        (LEFT * FINE, FIELD[2] - 27 * FINE),
    )?;

    let (unit_mm, unit) = match lengths {
        LengthUnit::Millimetres => (1.0, "mm"),
        LengthUnit::Inches => (25.4, "in"),
    };
    let places = &along.places;
    let thickest =
        places.iter().map(|place| place.most_mm.max(place.planned_mm)).fold(0.0, f64::max);
    let air = if worst.share() > 1.0 { AIR.1 } else { AIR.0 };
    let first = places.first().map_or(0.0, |place| place.along_mm / unit_mm);
    let last = places.last().map_or(1.0, |place| place.along_mm / unit_mm).max(first + 1e-6);
    let across = digits(0.0, air * thickest, LABELS.0);
    let along_wall = digits(first, last, LABELS.1);
    let mut chart = ChartBuilder::on(area)
        .margin_left(0)
        .margin_right(SIZE.0 as i32 * FINE - FIELD[1])
        .margin_top(FIELD[2])
        .margin_bottom(FOOT)
        .set_label_area_size(LabelAreaPosition::Left, FIELD[0])
        .set_label_area_size(LabelAreaPosition::Bottom, SIZE.1 as i32 * FINE - FIELD[3] - FOOT)
        .build_cartesian_2d(0.0..air * thickest, last..first)?;

    let line = |stretch: &[Place], value: &dyn Fn(&Place) -> f64| -> Vec<(f64, f64)> {
        stretch.iter().map(|place| (value(place), place.along_mm / unit_mm)).collect()
    };
    let safe = |place: &Place| safe_share * place.most_mm;
    for stretch in stretches(places) {
        let most = line(stretch, &|place| place.most_mm);
        for (values, ground) in [(&most, tight_ground()), (&line(stretch, &safe), safe_ground())] {
            let mut corners = values.clone();
            corners.push((0.0, stretch[stretch.len() - 1].along_mm / unit_mm));
            corners.push((0.0, stretch[0].along_mm / unit_mm));
            // Paper first, so that the two grounds do not mix.
            for style in [WHITE.filled(), ground] {
                chart.draw_series([Polygon::new(corners.clone(), style)])?;
            }
        }
    }
    chart
        .configure_mesh()
        .disable_y_mesh()
        .light_line_style(TRANSPARENT)
        .bold_line_style(guide_line())
        .axis_style(axis_line())
        .set_all_tick_mark_size(TICK)
        .label_style(small())
        .x_labels(LABELS.0)
        .y_labels(LABELS.1)
        .x_label_formatter(&|mm| format!("{} mm", fixed(*mm, across)))
        .y_label_formatter(&|at| format!("{} {unit}", fixed(*at, along_wall)))
        .x_desc("Mean thickness")
        .axis_desc_style(small())
        .draw()?;
    for stretch in stretches(places) {
        let most = line(stretch, &|place| place.most_mm);
        chart.draw_series([PathElement::new(most, limit_line())])?;
        let planned = line(stretch, &|place| place.planned_mm);
        chart.draw_series([PathElement::new(planned, planned_line())])?;
    }

    let at = chart.backend_coord(&(worst.planned_mm, worst.along_mm / unit_mm));
    area.draw(&Circle::new(at, 6 * FINE, colour(ACCENT).filled()))?;
    // The name stands inside the field: above the place on its lower half, below it on its upper half.
    let (side, y) = if 2 * at.1 > FIELD[2] + FIELD[3] {
        (VPos::Bottom, at.1 - 8 * FINE)
    } else {
        (VPos::Top, at.1 + 8 * FINE)
    };
    let words = format!("fullest: {place}, {}", per_cent(worst.share()));
    let off = 10 * FINE;
    let (hold, x) = if at.0 + off + FINE * width(&letters, &words) as i32 > FIELD[1] {
        (HPos::Right, at.0 - off)
    } else {
        (HPos::Left, at.0 + off)
    };
    area.draw_text(&words, &bold().pos(Pos::new(hold, side)), (x, y))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn labels_of_an_axis_are_told_apart_with_as_few_decimals_as_can_be() {
        // By hand: 172 mm in steps of 20, 1.6 in in steps of 0.2, 4 in in steps of 0.5, 0.17 mm in
        // steps of 0.05 or 0.02.
        for (to, expected) in [(172.0, 0), (1.6, 1), (4.0, 1), (0.17, 2)] {
            assert_eq!(digits(0.0, to, 9), expected, "{to}");
        }
    }
}
