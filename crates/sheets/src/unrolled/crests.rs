//! Crests of waving edges, ticked and written with their angle and distance from the rim: what a
//! maker marks on the cup before she masks along the edge.

use super::Unrolled;
use super::occupied::Occupied;
use crate::Plan;
use crate::drawing::{Anchor, Bounds, INK, Ink, Layer, Letters, Mark, Trace};
use crate::words;
use glam::DVec2;
use piece::{Edge, Wave};
use shape::SurfacePoint;
use shape::edge::edge_along_mm;
use std::f64::consts::{PI, TAU};

/// Half of a tick, mm.
const TICK_MM: f64 = 1.6;
/// Height of a capital, mm.
const CAPITAL_MM: f64 = 1.5;
/// From one line of words to the next, mm.
const LINE_MM: f64 = 2.2;

/// Whether an edge is not level.
pub(super) fn waves(edge: &Edge) -> bool {
    edge.wave != Wave::Level && edge.count > 0 && edge.amplitude_mm > 0.0
}

/// Waving edges of a part's zones with the first zone that has each.
fn waving(plan: &Plan, part: usize) -> Vec<(usize, Edge)> {
    let mut edges: Vec<(usize, Edge)> = Vec::new();
    let zones = plan.piece.zones.iter().enumerate().filter(|(_, zone)| zone.part == part);
    let bands = zones.filter_map(|(index, zone)| Some((index, zone.region.band.as_ref()?)));
    for (zone, edge) in bands.flat_map(|(zone, band)| [(zone, band.from), (zone, band.to)]) {
        let same = |(_, other): &(usize, Edge)| {
            (other.wave, other.count) == (edge.wave, edge.count)
                && (other.along_mm - edge.along_mm).abs() < 0.05
                && (other.amplitude_mm - edge.amplitude_mm).abs() < 0.05
                && (other.crest_rad - edge.crest_rad).abs() < 1e-3
        };
        if waves(&edge) && !edges.iter().any(same) {
            edges.push((zone, edge));
        }
    }
    edges
}

/// Angles of an edge's crests from the front, within half a turn, from left to right.
fn crests(edge: &Edge) -> Vec<f64> {
    let home = |around: f64| around - ((around - PI) / TAU).ceil() * TAU;
    let step = TAU / f64::from(edge.count);
    let mut crests: Vec<f64> =
        (0..edge.count).map(|wave| home(edge.crest_rad + step * f64::from(wave))).collect();
    crests.sort_by(f64::total_cmp);
    crests
}

/// The waving edges of a part as lines to mask along, with their crests. Words stand where nothing
/// else is drawn, or are left out: the tick stays.
pub(super) fn crest_layer(
    plan: &Plan,
    part: usize,
    band: usize,
    bare: &Unrolled,
    occupied: &mut Occupied,
    letters: &Letters,
) -> Layer {
    let mut layer =
        Layer::new("crests", "Crests of waving edges: angle from the front, distance from the rim");
    layer.words_whole = true;
    if !bare.revolved {
        return layer;
    }
    for (zone, edge) in waving(plan, part) {
        let mut on = Unrolled::new(&plan.shape.zones[zone].surface, band, DVec2::ZERO);
        on.offset = bare.offset;
        for around in crests(&edge) {
            let along_mm = edge_along_mm(&edge, around);
            if !on.holds(along_mm) {
                continue;
            }
            let at = on.page(SurfacePoint { around, along_mm });
            let beside = on.page(SurfacePoint { around: around + 1e-3, along_mm });
            let right = (beside - at).normalize_or_zero();
            let down = right.perp();
            let tick = [at - down * TICK_MM, at + down * TICK_MM];
            layer.marks.push(Mark::path(Trace::line(tick), Ink::line(INK, 0.3)));
            // Short lines, narrower than two tiles overlap: what one cuts off is whole on the other.
            let distance = words::length(along_mm, plan.settings.lengths).replace("\u{a0}(", "\n(");
            let text = format!("{}\n{distance}", angle(around));
            let turn_rad = libm::atan2(right.y, right.x);
            let drops = [-5.0, 5.0, -7.0, 7.0, -9.0, 9.0, -12.0, 12.0, -15.0];
            let mut spots = drops
                .into_iter()
                .flat_map(|drop| [0.0, -6.0, 6.0].map(|shift| at + down * drop + right * shift));
            let write = |spot: DVec2| {
                let above = (text.lines().count() - 1) as f64 / 2.0;
                let mut words = Trace::new();
                for (number, line) in text.lines().enumerate() {
                    let at = spot + down * LINE_MM * (number as f64 - above);
                    words.append(&letters.write(line, CAPITAL_MM, Anchor::Middle, at, turn_rad));
                }
                words
            };
            let room = write(DVec2::ZERO).bounds().grown(0.4);
            let spot = spots.find(|&spot| {
                occupied.is_free(Bounds { min: room.min + spot, max: room.max + spot })
            });
            let words = spot.map(write);
            if let Some(words) = words {
                occupied.rectangle(words.bounds());
                layer.marks.push(Mark::path(words, Ink::fill(INK)));
            }
        }
    }
    layer
}

/// An angle from the front in words.
pub(super) fn angle(around: f64) -> String {
    let degrees = around.to_degrees();
    let text = words::trimmed(degrees.abs(), 1);
    match text.as_str() {
        "0" => "front".to_owned(),
        "180" => "back".to_owned(),
        _ if degrees < 0.0 => format!("{text}° left"),
        _ => format!("{text}° right"),
    }
}

/// What each waving edge looks like, in a line for the page: where its crests stand and how deep its
/// troughs lie.
pub(super) fn crest_lines(plan: &Plan, part: usize, on: &Unrolled) -> Vec<String> {
    let lengths = plan.settings.lengths;
    let edges =
        waving(plan, part).into_iter().filter(|(_, edge)| on.revolved && on.holds(edge.along_mm));
    edges
        .map(|(zone, edge)| {
            format!(
                "{}: {}, {} from the rim, with troughs at {}",
                plan.piece.zones[zone].name,
                spread(&edge),
                words::length(edge.along_mm - edge.amplitude_mm, lengths),
                words::length(edge.along_mm + edge.amplitude_mm, lengths),
            )
        })
        .collect()
}

/// How many crests an edge has, and where round the part they are: from the first right of the front.
fn spread(edge: &Edge) -> String {
    let crests = crests(edge);
    let right = crests.iter().copied().find(|around| *around > -1e-9);
    let first = angle(right.unwrap_or(crests[0]));
    match edge.count {
        1 => format!("1 crest {first}"),
        count => {
            let step = words::trimmed(360.0 / f64::from(count), 1);
            format!("{count} crests, {first} and every {step}° from there")
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn crests_lie_within_half_a_turn_of_the_front() {
        let edge =
            Edge { along_mm: 90.0, wave: Wave::Sine, amplitude_mm: 7.0, count: 5, crest_rad: 0.0 };
        let found: Vec<_> = crests(&edge).into_iter().map(angle).collect();
        // A fifth of a turn is 72 degrees.
        assert_eq!(found, ["144° left", "72° left", "front", "72° right", "144° right"]);
        assert_eq!(angle(-PI), "back");
        assert_eq!(spread(&edge), "5 crests, front and every 72° from there");
        // A quarter turn is 90 degrees, and 120 degrees left is 240 right.
        let turned = |count, crest_rad| spread(&Edge { count, crest_rad, ..edge });
        assert_eq!(turned(4, -PI / 4.0), "4 crests, 45° right and every 90° from there");
        assert_eq!(turned(1, -PI / 1.5), "1 crest 120° left");
    }
}
