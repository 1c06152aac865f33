//! How stones lie along the edges of the ground.

use super::{Disc, EdgeRun, mean_and_spread, widest_mm};
use crate::fill::Ground;
use crate::going::Going;
use crate::space::Space;
use glam::DVec3;
use shape::SurfacePoint;
use std::collections::BTreeSet;

/// From an edge to the place beside it that is asked for its zone, mm.
const BESIDE_MM: f64 = 0.02;

/// A short piece of an edge.
#[derive(Debug, Clone, Copy)]
pub struct Stretch {
    /// Whose edge it is.
    pub zone: usize,
    length_mm: f64,
    /// The stone nearest to its middle, by its place in the list; `None` where none is within a mean
    /// stone.
    nearest: Option<usize>,
    /// Whether no girdle lies within half a mean stone.
    is_bare: bool,
}

impl EdgeRun {
    /// Along these stretches; `None` if no stone lies at them.
    pub(super) fn of<'a>(
        edge: impl Iterator<Item = &'a Stretch>,
        from_edge_mm: &[f64],
    ) -> Option<Self> {
        let (mut length_mm, mut bare_mm) = (0.0, 0.0);
        let mut at_edge = BTreeSet::new();
        for stretch in edge {
            length_mm += stretch.length_mm;
            at_edge.extend(stretch.nearest);
            if stretch.is_bare {
                bare_mm += stretch.length_mm;
            }
        }
        // A stone flush with the edge reaches over its chords by a micrometre.
        let free: Vec<f64> =
            at_edge.into_iter().map(|number: usize| from_edge_mm[number].max(0.0)).collect();
        let (mean_mm, spread_mm) = mean_and_spread(&free)?;
        Some(Self { stones: free.len(), mean_mm, spread_mm, bare: bare_mm / length_mm })
    }
}

/// The edges of the ground piece by piece, and how far each stone's girdle is from them, mm (infinite for
/// stones that none is near).
pub fn along(
    ground: &Ground<'_>,
    discs: &[Disc],
    space: &Space,
    (mean_mm, zone_of): (f64, &dyn Fn(SurfacePoint) -> usize),
    going: Going<'_>,
) -> (Vec<Stretch>, Vec<f64>) {
    let widest_mm = widest_mm(discs);
    let mut from_edge_mm = vec![f64::INFINITY; discs.len()];
    let mut out = Vec::new();
    let mut found = Vec::new();
    for edge in &ground.area.edges {
        let corners: Vec<DVec3> =
            edge.iter().map(|corner| ground.surface.world_from_surface(*corner)).collect();
        for (step, (ends, places)) in corners.windows(2).zip(edge.windows(2)).enumerate() {
            if !going.at(step) {
                break;
            }
            let (a, along) = (ends[0], ends[1] - ends[0]);
            let (middle, length_mm) = (a + along / 2.0, along.length());
            space.within(middle, widest_mm + mean_mm + length_mm / 2.0, &mut found);
            let mut nearest: Option<(usize, f64)> = None;
            for number in found.iter().copied() {
                let disc = &discs[number];
                let to = disc.centre_mm - a;
                let share = to.dot(along) / along.length_squared().max(f64::MIN_POSITIVE);
                let away_mm = (to - along * share.clamp(0.0, 1.0)).length() - disc.radius_mm;
                from_edge_mm[number] = from_edge_mm[number].min(away_mm);
                let from_middle_mm = disc.centre_mm.distance(middle) - disc.radius_mm;
                if from_middle_mm <= mean_mm && nearest.is_none_or(|near| from_middle_mm < near.1) {
                    nearest = Some((number, from_middle_mm));
                }
            }
            out.push(Stretch {
                zone: zone_of(beside(ground, places)),
                length_mm,
                nearest: nearest.map(|(number, _)| number),
                is_bare: nearest.is_none_or(|(_, away_mm)| away_mm > mean_mm / 2.0),
            });
        }
    }
    (out, from_edge_mm)
}

/// The place beside the middle of an edge's piece on its side of the area: that of growing `along` where
/// `around` grows.
fn beside(ground: &Ground<'_>, ends: &[SurfacePoint]) -> SurfacePoint {
    let middle = SurfacePoint {
        around: ground.wrapped((ends[0].around + ends[1].around) / 2.0),
        along_mm: (ends[0].along_mm + ends[1].along_mm) / 2.0,
    };
    let frame = ground.frame(middle);
    let right_mm = (ends[1].around - ends[0].around) * frame.right_mm;
    let down_mm = (ends[1].along_mm - ends[0].along_mm) * frame.down_mm;
    let by = BESIDE_MM / libm::hypot(right_mm, down_mm).max(1e-9);
    ground.moved(&frame, -down_mm * by, right_mm * by)
}
