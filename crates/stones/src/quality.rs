//! How good a filled zone is: the gaps between its stones, what is left open, and how its edge runs.

use crate::fill::Ground;
use crate::space::Space;
use crate::{Stone, mingling, pack};
use glam::DVec3;
use piece::{Colouring, Layout, StoneFinish, StoneLayer};
use shape::SurfacePoint;
use std::collections::BTreeSet;

/// Width from which a hole shows at arm's length, mm: own trials, no source.
pub const WIDE_HOLE_MM: f64 = 1.7;
/// Rounding, mm.
const ROUNDING_MM: f64 = 1e-6;

/// Figures of a zone's stones, whatever their layouts. Distances are straight ones through space.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Quality {
    /// Gaps between neighbours; `None` if no two stones are neighbours.
    pub gaps: Option<Gaps>,
    /// Pockets left that would take a whole stone of the zone's smallest size with its gap; one that
    /// would take several may count once. `None` where stones lie apart on purpose.
    pub pockets: Option<usize>,
    /// Holes at least [`WIDE_HOLE_MM`] wide between girdles and edges. `None` where stones lie apart on
    /// purpose.
    pub wide_holes: Option<usize>,
    /// How the stones lie along the zone's edge; `None` if it has none, or no stone lies near it.
    pub edge: Option<EdgeRun>,
    /// How often neighbours are of one colour, over how often they would be by chance
    /// ([`crate::Mingling::against_chance`]): below 1 they are evenly mingled, above in clumps. `None`
    /// with fewer than two colours, or where these follow a gradient or a picture.
    pub mingling: Option<f64>,
}

/// Clear distances between neighbours, girdle to girdle. Two stones are neighbours if the circle
/// that spans the gap between them touches no third (the graph of Gabriel and Sokal, 1969, for discs
/// instead of points), and it is no wider than the square that a stone of the zone has to itself.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gaps {
    /// How many pairs of neighbours.
    pub pairs: usize,
    /// Mean, mm.
    pub mean_mm: f64,
    /// Standard deviation, mm.
    pub spread_mm: f64,
    /// The least: the worst for a hand that sets, mm.
    pub least_mm: f64,
    /// Nine in ten are no wider, mm.
    pub nine_in_ten_mm: f64,
}

/// How stones lie along the edge of a zone. A stone lies at the edge if some place of the edge is
/// nearer to its girdle than to any other's, and not farther than a mean stone is wide.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EdgeRun {
    /// How many stones lie at it.
    pub stones: usize,
    /// From their girdles to the edge, mean, mm.
    pub mean_mm: f64,
    /// Standard deviation of it, mm: how ragged the edge is.
    pub spread_mm: f64,
    /// Share of its length with no girdle within half a mean stone.
    pub bare: f64,
}

/// A stone as this page sees it.
#[derive(Debug, Clone, Copy)]
struct Disc {
    at: SurfacePoint,
    centre_mm: DVec3,
    radius_mm: f64,
    /// That its layout keeps.
    gap_mm: f64,
}

/// The smallest stone of a zone.
#[derive(Debug, Clone, Copy)]
struct Smallest {
    radius_mm: f64,
    /// That it keeps.
    gap_mm: f64,
}

/// Looks at the stones of a zone that lie on `ground`; the obstacles of the ground are stones of
/// other zones.
pub fn quality(ground: &Ground<'_>, finish: &StoneFinish, stones: &[Stone]) -> Quality {
    let disc = |stone: &Stone| Disc {
        at: stone.at,
        centre_mm: stone.centre_mm,
        radius_mm: stone.diameter_mm / 2.0,
        gap_mm: finish.layers[stone.layer].gap_mm,
    };
    let discs: Vec<Disc> = stones.iter().map(disc).collect();
    let mut smallest: Option<Smallest> = None;
    for layer in &finish.layers {
        for (size, _) in &layer.sizes {
            let radius_mm = finish.sizes[*size].diameter_mm / 2.0;
            if smallest.is_none_or(|smallest| radius_mm < smallest.radius_mm) {
                smallest = Some(Smallest { radius_mm, gap_mm: layer.gap_mm });
            }
        }
    }
    let is_sparse = |layer: &StoneLayer| matches!(layer.layout, Layout::Sparse { .. });
    let mut found = measured(ground, &discs, smallest, finish.layers.last().is_some_and(is_sparse));
    if finish.least_gap_mm() > WIDE_HOLE_MM / 2.0 {
        found.wide_holes = None;
    }
    let is_mingled = |layer: &StoneLayer| layer.colouring == Colouring::Mingled;
    if finish.layers.iter().all(is_mingled) {
        found.mingling = mingling(stones).map(|mingling| mingling.against_chance());
    }
    found
}

/// `apart`: single stones are spread on purpose, and what lies between them is no hole.
fn measured(
    ground: &Ground<'_>,
    discs: &[Disc],
    smallest: Option<Smallest>,
    apart: bool,
) -> Quality {
    let count = discs.len();
    let Some(smallest) = smallest.filter(|_| count > 0) else {
        return Quality { gaps: None, pockets: None, wide_holes: None, edge: None, mingling: None };
    };
    let mean_mm = discs.iter().map(|disc| 2.0 * disc.radius_mm).sum::<f64>() / count as f64;
    let own_mm = (ground.area_mm2 / count as f64).sqrt();
    let mut space = Space::new(1.2 * mean_mm, count);
    for disc in discs {
        space.set(disc.centre_mm, 2.0 * disc.radius_mm, 0.0);
    }
    let holes = (!apart).then(|| holes(ground, discs, smallest));
    Quality {
        gaps: gaps(discs, &space, own_mm),
        pockets: holes.map(|holes| holes.1),
        wide_holes: holes.map(|holes| holes.0),
        edge: edge_run(ground, discs, &space, mean_mm),
        mingling: None,
    }
}

fn widest_mm(discs: &[Disc]) -> f64 {
    discs.iter().map(|disc| disc.radius_mm).fold(0.0, f64::max)
}

fn gaps(discs: &[Disc], space: &Space, own_mm: f64) -> Option<Gaps> {
    let widest_mm = widest_mm(discs);
    let (mut found, mut beside) = (Vec::new(), Vec::new());
    let mut all: Vec<f64> = Vec::with_capacity(3 * discs.len());
    for (number, disc) in discs.iter().enumerate() {
        space.within(disc.centre_mm, disc.radius_mm + own_mm + widest_mm, &mut found);
        let clear = |other: usize| {
            discs[other].centre_mm.distance(disc.centre_mm)
                - discs[other].radius_mm
                - disc.radius_mm
        };
        beside.clear();
        beside.extend(
            found
                .iter()
                .filter(|other| **other != number)
                .map(|other| (clear(*other), *other))
                .filter(|(gap_mm, _)| *gap_mm <= own_mm),
        );
        beside.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        // What touches the circle between this stone and another is nearer to this one than the
        // other is, so that it stands before it in the list; or as near, with rounding.
        for (place, (gap_mm, other)) in beside.iter().enumerate() {
            if *other < number {
                continue;
            }
            let way = (discs[*other].centre_mm - disc.centre_mm).normalize_or_zero();
            let middle = disc.centre_mm + way * (disc.radius_mm + gap_mm / 2.0);
            let touches = |third: usize| {
                let reach_mm = discs[third].radius_mm + gap_mm / 2.0 + ROUNDING_MM;
                discs[third].centre_mm.distance_squared(middle) <= reach_mm * reach_mm
            };
            let until = beside[place..].partition_point(|next| next.0 <= gap_mm + ROUNDING_MM);
            let before = &beside[..place + until];
            if !before.iter().any(|(_, third)| third != other && touches(*third)) {
                all.push(*gap_mm);
            }
        }
    }
    let (mean_mm, spread_mm) = mean_and_spread(&all)?;
    all.sort_by(f64::total_cmp);
    Some(Gaps {
        pairs: all.len(),
        mean_mm,
        spread_mm,
        least_mm: all[0],
        nine_in_ten_mm: all[(9 * all.len()).div_ceil(10) - 1],
    })
}

/// Mean and standard deviation of a whole population; `None` of nothing.
fn mean_and_spread(values: &[f64]) -> Option<(f64, f64)> {
    if values.is_empty() {
        return None;
    }
    let count = values.len() as f64;
    let mean = values.iter().sum::<f64>() / count;
    let variance = values.iter().map(|value| (value - mean) * (value - mean)).sum::<f64>() / count;
    Some((mean, variance.sqrt()))
}

/// Wide holes between girdles and edges, and pockets for the smallest stone.
fn holes(ground: &Ground<'_>, discs: &[Disc], smallest: Smallest) -> (usize, usize) {
    let reaches = |disc: &Disc| {
        let kept_mm = disc.gap_mm.max(smallest.gap_mm);
        (disc.at, [disc.radius_mm, disc.radius_mm + kept_mm])
    };
    let stones: Vec<(SurfacePoint, [f64; 2])> = discs.iter().map(reaches).collect();
    let least_mm = [WIDE_HOLE_MM / 2.0, smallest.radius_mm];
    pack::holes(ground, &stones, smallest.gap_mm, least_mm).into()
}

fn edge_run(ground: &Ground<'_>, discs: &[Disc], space: &Space, mean_mm: f64) -> Option<EdgeRun> {
    let widest_mm = widest_mm(discs);
    let mut from_edge_mm = vec![f64::INFINITY; discs.len()];
    let mut at_edge = BTreeSet::new();
    let (mut length_mm, mut bare_mm) = (0.0, 0.0);
    let mut found = Vec::new();
    for edge in &ground.area.edges {
        let corners: Vec<DVec3> =
            edge.iter().map(|corner| ground.surface.world_from_surface(*corner)).collect();
        for ends in corners.windows(2) {
            let (a, along) = (ends[0], ends[1] - ends[0]);
            let (middle, piece_mm) = (a + along / 2.0, along.length());
            length_mm += piece_mm;
            space.within(middle, widest_mm + mean_mm + piece_mm / 2.0, &mut found);
            let mut nearest: Option<(f64, usize)> = None;
            for number in found.iter().copied() {
                let disc = &discs[number];
                let to = disc.centre_mm - a;
                let share = to.dot(along) / along.length_squared().max(f64::MIN_POSITIVE);
                let away_mm = (to - along * share.clamp(0.0, 1.0)).length() - disc.radius_mm;
                from_edge_mm[number] = from_edge_mm[number].min(away_mm);
                let from_middle_mm = disc.centre_mm.distance(middle) - disc.radius_mm;
                if from_middle_mm <= mean_mm && nearest.is_none_or(|near| from_middle_mm < near.0) {
                    nearest = Some((from_middle_mm, number));
                }
            }
            at_edge.extend(nearest.map(|(_, number)| number));
            if nearest.is_none_or(|(away_mm, _)| away_mm > mean_mm / 2.0) {
                bare_mm += piece_mm;
            }
        }
    }
    // A stone flush with the edge reaches over its chords by a micrometre.
    let free: Vec<f64> =
        at_edge.into_iter().map(|number: usize| from_edge_mm[number].max(0.0)).collect();
    let (mean_mm, spread_mm) = mean_and_spread(&free)?;
    Some(EdgeRun { stones: free.len(), mean_mm, spread_mm, bare: bare_mm / length_mm })
}

#[cfg(test)]
mod tests;
