//! Registration marks: crosses in the same places beside each layer of one art, so that its films can
//! be laid on each other at the bench.

use crate::film::fits;
use crate::unrolling::{Unrolled, wrapped};
use crate::weeding::dressed;
use piece::settings::VinylProduct;
use piece::{FilmTurns, Finish, Piece};
use shape::{Shape, SurfacePoint};

/// Half the length of a cross, mm (own choice: large enough to lift, small enough to fit a margin).
pub const REACH_MM: f64 = 3.0;
/// Width of its arms, mm: film of 1 mm is weeded with ease (common practice, no source).
pub const ARM_WIDTH_MM: f64 = 1.0;
/// Between the art and the nearest arm, mm.
const CLEAR_MM: f64 = 2.0;
/// Middles of art closer than this, mm and radians, are one place.
const SAME: f64 = 1e-6;

/// For each zone of film, for each of its copies and bands, where the middles of the crosses lie on its
/// sheet, mm; none where art lies in one film only, or where a layer would no longer fit on a sheet.
pub(crate) fn marks(
    piece: &Piece,
    shape: &Shape,
    vinyl: &VinylProduct,
    zones: &[usize],
    layers: &[Vec<Unrolled>],
) -> Vec<Vec<Vec<[f64; 2]>>> {
    let mut marks: Vec<Vec<Vec<[f64; 2]>>> =
        layers.iter().map(|layer| vec![Vec::new(); layer.len()]).collect();
    for stack in stacks(piece, zones) {
        for laid in &layers[stack[0]] {
            let spot = |laid: &Unrolled| (laid.copy, laid.band);
            let group: Vec<(usize, usize)> = stack
                .iter()
                .filter_map(|&layer| {
                    let at = layers[layer].iter().position(|other| spot(other) == spot(laid))?;
                    Some((layer, at))
                })
                .collect();
            // On a wall curved both ways each layer has a sheet of its own, on which no cross would meet
            // that of another.
            let surface = &shape.zones[zones[stack[0]]].surface;
            if group.len() < 2 || !surface.bands()[laid.band].straight {
                continue;
            }
            let on_sheets = beside(shape, zones, layers, &group);
            let fit = group.iter().zip(&on_sheets).all(|(&(layer, at), marks)| {
                let shapes = layers[layer][at].shapes.clone();
                let size_mm = dressed(shapes, marks, false, vinyl).size_mm;
                marks.len() == 3 && fits(size_mm, vinyl, turns(piece, zones[layer]))
            });
            if fit {
                for (&(layer, at), on_sheet) in group.iter().zip(on_sheets) {
                    marks[layer][at] = on_sheet;
                }
            }
        }
    }
    marks
}

fn turns(piece: &Piece, zone: usize) -> FilmTurns {
    match &piece.zones[zone].finish {
        Finish::Vinyl { cut, .. } => cut.turns,
        _ => FilmTurns::Quarter,
    }
}

/// Zones of film whose art has the same middles on the same part, as indices into `zones`: the layers of
/// one art, in more than one colour.
fn stacks(piece: &Piece, zones: &[usize]) -> Vec<Vec<usize>> {
    let mut stacks: Vec<Vec<usize>> = Vec::new();
    for (index, &zone) in zones.iter().enumerate() {
        let zone = &piece.zones[zone];
        let Finish::Vinyl { cut, .. } = &zone.finish else { continue };
        let Some(art) = zone.region.art.as_ref().filter(|_| cut.registration) else { continue };
        let same = |stack: &&mut Vec<usize>| {
            let other = &piece.zones[zones[stack[0]]];
            other.part == zone.part
                && other.region.art.as_ref().is_some_and(|other| {
                    (other.along_mm - art.along_mm).abs() < SAME
                        && (other.around - art.around).abs() < SAME
                        && (other.repeat, other.rows) == (art.repeat, art.rows)
                })
        };
        match stacks.iter_mut().find(same) {
            Some(stack) => stack.push(index),
            None => stacks.push(vec![index]),
        }
    }
    let colour = |&index: &usize| match &piece.zones[zones[index]].finish {
        Finish::Vinyl { colour, .. } => Some(*colour),
        _ => None,
    };
    stacks.retain(|stack| stack.iter().any(|index| colour(index) != colour(&stack[0])));
    stacks
}

/// Three places beside everything in a group, two to its left and one to its right so that nobody lays a
/// layer upside down, on the sheet of each layer. They are places of the bare part, and each sheet is
/// that of the surface as it has grown: laid on each other on the cup, the crosses meet.
fn beside(
    shape: &Shape,
    zones: &[usize],
    layers: &[Vec<Unrolled>],
    group: &[(usize, usize)],
) -> Vec<Vec<[f64; 2]>> {
    let (layer, at) = group[0];
    let (band, front) = (layers[layer][at].band, layers[layer][at].centre);
    let first = &shape.zones[zones[layer]].surface;
    let mut box_of = ((f64::INFINITY, f64::NEG_INFINITY), (f64::INFINITY, f64::NEG_INFINITY));
    for &(layer, at) in group {
        let laid = &layers[layer][at];
        let (around, along) = laid.extent;
        let shift = wrapped(laid.centre - front, first);
        box_of.0 = (box_of.0.0.min(around.0 + shift), box_of.0.1.max(around.1 + shift));
        box_of.1 = (box_of.1.0.min(along.0), box_of.1.1.max(along.1));
    }
    let (around, mut along) = box_of;
    // Two crosses one above the other need room, which the band may not have.
    let band_mm = first.bands()[band].along_mm;
    let short = (2.0 * REACH_MM + CLEAR_MM - (along.1 - along.0)).max(0.0);
    if first.period().is_some() {
        along = ((along.0 - 0.5 * short).max(band_mm.0), (along.1 + 0.5 * short).min(band_mm.1));
    } else {
        along = (along.0 - 0.5 * short, along.1 + 0.5 * short);
    }
    if along.1 - along.0 < 2.0 * REACH_MM {
        return vec![Vec::new(); group.len()];
    }
    let out = |along_mm: f64| (REACH_MM + CLEAR_MM) / first.around_scale_mm(along_mm).max(1e-3);
    let places = [
        (around.0 - out(along.0), along.0),
        (around.0 - out(along.1), along.1),
        (around.1 + out(along.1), along.1),
    ];
    // Round a narrow part both sides would meet at the back.
    let wide = places[2].0 - places[0].0.min(places[1].0) + 2.0 * out(along.1);
    if first.period().is_some_and(|turn| wide > turn) {
        return vec![Vec::new(); group.len()];
    }
    group
        .iter()
        .map(|&(layer, at)| {
            let laid = &layers[layer][at];
            let surface = &shape.zones[zones[layer]].surface;
            let sheet = surface.sheet(band);
            let shift = wrapped(front - laid.centre, surface);
            places
                .iter()
                .map(|&(around, along_mm)| {
                    let place = SurfacePoint { around: around + shift, along_mm };
                    sheet.sheet_from_surface(place).to_array()
                })
                .collect()
        })
        .collect()
}
