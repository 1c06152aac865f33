//! Walks the stack of zones and works out every coat.

use crate::air::air_of;
use crate::bury::{Burial, Relief, Sprinkled, USUAL_FILM_MM, buried, bury, edges};
use crate::fits::plan_fits;
use crate::mixing::worth_weighing;
use crate::pours::plan_pours;
use crate::{
    Coat, Coats, FilmPiece, Matter, Waits, film, girth, glitter, lying, plan_cutting, resin,
    use_notes,
};
use piece::lengths::{fine, show};
use piece::settings::{GLITTER_BED_MM, GlitterProduct};
use piece::{Diagnostic, FieldPath, Finish, Piece, Settings};
use shape::{Shape, ZoneShape};

/// Works out every coat.
///
/// # Errors
/// If the studio's room is too cold for its resin, or the resin's sheet cannot be followed.
pub fn plan_coats(
    piece: &Piece,
    shape: &Shape,
    settings: &Settings,
) -> Result<Coats, Vec<Diagnostic>> {
    let films = film::films(piece, shape, &settings.vinyl);
    let cutting = plan_cutting(&films, piece.quantity, &settings.vinyl);
    let softens_c = settings.resin.softens_c;
    let mut plan = Stack { coats: Vec::new(), notes: use_notes::about(piece, softens_c) };
    let all = (piece, shape, settings);
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
                    plan.coats.push(coat(all, (index, number, *coats), area_mm2, film_mm, matter));
                }
            }
            Finish::Glitter { colour, flake_mm, layers, pressed } => {
                let product = &settings.glitter;
                let flakes = glitter::sprinkled(*flake_mm, *layers, *pressed, product);
                let area_mm2 = shaped.area_mm2;
                let on_cup_g = glitter::on_cup_g(area_mm2, product);
                let once_mm = Sprinkled { layers: 1, ..flakes }.solid_mm();
                let bedded = matches!(
                    beneath(piece, shape, index).map(|under| &piece.zones[under].finish),
                    Some(Finish::Resin { .. })
                );
                for layer in 1..=*layers {
                    let place = (index, layer, *layers);
                    // The zone beneath is the bed of the first; each further one takes its own.
                    let mut lies_mm = once_mm * f64::from(layer - 1);
                    if layer > 1 && bedded {
                        lies_mm += GLITTER_BED_MM * f64::from(layer - 1);
                        let mix = resin::mix(area_mm2, GLITTER_BED_MM, &settings.resin);
                        let mix = worth_weighing(mix, &settings.resin, settings.scale);
                        let film = (GLITTER_BED_MM, lies_mm);
                        plan.coats.push(coat_over(all, place, area_mm2, film, Matter::Resin(mix)));
                    }
                    let matter = Matter::Glitter {
                        colour: *colour,
                        flake_mm: *flake_mm,
                        on_cup_g,
                        in_shaker_g: on_cup_g * product.shaker_times.max(1.0),
                        drinks_ml: area_mm2 * flakes.drinks_mm() / 1000.0,
                    };
                    let film = (once_mm, lies_mm + once_mm);
                    plan.coats.push(coat_over(all, place, area_mm2, film, matter));
                }
                plan.notes.extend(glitter_notes(all, index, &flakes, &path));
            }
            Finish::Resin { coats, film_mm } => {
                for number in 1..=*coats {
                    let area_mm2 = area_at(shaped, *film_mm, number);
                    let mix = resin::mix(area_mm2, *film_mm, &settings.resin);
                    let matter =
                        Matter::Resin(worth_weighing(mix, &settings.resin, settings.scale));
                    plan.coats.push(coat(all, (index, number, *coats), area_mm2, *film_mm, matter));
                }
            }
            Finish::Vinyl { cut, .. } => {
                let film = films.iter().find(|film| film.zone == index);
                let pieces = film.map_or(&[][..], |film| &film.pieces);
                let lie = film.and_then(|film| film.lie);
                let strained =
                    lie.and_then(|lie| lying::strained(zone, &lie, cut.relief, settings, &path));
                plan.notes.extend(strained);
                let notes = film_notes(piece, shape, settings, index, pieces, &path);
                plan.notes.extend(notes);
            }
            Finish::Stones(_) => {}
        }
    }
    let Stack { coats, mut notes } = plan;
    let pours =
        plan_pours(piece, shape, settings, &coats, &mut notes).map_err(|error| vec![error])?;
    let waits = pours.as_ref().map_or_else(|| Waits::of_sheet(&settings.resin), |all| all.waits);
    let gel_min = pours.as_ref().and_then(|all| Some(all.pours.first()?.plan.tack_free.min));
    let fits = plan_fits(piece, shape, settings, gel_min);
    notes.extend(fits.notes.iter().cloned());
    let over = |zone: usize| {
        let later = (zone + 1..piece.zones.len()).filter(|&later| may_overlap(shape, zone, later));
        later.filter_map(|later| clear_film_mm(&piece.zones[later].finish)).next()
    };
    let under = |zone: usize| {
        beneath(piece, shape, zone).and_then(|under| clear_film_mm(&piece.zones[under].finish))
    };
    let buried = buried(piece, settings, &waits, (&under, &over));
    let edges = edges(piece, settings, &over);
    let air = air_of(piece, settings, &coats, gel_min.unwrap_or(settings.resin.tack_free_min));
    Ok(Coats { coats, films, cutting, waits, pours, buried, edges, air, fits, notes })
}

/// How thick a zone's coats of clear resin are, mm, if it has any.
fn clear_film_mm(finish: &Finish) -> Option<f64> {
    match finish {
        Finish::Resin { film_mm, .. } => Some(*film_mm),
        _ => None,
    }
}

/// `1 clear coat`, `2 clear coats`.
fn clear_coats(number: u32) -> String {
    if number == 1 { "1 clear coat".to_owned() } else { format!("{number} clear coats") }
}

/// What grows zone by zone.
struct Stack {
    coats: Vec<Coat>,
    notes: Vec<Diagnostic>,
}

/// What a coat is counted from: its zone, which coat it is, of how many.
type Place = (usize, u32, u32);

fn coat(
    (piece, shape, settings): (&Piece, &Shape, &Settings),
    (zone, number, of): Place,
    area_mm2: f64,
    film_mm: f64,
    matter: Matter,
) -> Coat {
    let lies_mm = film_mm * f64::from(number);
    coat_over((piece, shape, settings), (zone, number, of), area_mm2, (film_mm, lies_mm), matter)
}

/// A coat that lies so high, itself included, over where its zone began.
fn coat_over(
    (piece, shape, settings): (&Piece, &Shape, &Settings),
    (zone, number, of): Place,
    area_mm2: f64,
    (film_mm, lies_mm): (f64, f64),
    matter: Matter,
) -> Coat {
    let girth_at_mm = girth::level_mm(shape, settings, zone);
    let girth_added_mm = girth::added_mm(piece, shape, settings, (zone, lies_mm), girth_at_mm);
    let part = shape.zones[zone].part;
    Coat { zone, part, number, of, area_mm2, film_mm, girth_added_mm, girth_at_mm, matter }
}

/// Area of a zone when its coat `number` goes on, grown by the coats of its own that lie beneath.
fn area_at(shaped: &ZoneShape, film_mm: f64, number: u32) -> f64 {
    match number {
        0 | 1 => shaped.area_mm2,
        _ => shaped.area.area_mm2(&shaped.surface.grown(film_mm * f64::from(number - 1))),
    }
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
    (piece, shape, settings): (&Piece, &Shape, &Settings),
    zone: usize,
    flakes: &Sprinkled,
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
    let planned_mm =
        clear.iter().fold(0.0, |sum, (coats, film_mm)| sum + f64::from(*coats) * film_mm);
    let planned = match planned_coats {
        0 => "no clear coat over it".to_owned(),
        some => format!("{} over it ({planned_mm:.2} mm)", clear_coats(some)),
    };
    let GlitterProduct { sanding_mm, cover_mm, .. } = settings.glitter;
    let film_mm = clear.first().map_or(USUAL_FILM_MM, |(_, film_mm)| *film_mm);
    let Burial { needed_mm, coats, .. } =
        bury(Relief::glitter(flakes), film_mm, sanding_mm, cover_mm);
    if planned_mm + 1e-9 < needed_mm {
        let drinks_ml = shape.zones[zone].area_mm2 * flakes.drinks_mm() / 1000.0;
        notes.push(
            Diagnostic::warning(
                path.key("glitter").key("flake"),
                format!(
                    "flakes {} wide may poke through: `{name}` has {planned} and needs about {needed_mm:.2} mm",
                    fine(flakes.width_mm, settings.lengths)
                ),
            )
            .hint(format!("Plan {} of {film_mm} mm over it, or use finer glitter; that leaves {cover_mm} mm over the flakes when {sanding_mm} mm are sanded off", clear_coats(coats)))
            .hint(format!("The bare flakes drink about {drinks_ml:.0} ml of the first coat: mix so much more for it"))
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
    pieces: &[FilmPiece],
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
    let strips = pieces.iter().filter(|piece| piece.strip).count();
    if strips > 0 {
        let length = |mm: f64| show(mm, settings.lengths);
        notes.push(
            Diagnostic::warning(
                path.key("vinyl"),
                format!(
                    "the film of `{name}` is larger with its margin than one sheet of {} by {}: it is cut in {strips} strips that meet edge to edge",
                    length(settings.vinyl.sheet_width_mm),
                    length(settings.vinyl.sheet_height_mm)
                ),
            )
            .hint("Lay the strips so that they meet where it shows least, or set a larger sheet in the settings"),
        );
    }
    notes
}
