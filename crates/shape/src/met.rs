//! Copies of repeated art that run into each other, and what keeps them clear.

use crate::Surface;
use crate::art::turn;
use crate::boolean::{Loop, Plane, Region};
use crate::copies::rows;
use crate::ink::Ink;
use crate::lie::{laid, middle_scale};
use crate::surface::SurfacePoint;
use piece::{ArtSize, Diagnostic, FieldPath, PlacedArt, Zone};
use std::f64::consts::TAU;

/// One copy of a row, counted from its middle.
struct Copy {
    loops: Vec<Vec<SurfacePoint>>,
    /// From where to where it reaches round the part, radians.
    around: (f64, f64),
    /// From where to where along the wall, mm.
    along_mm: (f64, f64),
}

impl Copy {
    fn new(loops: Vec<Vec<SurfacePoint>>) -> Self {
        let span = |of: fn(&SurfacePoint) -> f64| {
            loops.iter().flatten().map(of).fold((f64::INFINITY, f64::NEG_INFINITY), |span, at| {
                (span.0.min(at), span.1.max(at))
            })
        };
        let (around, along_mm) = (span(|place| place.around), span(|place| place.along_mm));
        Self { loops, around, along_mm }
    }

    fn wide(&self) -> f64 {
        self.around.1 - self.around.0
    }

    /// What it covers with its middle there, not wrapped round the part.
    fn region(&self, around: f64, along_mm: f64, plane: &Plane) -> Region {
        let corner = |p: &SurfacePoint| plane.corner(around + p.around, along_mm + p.along_mm);
        let loops: Vec<Loop> =
            self.loops.iter().map(|one| one.iter().map(corner).collect()).collect();
        Region::filled(plane, &loops)
    }
}

/// Warns of copies that cover the same place, side by side and from row to row. `at` is the path of the art.
pub(crate) fn run_together(
    zone: &Zone,
    art: &PlacedArt,
    ink: &Ink,
    (surface, plane): (&Surface, &Plane),
    at: &FieldPath,
) -> Vec<Diagnostic> {
    let Ok(rows) = rows(art, surface, at) else { return Vec::new() };
    if surface.period().is_none() || (art.repeat < 2 && rows.len() < 2) {
        return Vec::new();
    }
    let mut ink = ink.clone();
    turn(ink.loops.iter_mut().flatten(), art);
    let copies: Vec<Copy> =
        rows.iter().map(|row| Copy::new(laid(&ink, art.lie, row.along_mm, surface))).collect();
    let step = TAU / f64::from(art.repeat.max(1));
    let meet = |copy: &Copy| {
        let over = copy.wide() - step;
        let shared =
            || copy.region(0.0, 0.0, plane).intersected(plane, &copy.region(step, 0.0, plane));
        art.repeat > 1 && over > 0.0 && !shared().is_empty()
    };
    // On a cone the copies of one row may meet and those of another not.
    let beside = (0..rows.len()).filter(|row| meet(&copies[*row])).map(|row| {
        let scale_mm = middle_scale(surface, rows[row].along_mm);
        (row, copies[row].wide(), (copies[row].wide() - step) * scale_mm, scale_mm)
    });
    let mut notes = Vec::new();
    if let Some((row, wide, over_mm, scale_mm)) = beside.max_by(|a, b| a.1.total_cmp(&b.1)) {
        let of_row = if rows.len() > 1 { format!(" in row {}", row + 1) } else { String::new() };
        let message = format!(
            "the {} copies of zone `{}` run into each other{of_row}: each reaches {over_mm:.1} mm into the next",
            art.repeat, zone.name
        );
        let border_mm = art.outline.map_or(0.0, |outline| 2.0 * outline.width_mm);
        let share = (step * scale_mm - border_mm) / (wide * scale_mm - border_mm);
        let mut ways = Vec::new();
        let fit = (TAU / wide).floor();
        if fit >= 1.0 {
            ways.push(format!("repeat = {fit:.0}"));
        }
        ways.extend(size(art.size, share));
        let hint =
            format!("With {} they stay clear; if they are to join, leave it.", ways.join(" or "));
        notes.push(Diagnostic::warning(at.key("repeat"), message).hint(hint));
    }
    let pairs = (1..rows.len()).filter_map(|row| {
        let (upper, lower) = (row - 1, row);
        let over_mm = rows[upper].along_mm + copies[upper].along_mm.1
            - (rows[lower].along_mm + copies[lower].along_mm.0);
        if over_mm <= 0.0 {
            return None;
        }
        let around = *rows[upper].around.first()?;
        let one = copies[upper].region(around, rows[upper].along_mm, plane);
        let places = rows[lower].around.iter().flat_map(|at| [at - TAU, *at, at + TAU]);
        let mut others = places.filter(|other| {
            around + copies[upper].around.0 < other + copies[lower].around.1
                && other + copies[lower].around.0 < around + copies[upper].around.1
        });
        let shared = others.any(|other| {
            let other = copies[lower].region(other, rows[lower].along_mm, plane);
            !one.intersected(plane, &other).is_empty()
        });
        shared.then_some((row, over_mm))
    });
    if let Some((row, over_mm)) = pairs.max_by(|a, b| a.1.total_cmp(&b.1)) {
        let message = format!(
            "rows {row} and {} of zone `{}` run into each other, by {over_mm:.1} mm along the wall",
            row + 1,
            zone.name
        );
        let apart_mm = ((art.rows.apart_mm + over_mm) * 10.0).ceil() / 10.0;
        let hint = format!(
            "With apart = \"{apart_mm} mm\" they stay clear; if they are to join, leave it."
        );
        notes.push(Diagnostic::warning(at.key("rows"), message).hint(hint));
    }
    notes
}

/// The key of a size and its value at so many times of it, rounded down so that it fits.
fn size(size: ArtSize, times: f64) -> Option<String> {
    let tenths = |value: f64| (value * times * 10.0).floor() / 10.0;
    let (key, value, unit) = match size {
        ArtSize::WidthMm(mm) => ("width", tenths(mm), "mm"),
        ArtSize::HeightMm(mm) => ("height", tenths(mm), "mm"),
        ArtSize::RoundShare(share) => ("round", tenths(100.0 * share), "%"),
    };
    (value > 0.0).then(|| format!("{key} = \"{value} {unit}\""))
}
