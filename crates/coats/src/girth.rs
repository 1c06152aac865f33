//! What a tape reads more than on the bare part, from the layers that lie under it.

use piece::settings::LengthUnit;
use piece::{Piece, Settings};
use shape::{Area, Shape};
use std::f64::consts::{PI, TAU};

/// Height on the wall at which a zone is measured, mm along from the start: half-way between its
/// ends, moved to the nearest mark a maker finds with a tape (a whole mm, a quarter inch).
pub(crate) fn level_mm(shape: &Shape, settings: &Settings, zone: usize) -> f64 {
    let shaped = &shape.zones[zone];
    let (from, to) =
        shaped.area.along_range_mm().unwrap_or_else(|| shaped.surface.along_range_mm());
    let mark_mm = match settings.lengths {
        LengthUnit::Millimetres => 1.0,
        LengthUnit::Inches => 25.4 / 4.0,
    };
    let middle = f64::midpoint(from, to);
    let marked = (middle / mark_mm).round() * mark_mm;
    if from < marked && marked < to { marked } else { middle }
}

/// Girth added over the bare part at one height by the coats of a zone so far, `own_mm` of them, and
/// every zone before it, mm; 0 on a flat part. Each layer counts over the stretch of the
/// girth that it really covers; the tape is taken to follow the surface.
pub(crate) fn added_mm(
    piece: &Piece,
    shape: &Shape,
    settings: &Settings,
    (zone, own_mm): (usize, f64),
    along_mm: f64,
) -> f64 {
    let part = shape.zones[zone].part;
    let bare = &shape.parts[part].surface;
    if bare.period().is_none() {
        return 0.0;
    }
    let mut layers: Vec<(f64, Vec<f64>)> = (0..zone)
        .filter(|&earlier| shape.zones[earlier].part == part)
        .map(|earlier| {
            let thickness = shape::zones::thickness_mm(&piece.zones[earlier].finish, settings);
            (thickness, crossings(&shape.zones[earlier].area, along_mm))
        })
        .collect();
    layers.push((own_mm, crossings(&shape.zones[zone].area, along_mm)));

    let bare_mm = bare.around_scale_mm(along_mm);
    let mut added = 0.0;
    for (width, thickness) in stretches(&layers) {
        added += width.min(TAU) * (bare.grown(thickness).around_scale_mm(along_mm) - bare_mm);
    }
    added
}

/// Greatest thickness that all layers of a part have together at one height, mm.
pub(crate) fn thickest_mm(
    piece: &Piece,
    shape: &Shape,
    settings: &Settings,
    part: usize,
    along_mm: f64,
) -> f64 {
    let layers: Vec<(f64, Vec<f64>)> = (0..piece.zones.len())
        .filter(|&zone| shape.zones[zone].part == part)
        .map(|zone| {
            let thickness = shape::zones::thickness_mm(&piece.zones[zone].finish, settings);
            (thickness, crossings(&shape.zones[zone].area, along_mm))
        })
        .collect();
    stretches(&layers).into_iter().map(|(_, thickness)| thickness).fold(0.0, f64::max)
}

/// Stretches of the girth and the thickness of the layers that cover each.
fn stretches(layers: &[(f64, Vec<f64>)]) -> Vec<(f64, f64)> {
    let mut stops: Vec<f64> = layers.iter().flat_map(|(_, stops)| stops).copied().collect();
    stops.extend([-PI, PI]);
    stops.sort_by(f64::total_cmp);
    let over = |pair: &[f64]| {
        let (width, middle) = (pair[1] - pair[0], f64::midpoint(pair[0], pair[1]));
        let covers = |stops: &[f64]| stops.iter().filter(|stop| **stop < middle).count() % 2 == 1;
        let covering = layers.iter().filter(|(_, stops)| covers(stops));
        (width, covering.map(|(thickness, _)| thickness).sum())
    };
    stops.windows(2).map(over).filter(|(width, _)| *width > 0.0).collect()
}

/// Angles at which the loops of an area cross a parallel; an odd number of them to the left of a place
/// means that the area covers it.
fn crossings(area: &Area, along_mm: f64) -> Vec<f64> {
    let mut angles = Vec::new();
    for ring in &area.loops {
        for (a, b) in ring.iter().zip(ring.iter().cycle().skip(1)) {
            if (a.along_mm <= along_mm) != (b.along_mm <= along_mm) {
                let share = (along_mm - a.along_mm) / (b.along_mm - a.along_mm);
                angles.push(a.around + share * (b.around - a.around));
            }
        }
    }
    angles
}
