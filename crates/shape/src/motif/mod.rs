//! Motifs: patterns made from numbers, laid on the true surface.
//!
//! Patterns that repeat (`scales`, `checks`, `stripes`, `honeycomb`) go round a whole number of times,
//! so that they close; down a taper they shrink with the girth and keep their shape (see `even.rs`).
//! Shapes that are strewn lie as small flat stickers would and have their true size everywhere.
//! Read first: `ground.rs`, then the kind.

mod chance;
mod checks;
mod confetti;
mod drips;
mod even;
mod ground;
mod honeycomb;
mod name_band;
mod petals;
mod pitch;
mod rain;
mod reeds;
mod scales;
mod stars;
mod strewn;
mod stripes;

pub(crate) use ground::Ground;

use crate::boolean::{Loop, Region};
use crate::watch::Watch;
use chance::Chance;
use piece::{Diagnostic, FieldPath, Motif, MotifKind};

/// More shapes than this are for a printer, not for a hand or a knife.
const MOST_SHAPES: usize = 8_000;
/// More corners than this are no drawing for a cutter.
const MOST_CORNERS: usize = 400_000;
/// Farthest that polylines may lie from the curves, mm.
const TOLERANCE_MM: f64 = 0.002;
/// Longest straight piece of a shape, mm, so that it follows the surface.
const PIECE_MM: f64 = 0.5;
/// Reaching past an edge by less than this, mm, is rounding.
const SLACK_MM: f64 = 1.0e-3;

/// The part of the ground that the motif covers, or what it leaves bare.
///
/// # Errors
/// Numbers that make nothing, do not fit, or make too much.
pub(crate) fn drawn(
    motif: &Motif,
    ground: &Ground<'_>,
    notes: &mut Vec<Diagnostic>,
    watch: &mut Watch<'_>,
) -> Result<Region, Diagnostic> {
    let at = ground.path.key(motif.kind.key());
    let mut chance = Chance::new(ground.seed(motif), motif.kind.key());
    let loops = loops(&motif.kind, ground, &at, &mut chance, notes, watch)?;
    let corners: usize = loops.iter().map(Vec::len).sum();
    if loops.len() > MOST_SHAPES || corners > MOST_CORNERS {
        return Err(too_many(loops.len(), corners, &at));
    }
    let covered = ground.plane.wrapped(&loops);
    let region = if motif.inverse {
        ground.region.without(ground.plane, &covered)
    } else {
        ground.region.intersected(ground.plane, &covered)
    };
    if region.is_empty() && !watch.stopped() {
        let message = if motif.inverse {
            "the motif covers the whole zone, so that nothing is left between its shapes"
        } else {
            "the motif makes no shape in this zone"
        };
        return Err(
            Diagnostic::error(at, message).hint("Make the zone larger, or the shapes smaller.")
        );
    }
    Ok(region)
}

fn too_many(shapes: usize, corners: usize, at: &FieldPath) -> Diagnostic {
    let message = if shapes > MOST_SHAPES {
        format!("this makes {shapes} shapes, more than {MOST_SHAPES}")
    } else {
        format!("this makes {shapes} shapes of {corners} corners, more than {MOST_CORNERS}")
    };
    Diagnostic::error(at.clone(), message).hint("Make the shapes larger or fewer.")
}

fn loops(
    kind: &MotifKind,
    ground: &Ground<'_>,
    at: &FieldPath,
    chance: &mut Chance,
    notes: &mut Vec<Diagnostic>,
    watch: &mut Watch<'_>,
) -> Result<Vec<Loop>, Diagnostic> {
    match kind {
        MotifKind::Drips { count, width_mm, length_mm, solid_mm } => {
            let drips = drips::Drips {
                count: *count,
                width_mm: *width_mm,
                length_mm: *length_mm,
                solid_mm: *solid_mm,
            };
            drips.loops(ground, at, chance)
        }
        MotifKind::Reeds { count, height_mm, width_mm, lean_rad, heads } => {
            let reeds = reeds::Reeds {
                count: *count,
                height_mm: *height_mm,
                width_mm: *width_mm,
                lean_rad: *lean_rad,
                heads: *heads,
            };
            reeds.loops(ground, at, chance)
        }
        MotifKind::Rain { length_mm, width_mm, slant_rad, strewn } => {
            let mut make =
                |length_mm, _: &mut Chance| rain::drop_of(length_mm, *width_mm, *slant_rad);
            let wide_mm = Some(*width_mm);
            let order = strewn::Order { strewn, size_mm: *length_mm, wide_mm, noun: "drops" };
            order.loops(ground, at, chance, &mut make, watch)
        }
        MotifKind::Stars { points, size_mm, inner, tilt_rad, strewn } => {
            let mut make = |size_mm, chance: &mut Chance| {
                stars::star(*points, size_mm, *inner, tilt_rad * (2.0 * chance.unit() - 1.0))
            };
            let order = strewn::Order { strewn, size_mm: *size_mm, wide_mm: None, noun: "stars" };
            order.loops(ground, at, chance, &mut make, watch)
        }
        MotifKind::Petals { petals, size_mm, heart, strewn } => {
            let mut make = |size_mm, chance: &mut Chance| {
                petals::flower(*petals, size_mm, *heart, chance.unit())
            };
            let order = strewn::Order { strewn, size_mm: *size_mm, wide_mm: None, noun: "flowers" };
            order.loops(ground, at, chance, &mut make, watch)
        }
        MotifKind::Confetti { shapes, size_mm, strewn } => {
            let mut number = 0;
            let mut make = |size_mm, chance: &mut Chance| {
                number += 1;
                confetti::shape(shapes[number % shapes.len()], size_mm, chance.unit())
            };
            let order = strewn::Order { strewn, size_mm: *size_mm, wide_mm: None, noun: "shapes" };
            order.loops(ground, at, chance, &mut make, watch)
        }
        MotifKind::Scales { pitch, gap_mm, whole } => {
            scales::loops(*pitch, *gap_mm, *whole, ground, at, notes)
        }
        MotifKind::Checks { pitch } => checks::loops(*pitch, ground, at, notes),
        MotifKind::Stripes { pitch, share, twist_rad } => {
            stripes::loops(*pitch, *share, *twist_rad, ground, at, notes)
        }
        MotifKind::Honeycomb { pitch, bar_mm, whole } => {
            honeycomb::loops(*pitch, *bar_mm, *whole, ground, at, notes)
        }
        MotifKind::NameBand(band) => name_band::loops(band, ground, at, watch),
    }
}
