//! What to say of zones that would take more stones than anyone sets by hand.

use crate::asked::Asked;
use crate::room::HONEYCOMB;
use crate::sparse;
use piece::{Diagnostic, FieldPath, Finish, Layout, Piece, Severity, StoneSize};
use shape::Shape;

/// Stones in one zone from which on a slip is likely: a wall of a large bottle in the smallest size
/// holds about 30,000.
const MANY_STONES: f64 = 100_000.0;
/// Most stones in one zone; laying as many takes minutes.
const MOST_STONES: f64 = 1_200_000.0;

/// A zone that would take more stones than anyone sets by hand, most often by a slip in a size or a
/// measurement: a warning, as laying them takes minutes, or an error. Of the zone count its area, mm², and
/// the length of its edges, mm.
pub fn too_many(
    (area_mm2, edge_mm): (f64, f64),
    asked: &Asked<'_>,
    path: &FieldPath,
    zone: &str,
) -> Option<Diagnostic> {
    let (about, most) = at_most(area_mm2, edge_mm, asked);
    let hint = "Check the size of the stones, the gap and the measurements of the part.";
    let (about, most) = (about / 1000.0, most / 1000.0);
    if about > most {
        let text = format!(
            "zone \"{zone}\" would take about {about:.0} thousand stones; more than {most:.0} \
             thousand in one zone is not set by hand"
        );
        return Some(Diagnostic::error(path.clone(), text).hint(hint));
    }
    (about > MANY_STONES / 1000.0).then(|| {
        let text = format!(
            "zone \"{zone}\" takes about {about:.0} thousand stones, which few set by hand; \
             working them out takes a while and can be stopped"
        );
        Diagnostic::warning(path.clone(), text).hint(hint)
    })
}

/// What [`crate::lay_stones`] will warn of that makes it take long, known before any stone is laid:
/// zones that would take more stones than anyone sets by hand.
pub fn long_work(piece: &Piece, shape: &Shape) -> Vec<Diagnostic> {
    let mut out = Vec::new();
    for (index, (zone, placed)) in piece.zones.iter().zip(&shape.zones).enumerate() {
        let Finish::Stones(finish) = &zone.finish else { continue };
        let edge_mm = placed.area.edge_length_mm(&placed.surface);
        let path = FieldPath::root().key("zone").index(index).key("stones");
        for (number, layer) in finish.layers.iter().enumerate() {
            let path = if finish.layers.len() == 1 { path.clone() } else { path.index(number) };
            let asked = Asked { finish, layer };
            out.extend(too_many((placed.area_mm2, edge_mm), &asked, &path, &zone.name));
        }
    }
    out.retain(|found| found.severity == Severity::Warning);
    out
}

/// About how many stones a layout takes at most, and how many it may.
fn at_most(area_mm2: f64, edge_mm: f64, asked: &Asked<'_>) -> (f64, f64) {
    let cell_mm2 = |pitch_mm: f64| HONEYCOMB * pitch_mm * pitch_mm;
    let pitches = || {
        let pitch =
            |(size, share): (&StoneSize, f64)| (size.diameter_mm + asked.layer.gap_mm, share);
        asked.sizes().into_iter().map(pitch)
    };
    let full = area_mm2 / pitches().map(|(pitch, share)| share * cell_mm2(pitch)).sum::<f64>();
    match asked.layer.layout {
        Layout::Sparse { apart_mm, per_mm2 } => {
            let apart_mm = pitches().map(|(pitch, _)| pitch).fold(apart_mm, f64::max);
            let by_apart = area_mm2 / cell_mm2(apart_mm);
            let by_density = per_mm2.map_or(f64::INFINITY, |per_mm2| per_mm2 * area_mm2);
            (by_apart.min(by_density), sparse::MOST as f64)
        }
        Layout::Outline { rows } => {
            let pitch_mm = pitches().map(|(pitch, _)| pitch).fold(0.0, f64::max);
            (full.min(f64::from(rows) * edge_mm / pitch_mm), MOST_STONES)
        }
        Layout::Line => {
            // The zone has an edge on both sides of its line.
            let pitch_mm = pitches().map(|(pitch, _)| pitch).fold(0.0, f64::max);
            (full.min(0.5 * edge_mm / pitch_mm), MOST_STONES)
        }
        Layout::Rows { .. } | Layout::Scatter { .. } | Layout::Rings | Layout::Pockets => {
            (full, MOST_STONES)
        }
    }
}
