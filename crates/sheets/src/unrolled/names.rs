//! Names of zones outside a wrap, each with a thin line to an edge of its zone: never on art,
//! lettering or stones, and never on each other.

use super::occupied::Occupied;
use crate::drawing::{Anchor, Bounds, GUIDE, INK, Ink, Layer, Letters, Mark, Trace};
use glam::DVec2;
use std::collections::BTreeSet;

/// Height of a capital, mm.
const CAPITAL_MM: f64 = 1.9;
/// Between two names below each other, mm.
const PITCH_MM: f64 = 3.8;
/// Between the wrap and the names, mm; on the right the numbers of the level lines lie between.
const CLEAR_MM: f64 = 4.0;
const CLEAR_RIGHT_MM: f64 = 8.0;

/// A zone and the points of its edges on the page.
pub(super) struct Named {
    pub(super) name: String,
    pub(super) points: Vec<DVec2>,
}

#[derive(Clone, Copy, PartialEq)]
enum Side {
    Left,
    Right,
    Above,
}

struct Tag<'a> {
    name: &'a str,
    side: Side,
    /// The point of the edge that the line leads to.
    to: DVec2,
}

/// The names. `outline` are points close together all along the border of the wrap.
pub(super) fn name_layer(
    zones: &[Named],
    outline: &[DVec2],
    occupied: &Occupied,
    letters: &Letters,
) -> Layer {
    let all = outline.iter().fold(Bounds::EMPTY, |all, &point| all.with(point));
    let outline = &thinned(outline);
    let mut tags: Vec<Tag> = Vec::new();
    for zone in zones {
        let step = zone.points.len().div_ceil(120).max(1);
        let points = zone.points.iter().step_by(step).chain(zone.points.last());
        let leads = points.flat_map(|&to| {
            [Side::Left, Side::Right, Side::Above].map(|side| Tag { name: &zone.name, side, to })
        });
        let mut best: Option<(f64, Tag)> = None;
        for tag in leads {
            let most = best.as_ref().map_or(f64::INFINITY, |best| best.0);
            if let Some(weight) = weight_below(most, &tag, &tags, outline, all, occupied) {
                best = Some((weight, tag));
            }
        }
        tags.extend(best.map(|(_, tag)| tag));
    }
    let mut layer = Layer::new("names", "Names of the zones");
    for side in [Side::Left, Side::Right] {
        let mut beside: Vec<_> = tags.iter().filter(|tag| tag.side == side).collect();
        beside.sort_by(|a, b| a.to.y.total_cmp(&b.to.y));
        let mut last = f64::NEG_INFINITY;
        for tag in beside {
            let y = tag.to.y.max(last + PITCH_MM);
            last = y;
            write_beside(&mut layer, tag, y, outline, all, letters);
        }
    }
    let mut above: Vec<_> = tags.iter().filter(|tag| tag.side == Side::Above).collect();
    above.sort_by(|a, b| a.to.x.total_cmp(&b.to.x));
    let mut last = f64::NEG_INFINITY;
    for tag in above {
        let size = letters.write(tag.name, CAPITAL_MM, Anchor::Start, DVec2::ZERO, 0.0).bounds();
        let left = (tag.to.x - size.size().x / 2.0).max(last + 3.0);
        let right = left + size.size().x;
        last = right;
        let y = top_at(outline, all, left - 2.0, right + 2.0) - CLEAR_MM;
        lead(&mut layer, &[DVec2::new(tag.to.x.clamp(left, right), y + 0.9), tag.to]);
        word(&mut layer, tag.name, DVec2::new(left, y), letters);
    }
    layer
}

/// One point of each square millimetre: as fine as names need.
fn thinned(outline: &[DVec2]) -> Vec<DVec2> {
    let mut seen = BTreeSet::new();
    let mut new = |point: &&DVec2| seen.insert((point.x.round() as i64, point.y.round() as i64));
    outline.iter().filter(|point| new(point)).copied().collect()
}

/// How bad a line is: long, over work, or to an edge or a side that has names enough; `None` if it
/// is no better than `most`. What it runs over is looked at last, since that takes longest.
fn weight_below(
    most: f64,
    tag: &Tag,
    others: &[Tag],
    outline: &[DVec2],
    all: Bounds,
    occupied: &Occupied,
) -> Option<f64> {
    let to = tag.to;
    let from = match tag.side {
        Side::Left => DVec2::new(side_at(outline, all, to.y, Side::Left) - CLEAR_MM, to.y),
        Side::Right => DVec2::new(side_at(outline, all, to.y, Side::Right) + CLEAR_RIGHT_MM, to.y),
        Side::Above => DVec2::new(to.x, top_at(outline, all, to.x - 2.0, to.x + 2.0) - CLEAR_MM),
    };
    // The zone's own edge is on the page too: the last bit of the line does not count.
    let near = to + (from - to).normalize_or_zero() * 1.5;
    let crowd = |other: &&Tag| {
        other.side == tag.side
            && match tag.side {
                Side::Above => (other.to.x - to.x).abs() < 14.0,
                _ => (other.to.y - to.y).abs() < PITCH_MM,
            }
    };
    let crowded = others.iter().filter(crowd).count() as f64;
    let rather = match tag.side {
        Side::Left => 0.0,
        Side::Right => 4.0,
        // The front line is there already.
        Side::Above if to.x.abs() < 2.0 => 40.0,
        Side::Above => 16.0,
    };
    let least = (to - from).length() + 6.0 * crowded + rather;
    if least >= most {
        return None;
    }
    let weight = least + 8.0 * occupied.covered_mm(near, from);
    (weight < most).then_some(weight)
}

/// How far the wrap reaches to a side between a little above and a little below `y`.
fn side_at(outline: &[DVec2], all: Bounds, y: f64, side: Side) -> f64 {
    let near = outline.iter().filter(|point| (point.y - y).abs() < PITCH_MM).map(|point| point.x);
    let found = match side {
        Side::Left => near.fold(f64::INFINITY, f64::min),
        _ => near.fold(f64::NEG_INFINITY, f64::max),
    };
    match side {
        _ if found.is_finite() => found,
        Side::Left => all.min.x,
        _ => all.max.x,
    }
}

/// How far up the wrap reaches between two places.
fn top_at(outline: &[DVec2], all: Bounds, from: f64, to: f64) -> f64 {
    let near = outline.iter().filter(|point| point.x >= from && point.x <= to);
    let found = near.map(|point| point.y).fold(f64::INFINITY, f64::min);
    if found.is_finite() { found } else { all.min.y }
}

fn write_beside(
    layer: &mut Layer,
    tag: &Tag,
    y: f64,
    outline: &[DVec2],
    all: Bounds,
    letters: &Letters,
) {
    let size = letters.write(tag.name, CAPITAL_MM, Anchor::Start, DVec2::ZERO, 0.0).bounds();
    let border = side_at(outline, all, y, tag.side);
    let base = y + CAPITAL_MM / 2.0;
    let (left, near, elbow) = if tag.side == Side::Left {
        let near = border - CLEAR_MM;
        (near - size.max.x, near + 0.8, side_at(outline, all, tag.to.y, tag.side) - 1.0)
    } else {
        let near = border + CLEAR_RIGHT_MM;
        (near, near - 0.8, side_at(outline, all, tag.to.y, tag.side) + 1.0)
    };
    lead(layer, &[DVec2::new(near, y), DVec2::new(elbow, tag.to.y), tag.to]);
    word(layer, tag.name, DVec2::new(left, base), letters);
}

fn lead(layer: &mut Layer, points: &[DVec2]) {
    let to = points[points.len() - 1];
    layer.marks.push(Mark::path(Trace::line(points.iter().copied()), Ink::line(GUIDE, 0.12)));
    layer.marks.push(Mark::circle(to, 0.35, Ink::fill(GUIDE)));
}

fn word(layer: &mut Layer, name: &str, at: DVec2, letters: &Letters) {
    let text = letters.write(name, CAPITAL_MM, Anchor::Start, at, 0.0);
    layer.marks.push(Mark::path(text, Ink::fill(INK)));
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_stand_outside_the_wrap_and_apart() {
        let border: Vec<DVec2> = (0..=200)
            .map(f64::from)
            .flat_map(|at| {
                let y = (at / 2.0).min(80.0);
                [(at, 0.0), (at, 80.0), (0.0, y), (200.0, y)]
            })
            .map(|(x, y)| DVec2::new(x, y))
            .collect();
        let level = |y: f64| (0..=200).map(|x| DVec2::new(f64::from(x), y)).collect::<Vec<_>>();
        let named = |name: &str, points| Named { name: name.to_owned(), points };
        let zones = [
            named("ground", level(10.0)),
            named("seal", level(10.0)),
            named("clear coat", level(10.0)),
            named("words", vec![DVec2::new(100.0, 40.0)]),
        ];
        let mut occupied = Occupied::default();
        occupied.rectangle(Bounds::new(DVec2::new(30.0, 30.0), DVec2::new(90.0, 60.0)));
        let layer = name_layer(&zones, &border, &occupied, &Letters::new());
        let words: Vec<_> = layer
            .marks
            .iter()
            .filter(|mark| mark.ink == Ink::fill(INK))
            .map(|mark| mark.bounds)
            .collect();
        assert_eq!(words.len(), 4);
        let wrap = Bounds::new(DVec2::ZERO, DVec2::new(200.0, 80.0));
        for (place, word) in words.iter().enumerate() {
            assert!(!word.meets(&wrap), "{word:?}");
            assert!(words[place + 1..].iter().all(|other| !other.meets(word)), "{words:?}");
        }
    }
}
