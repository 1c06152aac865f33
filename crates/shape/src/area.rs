//! Regions of a part: their loops, real edges, area and extent.

mod shapes;
mod table;

use shapes::{Groups, Stretch, turns_left};
use table::AreaTable;

use crate::boolean::{Corner, Plane, Region};
use crate::cut::real_edges;
use crate::{Surface, SurfacePoint};
use std::f64::consts::PI;

/// Longest step of a loop or edge, mm in space: a chord over it lies within 1 µm of a 35 mm radius.
const STEP_MM: f64 = 0.5;

/// Longest step round the axis, radians, for places near the axis.
const STEP_AROUND: f64 = 0.05;

/// Parallels smaller than this, mm, are the axis itself and no edge.
pub(crate) const AXIS_MM: f64 = 1.0e-3;

/// A region in the (around, along) coordinates of a part. On a revolved part `around` lies in
/// [-pi, pi]; a region that runs across the back is stored cut there, and the cut is no edge.
#[derive(Debug, Clone, Default)]
pub struct Area {
    /// Closed loops, even-odd, without a repeated last point, fine enough to be taken as straight.
    /// Outer loops run counterclockwise with `around` to the right and `along` upwards, holes
    /// clockwise.
    pub loops: Vec<Vec<SurfacePoint>>,
    /// Its real edges (never the cut at the back), each a polyline; closed ones repeat their first
    /// point, modulo a full turn. Each is continuous: `around` runs on past half a turn where an
    /// edge crosses the back. Where an edge runs towards growing `around`, the region lies on its
    /// side of growing `along`.
    pub edges: Vec<Vec<SurfacePoint>>,
}

/// How much room a region takes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Extent {
    /// Shortest stretch of `around` that holds it, from and to; `from` lies in [-pi, pi] on a
    /// revolved part, `to` may lie beyond.
    pub around: (f64, f64),
    /// From and to along the wall, mm.
    pub along_mm: (f64, f64),
    /// Width along the widest parallel it reaches, mm.
    pub width_mm: f64,
    /// Height along the wall, mm.
    pub height_mm: f64,
}

impl Area {
    pub(crate) fn new(plane: &Plane, region: &Region, surface: &Surface) -> Self {
        let place = |corner: &Corner| plane.place(*corner);
        let loops = region
            .loops
            .iter()
            .map(|one| {
                let mut closed: Vec<SurfacePoint> = one.iter().map(place).collect();
                closed.extend(one.first().map(place));
                let mut fine = refined(surface, &closed);
                fine.pop();
                fine
            })
            .collect();
        let edges = real_edges(plane, region)
            .iter()
            .map(|edge| edge.iter().map(place).collect::<Vec<_>>())
            .flat_map(|edge| without_axis(surface, &edge))
            .map(|edge| refined(surface, &edge))
            .collect();
        Self { loops, edges }
    }

    /// Whether it is empty.
    pub fn is_empty(&self) -> bool {
        self.loops.is_empty()
    }

    /// Nearest and farthest place from the start (rim), mm along the bare wall; `None` if empty.
    pub fn along_range_mm(&self) -> Option<(f64, f64)> {
        let along = || self.loops.iter().flatten().map(|p| p.along_mm);
        let from = along().reduce(f64::min)?;
        Some((from, along().fold(from, f64::max)))
    }

    /// Area on a surface of the part, mm². By Green's theorem: the area between the start of the
    /// part and a place, for one unit of `around`, integrated along the loops. Exact on cylinders,
    /// cones and plates.
    pub fn area_mm2(&self, surface: &Surface) -> f64 {
        let Some((from, to)) = self.along_range_mm() else { return 0.0 };
        let sums = AreaTable::new(surface, from, to);
        let mut area = 0.0;
        for one in &self.loops {
            for (a, b) in one.iter().zip(one.iter().cycle().skip(1)) {
                let middle = 0.5 * (a.along_mm + b.along_mm);
                let mean =
                    (sums.at(a.along_mm) + 4.0 * sums.at(middle) + sums.at(b.along_mm)) / 6.0;
                area -= (b.around - a.around) * mean;
            }
        }
        area
    }

    /// Length of the real edges on a surface of the part, mm, as chords in space.
    pub fn edge_length_mm(&self, surface: &Surface) -> f64 {
        let length = |edge: &Vec<SurfacePoint>| -> f64 {
            edge.windows(2)
                .map(|w| {
                    surface.world_from_surface(w[0]).distance(surface.world_from_surface(w[1]))
                })
                .sum()
        };
        self.edges.iter().map(length).sum()
    }

    /// How many separate shapes it has; one that runs across the back is one.
    pub fn shapes(&self, surface: &Surface) -> usize {
        let outer: Vec<&Vec<SurfacePoint>> =
            self.loops.iter().filter(|one| turns_left(one)).collect();
        if surface.period().is_none() {
            return outer.len();
        }
        let (right, left) = (Stretch::on_cut(&outer, PI), Stretch::on_cut(&outer, -PI));
        let mut groups = Groups((0..outer.len()).collect());
        let mut shapes = outer.len();
        // No two stretches of one side overlap, so both lists are in order of their ends as well.
        let mut first = 0;
        for one in &right {
            first += left[first..].partition_point(|other| other.to <= one.from);
            let beside = left[first..].iter().take_while(|other| other.from < one.to);
            for other in beside.filter(|other| one.overlaps(other)) {
                shapes -= usize::from(groups.join(one.shape, other.shape));
            }
        }
        shapes
    }

    /// How much room it takes on a surface of the part; `None` if empty. On a cone the width is that
    /// of the widest parallel it reaches, so that a straight blank of this size always covers it up
    /// to the sag of the parallel.
    pub fn extent(&self, surface: &Surface) -> Option<Extent> {
        let (top, bottom) = self.along_range_mm()?;
        let around = if surface.period().is_some() { self.shortest_turn()? } else { self.span()? };
        let samples = 64;
        let along = |i: i32| top + (bottom - top) * f64::from(i) / f64::from(samples);
        let widest = (0..=samples).map(|i| surface.around_scale_mm(along(i))).fold(0.0, f64::max);
        let step = (bottom - top) / f64::from(samples);
        let height = (0..samples).map(|i| surface.along_scale(along(i) + 0.5 * step) * step).sum();
        Some(Extent {
            around,
            along_mm: (top, bottom),
            width_mm: (around.1 - around.0) * widest,
            height_mm: height,
        })
    }

    fn span(&self) -> Option<(f64, f64)> {
        let around = || self.loops.iter().flatten().map(|p| p.around);
        let from = around().reduce(f64::min)?;
        Some((from, around().fold(from, f64::max)))
    }

    /// The turn less the widest gap.
    fn shortest_turn(&self) -> Option<(f64, f64)> {
        let mut spans: Vec<(f64, f64)> = self
            .loops
            .iter()
            .map(|one| {
                let around = || one.iter().map(|p| p.around);
                (around().fold(f64::INFINITY, f64::min), around().fold(f64::NEG_INFINITY, f64::max))
            })
            .collect();
        spans.sort_by(|a, b| a.0.total_cmp(&b.0));
        let first = spans.first()?.0;
        let mut reached = spans[0].1;
        // (gap, where it begins, where it ends)
        let mut widest = (0.0, 0.0, 0.0);
        for span in &spans {
            if span.0 - reached > widest.0 {
                widest = (span.0 - reached, reached, span.0);
            }
            reached = reached.max(span.1);
        }
        let over_back = first + 2.0 * PI - reached;
        if over_back >= widest.0 {
            Some((first, reached))
        } else {
            Some((widest.2, widest.1 + 2.0 * PI))
        }
    }
}

/// The same polyline in steps short enough to be straight in space.
fn refined(surface: &Surface, line: &[SurfacePoint]) -> Vec<SurfacePoint> {
    let mut fine = Vec::with_capacity(line.len());
    fine.extend(line.first().copied());
    for pair in line.windows(2) {
        let (a, b) = (pair[0], pair[1]);
        let scale = surface.around_scale_mm(a.along_mm).max(surface.around_scale_mm(b.along_mm));
        let turn = (b.around - a.around).abs();
        let mut steps = libm::hypot(turn * scale, b.along_mm - a.along_mm) / STEP_MM;
        if surface.period().is_some() {
            steps = steps.max(turn / STEP_AROUND);
        }
        let steps = steps.ceil().clamp(1.0, 1.0e6) as u32;
        for step in 1..steps {
            let share = f64::from(step) / f64::from(steps);
            fine.push(SurfacePoint {
                around: a.around + (b.around - a.around) * share,
                along_mm: a.along_mm + (b.along_mm - a.along_mm) * share,
            });
        }
        fine.push(b);
    }
    fine
}

/// The stretches of an edge that do not lie on the axis, where a parallel shrinks to a point.
fn without_axis(surface: &Surface, edge: &[SurfacePoint]) -> Vec<Vec<SurfacePoint>> {
    let on_axis = |p: &SurfacePoint| surface.around_scale_mm(p.along_mm) < AXIS_MM;
    let mut stretches: Vec<Vec<SurfacePoint>> = vec![Vec::new()];
    for pair in edge.windows(2) {
        let current = stretches.len() - 1;
        if on_axis(&pair[0]) && on_axis(&pair[1]) {
            stretches.push(Vec::new());
        } else if stretches[current].is_empty() {
            stretches[current].extend_from_slice(pair);
        } else {
            stretches[current].push(pair[1]);
        }
    }
    stretches.retain(|stretch| !stretch.is_empty());
    stretches
}
