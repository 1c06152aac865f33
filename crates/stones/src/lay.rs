//! From the piece to its stones: each zone filled, coloured and put in setting order.

use crate::drawer::Drawer;
use crate::fill::Obstacle;
use crate::filling::{Filling, Halt};
use crate::going::Going;
use crate::joins::{Joins, Zoned};
use crate::meter::{Meter, Show};
use crate::setting::cutting::in_order;
use crate::skirt::in_the_way;
use crate::{Stone, Stones, ZoneStones, colour};
use piece::{Diagnostic, Finish, Piece, Settings, StoneFinish};
use rayon::prelude::*;
use shape::Shape;
use std::collections::BTreeMap;

/// Fills every zone of stones, and divides them into patches that are set while the studio's glue
/// stays open. `progress` is told the share done, and stops the work by returning false. Parts, which
/// never touch each other's stones, are filled at the same time.
///
/// # Errors
/// A stone larger than its zone; stopped by `progress` (an empty list).
pub fn lay_stones(
    piece: &Piece,
    shape: &Shape,
    settings: &Settings,
    progress: &mut (dyn FnMut(f64) -> bool + Send),
) -> Result<Stones, Vec<Diagnostic>> {
    lay(piece, shape, settings, progress, None)
}

/// The same, with `show` looking on: scattered stones are shown as soon as a first layout of their
/// layer is laid, and again whenever they lie closer, until the work ends or is stopped. Each time it
/// sees the stones of one layer of one zone, coloured, in no patch yet; whatever it sees keeps all gaps.
///
/// # Errors
/// As [`lay_stones`].
pub fn lay_stones_shown(
    piece: &Piece,
    shape: &Shape,
    settings: &Settings,
    progress: &mut (dyn FnMut(f64) -> bool + Send),
    show: &mut (dyn FnMut(&[Stone]) + Send),
) -> Result<Stones, Vec<Diagnostic>> {
    lay(piece, shape, settings, progress, Some(show))
}

fn lay<'a>(
    piece: &Piece,
    shape: &Shape,
    settings: &Settings,
    progress: &'a mut (dyn FnMut(f64) -> bool + Send + 'a),
    show: Option<&'a mut Show<'a>>,
) -> Result<Stones, Vec<Diagnostic>> {
    let mut by_part: BTreeMap<usize, Vec<(usize, &StoneFinish)>> = BTreeMap::new();
    for (zone, described) in piece.zones.iter().enumerate() {
        if let Finish::Stones(finish) = &described.finish {
            by_part.entry(described.part).or_default().push((zone, finish));
        }
    }
    let by_part: Vec<Vec<(usize, &StoneFinish)>> = by_part.into_values().collect();
    let meter = Meter::new(by_part.iter().map(Vec::len), progress, show);
    let mut drawer = Drawer::new(piece, settings);
    let of = |part: usize, orders: &[(usize, &StoneFinish)], drawer: &mut Drawer<'_>| {
        let mut of_part = |done: f64| meter.tell(part, done);
        lay_part(piece, shape, settings, orders, drawer, &meter, &mut of_part)
    };
    let parts: Vec<OfPart> = if by_part.iter().flatten().any(|(_, one)| one.rules.from_drawer) {
        // One after the other: what a part takes is gone for the next.
        by_part.iter().enumerate().map(|(part, orders)| of(part, orders, &mut drawer)).collect()
    } else {
        let beside = |(part, orders): (usize, &Vec<_>)| of(part, orders, &mut drawer.clone());
        by_part.par_iter().enumerate().map(beside).collect()
    };
    if meter.is_stopped() {
        return Err(Vec::new());
    }
    let mut out = Stones { stones: Vec::new(), zones: Vec::new(), notes: Vec::new() };
    let (mut notes, mut errors) = (Vec::new(), Vec::new());
    for part in parts {
        out.stones.extend(part.stones);
        out.zones.extend(part.zones);
        notes.extend(part.notes);
        errors.extend(part.errors);
    }
    // As the piece lists its zones.
    errors.sort_by_key(|(zone, _)| *zone);
    if !errors.is_empty() {
        return Err(errors.into_iter().map(|(_, error)| error).collect());
    }
    notes.sort_by_key(|(zone, _)| *zone);
    out.notes = notes.into_iter().map(|(_, note)| note).collect();
    out.notes.extend(colour::outside(piece, shape, &out.stones));
    out.notes.extend(in_the_way(piece, shape, &out.stones));
    out.zones.sort_by_key(|filled| filled.zone);
    Ok(out)
}

/// What filling the zones of one part gave, notes and errors with their zone.
#[derive(Default)]
pub(crate) struct OfPart {
    pub(crate) stones: Vec<Stone>,
    /// Where each of the stones lies, for what is set later.
    pub(crate) obstacles: Vec<Obstacle>,
    pub(crate) zones: Vec<ZoneStones>,
    pub(crate) notes: Vec<(usize, Diagnostic)>,
    errors: Vec<(usize, Diagnostic)>,
}

/// Fills the zones of one part, in order, those that are joined together when the first of them comes;
/// `progress` is told how many are behind.
fn lay_part(
    piece: &Piece,
    shape: &Shape,
    settings: &Settings,
    orders: &[(usize, &StoneFinish)],
    drawer: &mut Drawer<'_>,
    meter: &Meter<'_>,
    progress: &mut dyn FnMut(f64) -> bool,
) -> OfPart {
    let mut out = OfPart::default();
    let zoned = |&(zone, finish): &(usize, _)| Zoned { zone, finish, shape: &shape.zones[zone] };
    let zones: Vec<Zoned<'_>> = orders.iter().map(zoned).collect();
    let goes_on = || meter.goes_on();
    let asks = Going::new(&goes_on);
    let joins = Joins::new(piece, shape, &zones, asks);
    out.notes.extend(joins.notes);
    let mut done = 0.0;
    for group in joins.groups {
        let first = group[0].zone;
        let count = group.len() as f64;
        let mut of_group = |share: f64| progress(done + count * share);
        if !meter.goes_on() {
            return out;
        }
        let filling = Filling::new(piece, shape, group);
        match filling.fill(&mut out, drawer, meter, &mut of_group) {
            Ok(()) => {}
            Err(Halt::Stopped) => return out,
            Err(Halt::Mend(error)) => out.errors.push((first, *error)),
        }
        done += count;
    }
    let areas = out.zones.iter().map(|filled| (filled.zone, filled.area_mm2)).collect();
    out.stones = in_order(piece, settings, &areas, out.stones, asks);
    out
}
