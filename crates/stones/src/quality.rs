//! How good a filled zone is: the gaps between its stones, what is left open, and how its edge runs.

mod edge;
mod gaps;

use crate::colour::mingling_while;
use crate::fill::Ground;
use crate::going::Going;
use crate::space::Space;
use crate::{Stone, pack};
use edge::Stretch;
use gaps::Pair;
use glam::DVec3;
use piece::{Colouring, Layout, StoneFinish, StoneLayer};
use shape::SurfacePoint;

/// Width from which a hole shows at arm's length, mm: own trials, no source.
pub const WIDE_HOLE_MM: f64 = 1.7;

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
    /// How far the stones are from the picture that they are to show, as the eye sees both from afar:
    /// mean CIEDE2000 ([`crate::picture_difference`]). `None` where they show none.
    pub picture: Option<f64>,
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
    /// Index of its zone.
    zone: usize,
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

/// What is seen of the stones of one zone, or of several that are filled as one.
pub struct Seen {
    /// Zone of each stone.
    of: Vec<usize>,
    pairs: Vec<Pair>,
    /// Zone of every pocket for the smallest stone and of every wide hole; `None` where stones lie apart
    /// on purpose.
    holes: Option<[Vec<usize>; 2]>,
    edge: Vec<Stretch>,
    /// From each girdle to the edge, mm; infinite for stones that no edge is near.
    from_edge_mm: Vec<f64>,
}

impl Seen {
    /// Looks at the stones that lie on `ground`; the obstacles of the ground are stones of other zones.
    /// `zone_of` tells whose a place of the ground is. The zones' finishes differ only in their colours.
    pub fn new(
        ground: &Ground<'_>,
        finish: &StoneFinish,
        stones: &[Stone],
        zone_of: &dyn Fn(SurfacePoint) -> usize,
        going: Going<'_>,
    ) -> Self {
        let disc = |stone: &Stone| Disc {
            zone: stone.zone,
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
        let apart = finish.layers.last().is_some_and(is_sparse);
        Self::of(ground, &discs, smallest.filter(|_| !apart), zone_of, going)
    }

    /// Without a smallest stone no holes are counted: single stones are spread on purpose, and what lies
    /// between them is no hole.
    fn of(
        ground: &Ground<'_>,
        discs: &[Disc],
        smallest: Option<Smallest>,
        zone_of: &dyn Fn(SurfacePoint) -> usize,
        going: Going<'_>,
    ) -> Self {
        let count = discs.len();
        let mean_mm =
            discs.iter().map(|disc| 2.0 * disc.radius_mm).sum::<f64>() / count.max(1) as f64;
        let own_mm = (ground.area_mm2 / count.max(1) as f64).sqrt();
        let mut space = Space::new(1.2 * mean_mm, count);
        for disc in discs {
            space.set(disc.centre_mm, 2.0 * disc.radius_mm, 0.0);
        }
        let (edge, from_edge_mm) = edge::along(ground, discs, &space, (mean_mm, zone_of), going);
        let holes = smallest.filter(|_| count > 0).map(|smallest| {
            holes(ground, discs, smallest, going)
                .map(|holes| holes.into_iter().map(zone_of).collect())
        });
        Self {
            of: discs.iter().map(|disc| disc.zone).collect(),
            pairs: gaps::pairs(discs, &space, own_mm, going),
            holes,
            edge,
            from_edge_mm,
        }
    }

    /// The figures of one zone, whose stones are among `stones`.
    pub fn quality(
        &self,
        zone: usize,
        finish: &StoneFinish,
        stones: &[Stone],
        going: Going<'_>,
    ) -> Quality {
        let mut found = self.figures(zone);
        if finish.least_gap_mm() > WIDE_HOLE_MM / 2.0 {
            found.wide_holes = None;
        }
        let is_mingled = |layer: &StoneLayer| layer.colouring == Colouring::Mingled;
        if finish.layers.iter().all(is_mingled) {
            let own: Vec<Stone> =
                stones.iter().filter(|stone| stone.zone == zone).cloned().collect();
            found.mingling = mingling_while(&own, going).map(|mingling| mingling.against_chance());
        }
        found
    }

    /// Those that do not hang on colours. A gap to a stone of the zone beside counts as well.
    fn figures(&self, zone: usize) -> Quality {
        let is_own = |number: usize| self.of[number] == zone;
        let gaps = self.pairs.iter().filter(|pair| pair.stones.into_iter().any(is_own));
        let count = |holes: &Vec<usize>| holes.iter().filter(|of| **of == zone).count();
        let holes = self.holes.as_ref().map(|holes| [count(&holes[0]), count(&holes[1])]);
        Quality {
            gaps: Gaps::of(gaps.map(|pair| pair.gap_mm).collect()),
            pockets: holes.map(|holes| holes[1]),
            wide_holes: holes.map(|holes| holes[0]),
            edge: EdgeRun::of(
                self.edge.iter().filter(|stretch| stretch.zone == zone),
                &self.from_edge_mm,
            ),
            mingling: None,
            picture: None,
        }
    }
}

fn widest_mm(discs: &[Disc]) -> f64 {
    discs.iter().map(|disc| disc.radius_mm).fold(0.0, f64::max)
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
fn holes(
    ground: &Ground<'_>,
    discs: &[Disc],
    smallest: Smallest,
    going: Going<'_>,
) -> [Vec<SurfacePoint>; 2] {
    let reaches = |disc: &Disc| {
        let kept_mm = disc.gap_mm.max(smallest.gap_mm);
        (disc.at, [disc.radius_mm, disc.radius_mm + kept_mm])
    };
    let stones: Vec<(SurfacePoint, [f64; 2])> = discs.iter().map(reaches).collect();
    let least_mm = [WIDE_HOLE_MM / 2.0, smallest.radius_mm];
    pack::holes(ground, &stones, smallest.gap_mm, least_mm, going)
}

#[cfg(test)]
mod tests;
