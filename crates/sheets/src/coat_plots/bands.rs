//! What both plots have in common: the safe ground, what stays on, the planned coat, and their names.

use crate::drawing::{ACCENT, GUIDE, INK, Letters, Srgb};
use crate::numbers::fixed;
use crate::plotting::{Area, Failure, LEFT, NAME, SANS, colour, width};
use plotters::prelude::*;
use plotters::style::ShapeStyle;

/// Steps of the plotter to a pixel, so that curves run smooth.
pub(super) const FINE: i32 = 8;
/// Length of the small lines on the axes, steps.
pub(super) const TICK: i32 = 5 * FINE;
/// Ground on which a coat is safe, and on which it is tight: our accent and guide on paper.
const SAFE: (Srgb, f64) = (ACCENT, 0.2);
const TIGHT: (Srgb, f64) = (GUIDE, 0.24);
/// Width of lines, and of those of the axes, steps.
const WIDE: u32 = 3 * FINE as u32;
const THIN: u32 = FINE as u32;
/// Width of the lines and patches that stand for them above the field, the space before and after a
/// name; steps.
const SIGN: [i32; 3] = [26 * FINE, 7 * FINE, 24 * FINE];
/// The sentence, and the names; steps from the top.
const LINES: [i32; 2] = [50 * FINE, 78 * FINE];

pub(super) fn small<'f>() -> TextStyle<'f> {
    (SANS, NAME * f64::from(FINE)).into_font().color(&colour(INK))
}

pub(super) fn bold<'f>() -> TextStyle<'f> {
    (SANS, NAME * f64::from(FINE), FontStyle::Bold).into_font().color(&colour(ACCENT))
}

pub(super) fn axis_line() -> ShapeStyle {
    colour(INK).stroke_width(THIN)
}

pub(super) fn guide_line() -> ShapeStyle {
    colour(GUIDE).mix(0.35).stroke_width(THIN)
}

pub(super) fn safe_ground() -> ShapeStyle {
    colour(SAFE.0).mix(SAFE.1).filled()
}

pub(super) fn tight_ground() -> ShapeStyle {
    colour(TIGHT.0).mix(TIGHT.1).filled()
}

pub(super) fn limit_line() -> ShapeStyle {
    colour(INK).stroke_width(WIDE)
}

pub(super) fn planned_line() -> ShapeStyle {
    colour(ACCENT).stroke_width(WIDE)
}

/// `0.30 mm`.
pub(super) fn film(mm: f64) -> String {
    format!("{} mm", fixed(mm, 2))
}

/// `28 %`.
pub(super) fn per_cent(share: f64) -> String {
    format!("{} %", fixed(100.0 * share, 0))
}

/// Writes the sentence below the title, and what lines and grounds mean.
pub(super) fn words<'a>(
    area: &Area<'a>,
    letters: &Letters,
    sentence: &str,
    safe_share: f64,
) -> Result<(), Failure<'a>> {
    area.draw_text(sentence, &small(), (LEFT * FINE, LINES[0]))?;
    let safe = format!("safe, up to {} of it", per_cent(safe_share));
    let names = [
        ("greatest that stays on", limit_line(), false),
        ("planned", planned_line(), false),
        (safe.as_str(), safe_ground(), true),
        ("tight", tight_ground(), true),
    ];
    let mut x = LEFT * FINE;
    for (name, style, ground) in names {
        let (top, bottom) = (LINES[1], LINES[1] + 13 * FINE);
        if ground {
            area.draw(&Rectangle::new([(x, top), (x + SIGN[0], bottom)], style))?;
        } else {
            let middle = i32::midpoint(top, bottom);
            area.draw(&PathElement::new([(x, middle), (x + SIGN[0], middle)], style))?;
        }
        area.draw_text(name, &small(), (x + SIGN[0] + SIGN[1], LINES[1] - 2 * FINE))?;
        x += SIGN.iter().sum::<i32>() + FINE * width(letters, name) as i32;
    }
    Ok(())
}

/// Points of a curve as far as its value (the second) stays below `top`, the last one on it.
pub(super) fn below(curve: &[(f64, f64)], top: f64) -> Vec<(f64, f64)> {
    let mut kept: Vec<(f64, f64)> = Vec::new();
    for &(x, y) in curve {
        if y > top {
            if let Some(&(x0, y0)) = kept.last() {
                kept.push((x0 + (x - x0) * (top - y0) / (y - y0), top));
            }
            break;
        }
        kept.push((x, y));
    }
    kept
}
