//! Walks the stack of zones and works out every coat.

use crate::{Coat, Coats, Film, Matter, film, glitter, resin, use_notes};
use piece::{Diagnostic, FieldPath, Finish, Piece, Settings};
use shape::{Shape, Surface, ZoneShape};
use std::f64::consts::TAU;

/// Works out every coat.
pub fn plan_coats(piece: &Piece, shape: &Shape, settings: &Settings) -> Coats {
    let mut plan = Coats { coats: Vec::new(), films: Vec::new(), notes: use_notes::about(piece) };
    for (index, zone) in piece.zones.iter().enumerate() {
        let shaped = &shape.zones[index];
        let path = FieldPath::root().key("zone").index(index);
        match &zone.finish {
            Finish::Paint { colour, coats } => {
                for number in 1..=*coats {
                    let area_mm2 = area_at(shaped, settings.paint.film_mm, number);
                    let wet_ml = area_mm2 * 1e-6 * settings.paint.ml_per_m2;
                    let matter = Matter::Paint { colour: *colour, wet_ml };
                    let film_mm = settings.paint.film_mm;
                    plan.coats.push(coat(index, shape, number, *coats, area_mm2, film_mm, matter));
                }
            }
            Finish::Glitter { colour, flake_mm } => {
                let on_cup_g = glitter::on_cup_g(shaped.area_mm2, &settings.glitter);
                let in_shaker_g = on_cup_g * settings.glitter.shaker_times.max(1.0);
                let matter =
                    Matter::Glitter { colour: *colour, flake_mm: *flake_mm, on_cup_g, in_shaker_g };
                let film_mm = glitter::solid_mm(&settings.glitter);
                plan.coats.push(coat(index, shape, 1, 1, shaped.area_mm2, film_mm, matter));
                plan.notes.extend(glitter_notes(piece, shape, settings, index, *flake_mm, &path));
            }
            Finish::Resin { coats, film_mm } => {
                for number in 1..=*coats {
                    let area_mm2 = area_at(shaped, *film_mm, number);
                    let matter = Matter::Resin(resin::mix(area_mm2, *film_mm, &settings.resin));
                    plan.coats.push(coat(index, shape, number, *coats, area_mm2, *film_mm, matter));
                }
            }
            Finish::Vinyl { colour } => {
                let blank = film::blank(zone, shaped);
                plan.notes.extend(film_notes(piece, shape, settings, index, &blank, &path));
                plan.films.push(Film {
                    zone: index,
                    part: zone.part,
                    colour: *colour,
                    area_mm2: shaped.area_mm2,
                    blank_mm: blank.size_mm,
                    copies: blank.copies,
                    shapes: blank.shapes,
                });
            }
            Finish::Stones(_) => {}
        }
    }
    plan
}

fn coat(
    zone: usize,
    shape: &Shape,
    number: u32,
    of: u32,
    area_mm2: f64,
    film_mm: f64,
    matter: Matter,
) -> Coat {
    let shaped = &shape.zones[zone];
    let grown = shaped.surface.grown(film_mm * f64::from(number));
    let bare = &shape.parts[shaped.part].surface;
    let girth_added_mm = girth_added_mm(bare, &grown, along_range(shaped));
    Coat { zone, part: shaped.part, number, of, area_mm2, film_mm, girth_added_mm, matter }
}

/// Area of a zone when its coat `number` goes on, grown by the coats of its own that lie beneath.
fn area_at(shaped: &ZoneShape, film_mm: f64, number: u32) -> f64 {
    match number {
        0 | 1 => shaped.area_mm2,
        _ => shaped.area.area_mm2(&shaped.surface.grown(film_mm * f64::from(number - 1))),
    }
}

/// Levels at which girths are compared.
const LEVELS: u32 = 32;

fn girth_added_mm(bare: &Surface, grown: &Surface, (from, to): (f64, f64)) -> f64 {
    if bare.period().is_none() {
        return 0.0;
    }
    let mut widest = (f64::NEG_INFINITY, 0.0);
    for level in 0..=LEVELS {
        let along = from + (to - from) * f64::from(level) / f64::from(LEVELS);
        let before = bare.around_scale_mm(along);
        if before > widest.0 {
            widest = (before, grown.around_scale_mm(along) - before);
        }
    }
    TAU * widest.1
}

/// From where to where a zone runs along the bare wall, mm.
fn along_range(shaped: &ZoneShape) -> (f64, f64) {
    shaped.area.along_range_mm().unwrap_or_else(|| shaped.surface.along_range_mm())
}

/// Whether two zones on one part may touch: their boxes of angle and length overlap.
fn may_overlap(shape: &Shape, one: usize, other: usize) -> bool {
    let (one, other) = (&shape.zones[one], &shape.zones[other]);
    let around = |shaped: &ZoneShape| {
        let angles = shaped.area.loops.iter().flatten().map(|point| point.around);
        angles.fold((f64::INFINITY, f64::NEG_INFINITY), |range, angle| {
            (range.0.min(angle), range.1.max(angle))
        })
    };
    let meet = |a: (f64, f64), b: (f64, f64)| a.0 < b.1 && b.0 < a.1;
    one.part == other.part
        && meet(around(one), around(other))
        && meet(along_range(one), along_range(other))
}

/// The layer directly beneath a zone: the last earlier zone that may touch it.
fn beneath(piece: &Piece, shape: &Shape, zone: usize) -> Option<usize> {
    let mut earlier = (0..zone).rev();
    earlier.find(|&other| {
        !matches!(piece.zones[other].finish, Finish::Stones(_)) && may_overlap(shape, zone, other)
    })
}

fn glitter_notes(
    piece: &Piece,
    shape: &Shape,
    settings: &Settings,
    zone: usize,
    flake_mm: f64,
    path: &FieldPath,
) -> Vec<Diagnostic> {
    let mut notes = Vec::new();
    let name = &piece.zones[zone].name;
    let bed = beneath(piece, shape, zone).map(|under| &piece.zones[under].finish);
    if !matches!(bed, Some(Finish::Resin { .. })) {
        notes.push(
            Diagnostic::warning(
                path.key("glitter"),
                format!("the glitter of `{name}` has no fresh coat of resin beneath it, so it needs brushed glue, which is not in the bill"),
            )
            .hint("Put a zone with one coat of resin just before it to bed it in, or have glitter glue at hand"),
        );
    }
    let clear: Vec<(u32, f64)> = ((zone + 1)..piece.zones.len())
        .filter(|&later| may_overlap(shape, zone, later))
        .filter_map(|later| match piece.zones[later].finish {
            Finish::Resin { coats, film_mm } => Some((coats, film_mm)),
            _ => None,
        })
        .collect();
    let planned_coats: u32 = clear.iter().map(|(coats, _)| coats).sum();
    let planned_mm: f64 = clear.iter().map(|(coats, film_mm)| f64::from(*coats) * film_mm).sum();
    let needed_mm = glitter::clear_needed_mm(flake_mm, &settings.glitter);
    if planned_mm + 1e-9 < needed_mm {
        let film_mm = clear.first().map_or(0.2, |(_, film_mm)| *film_mm);
        let needed = glitter::clear_coats(flake_mm, film_mm, &settings.glitter);
        notes.push(
            Diagnostic::warning(
                path.key("glitter").key("flake"),
                format!(
                    "flakes {flake_mm} mm wide may poke through: `{name}` has {planned_coats} clear \
                     coats over it ({planned_mm:.2} mm) and needs about {needed_mm:.2} mm"
                ),
            )
            .hint(format!("Plan {needed} clear coats of {film_mm} mm over it, or use finer glitter"))
            .hint("Or measure the girth before and after the glitter: the flakes stand the difference divided by 6.28 high"),
        );
    }
    notes
}

fn film_notes(
    piece: &Piece,
    shape: &Shape,
    settings: &Settings,
    zone: usize,
    blank: &film::Blank,
    path: &FieldPath,
) -> Vec<Diagnostic> {
    let mut notes = Vec::new();
    let name = &piece.zones[zone].name;
    let bed = beneath(piece, shape, zone).map(|under| &piece.zones[under].finish);
    if matches!(bed, Some(Finish::Glitter { .. })) {
        notes.push(
            Diagnostic::warning(
                path.key("vinyl"),
                format!("the film of `{name}` lies on bare glitter, where it does not stick"),
            )
            .hint("Put a zone of clear resin between the glitter and the film; it is sanded lightly first"),
        );
    }
    let (width, height) = blank.size_mm;
    let sheet = (settings.vinyl.sheet_width_mm, settings.vinyl.sheet_height_mm);
    let fits = |w: f64, h: f64| w <= sheet.0 && h <= sheet.1;
    if !fits(width, height) && !fits(height, width) {
        notes.push(
            Diagnostic::warning(
                path.key("vinyl"),
                format!(
                    "the film of `{name}` needs {width:.0} x {height:.0} mm with its margin, more than \
                     one sheet of {:.0} x {:.0} mm",
                    sheet.0, sheet.1
                ),
            )
            .hint("Cut it in pieces that meet where it shows least, or set a larger sheet in the settings"),
        );
    }
    notes
}
