//! Rows along the edges of a zone: flush with them, at even gaps, a stone in each sharp corner.

use crate::bed::Bed;
use crate::edges::offset::{Line, Point, lines, onto};
use crate::fill::{Engine, Ground, Order, Spot};
use glam::DVec3;
use piece::Layout;
use shape::SurfacePoint;

/// Centres lie this much farther in than flush, mm, for rounding.
const ROUNDING_MM: f64 = 1e-7;
/// Stretches laid before asking whether to go on.
const AT_ONCE: usize = 16;
/// Slack for the chords of a traced line, mm.
pub(crate) const TRACE_MM: f64 = 1e-4;

/// Lays outlines.
#[derive(Debug, Clone, Copy, Default)]
pub struct Outline;

impl Engine for Outline {
    fn fill(
        &self,
        ground: &Ground<'_>,
        order: &Order,
        progress: &mut dyn FnMut(f64) -> bool,
    ) -> Vec<Spot> {
        let Layout::Outline { rows } = order.layout else { return Vec::new() };
        let Some(mut rim) = Rim::new(ground, order) else { return Vec::new() };
        let mut chains = rim.flush(1, 0.0, &mut || progress(0.0));
        for row in 2..=rows {
            let mut going = || progress(f64::from(row - 1) / f64::from(rows));
            if !going() {
                break;
            }
            chains = rim.nested(&chains, row, &mut going);
            chains.iter().for_each(|chain| rim.share_gaps(chain, &mut going));
        }
        rim.spots(order)
    }
}

/// Neighbours in a row, in order.
#[derive(Debug, Clone, Default)]
pub(crate) struct Chain {
    /// Of its stones on the bed.
    pub numbers: Vec<usize>,
    /// Whether the last is beside the first.
    pub closed: bool,
    /// Which of them lie in sharp corners: indices into `numbers`, ascending.
    pub corners: Vec<usize>,
}

impl Chain {
    fn smooth(numbers: Vec<usize>, closed: bool) -> Self {
        Self { numbers, closed, corners: Vec::new() }
    }
}

/// Stones of one size along edges.
pub(crate) struct Rim<'a> {
    /// With the stones laid so far.
    pub bed: Bed<'a>,
    /// Of every stone, mm.
    pub diameter_mm: f64,
    /// Diameter and gap, mm.
    pub pitch_mm: f64,
}

impl<'a> Rim<'a> {
    /// No stones yet; `None` for an order without sizes.
    pub fn new(ground: &'a Ground<'a>, order: &Order) -> Option<Self> {
        let diameter_mm = order.sizes.first()?.0;
        let bed = Bed::new(ground, diameter_mm, order.gap_mm, 256);
        Some(Self { pitch_mm: diameter_mm + bed.gap_mm, bed, diameter_mm })
    }

    /// What is laid.
    pub fn spots(&self, order: &Order) -> Vec<Spot> {
        let most = order.most.first().copied().flatten().unwrap_or(usize::MAX);
        self.bed.laid.iter().map(|laid| laid.spot).take(most).collect()
    }

    /// Lays a stone if there is room and the rules allow it.
    pub fn lay(&mut self, at: SurfacePoint, row: u32) -> Option<usize> {
        let allowed = self.bed.ground.allows(at, self.diameter_mm);
        let spot = Spot { at, size: 0, row };
        allowed.then(|| self.bed.try_lay(spot, self.diameter_mm)).flatten()
    }

    /// Lays a row `in_mm` farther in than flush with the edge, while it is `going`.
    pub fn flush(&mut self, row: u32, in_mm: f64, going: &mut dyn FnMut() -> bool) -> Vec<Chain> {
        let radius_mm = self.diameter_mm / 2.0;
        let level_mm = radius_mm + in_mm + ROUNDING_MM;
        let found = lines(self.bed.ground, level_mm, radius_mm, going);
        // Corners of all lines first.
        let corners: Vec<Vec<(usize, usize)>> = found
            .iter()
            .map(|line| {
                let lay = |k: &usize| Some((*k, self.lay(line.points[*k].at, row)?));
                line.corners.iter().filter_map(lay).collect()
            })
            .collect();
        let mut chains = Vec::new();
        for (line, corners) in found.iter().zip(corners) {
            self.along(line, &corners, (level_mm, row), &mut chains, going);
        }
        chains
    }

    /// Lays the stretches of a line between its corners, while it is `going`.
    fn along(
        &mut self,
        line: &Line,
        corners: &[(usize, usize)],
        (level_mm, row): (f64, u32),
        chains: &mut Vec<Chain>,
        going: &mut dyn FnMut() -> bool,
    ) {
        if !going() {
            return;
        }
        let count = line.points.len();
        let slice = |from: usize, to: usize| -> Vec<Point> {
            (from..=to).map(|k| line.points[k % count]).collect()
        };
        let Some(&(first, _)) = corners.first() else {
            let whole = slice(0, count);
            if whole.iter().all(|point| self.takes(point)) {
                let mut spots = even(&whole, self.pitch_mm + TRACE_MM);
                spots.pop();
                let numbers = self.lay_all(&spots, level_mm, row);
                chains.push(Chain::smooth(numbers, true));
            } else {
                self.runs(&whole, level_mm, row, chains);
            }
            return;
        };
        let mut ring = Chain { closed: true, ..Chain::default() };
        for (index, (from, number)) in corners.iter().enumerate() {
            if index % AT_ONCE == AT_ONCE - 1 && !going() {
                break;
            }
            let to = corners.get(index + 1).map_or(first + count, |next| next.0);
            let end = corners[(index + 1) % corners.len()].1;
            let stretch = slice(*from, to);
            ring.corners.push(ring.numbers.len());
            ring.numbers.push(*number);
            let ends = [stretch[0].mm, stretch[stretch.len() - 1].mm];
            let apart = |point: &Point| ends.map(|end| point.mm.distance(end));
            let beyond =
                |point: &&Point| apart(point).into_iter().all(|mm| mm > self.pitch_mm + TRACE_MM);
            let tight = [*number, end].map(|number| self.tip_mm(line, number));
            let acute = tight.iter().any(|mm| *mm > self.pitch_mm);
            if !acute && stretch.iter().filter(beyond).all(|point| self.takes(point)) {
                let spots = even(&stretch, self.pitch_mm + TRACE_MM);
                let inner = spots.get(1..spots.len().saturating_sub(1)).unwrap_or(&[]);
                ring.numbers.extend(self.lay_all(inner, level_mm, row));
                continue;
            }
            // Beside an acute corner the stones of both sides would lie too near to each other.
            let clear: Vec<Point> = stretch
                .iter()
                .filter(|point| {
                    let [from, to] = apart(point);
                    from >= tight[0] && to >= tight[1]
                })
                .copied()
                .collect();
            let mut runs = Vec::new();
            self.runs(&clear, level_mm, row, &mut runs);
            // Where the row is broken its neighbours lie too far apart to have a pocket.
            ring.numbers.extend(runs.into_iter().flat_map(|run| run.numbers));
        }
        chains.push(ring);
    }

    /// How far from a corner's stone the next may lie so that those of both sides keep their gap, mm.
    fn tip_mm(&self, line: &Line, number: usize) -> f64 {
        let tip_mm = self.bed.laid[number].frame.centre_mm;
        let count = line.points.len();
        let away = |k: usize| line.points[k % count].mm.distance(tip_mm);
        let Some(at) = (0..count).min_by(|a, b| away(*a).total_cmp(&away(*b))) else { return 0.0 };
        let reach_mm = self.pitch_mm;
        let leave = |step: usize| {
            let ahead = (1..count).map(|k| (at + k * step) % count).find(|k| away(*k) >= reach_mm);
            ahead.map(|k| (line.points[k].mm - tip_mm).normalize_or_zero())
        };
        let (Some(one), Some(other)) = (leave(1), leave(count - 1)) else { return 0.0 };
        // Sine of half the angle between both sides.
        let half = ((1.0 - one.dot(other)).max(0.0) / 2.0).sqrt().max(0.05);
        (reach_mm + TRACE_MM) / (2.0 * half)
    }

    fn takes(&self, point: &Point) -> bool {
        self.bed.takes(point.at, self.diameter_mm)
            && self.bed.ground.allows(point.at, self.diameter_mm)
    }

    /// Lays the free runs of a stretch, each from end to end.
    fn runs(&mut self, stretch: &[Point], level_mm: f64, row: u32, chains: &mut Vec<Chain>) {
        let free: Vec<bool> = stretch.iter().map(|point| self.takes(point)).collect();
        let mut from = 0;
        for run in free.chunk_by(|a, b| a == b) {
            let points = &stretch[from..from + run.len()];
            from += run.len();
            if run[0] {
                let spots = even(points, self.pitch_mm + TRACE_MM);
                let numbers = self.lay_all(&spots, level_mm, row);
                chains.push(Chain::smooth(numbers, false));
            }
        }
    }

    fn lay_all(&mut self, spots: &[SurfacePoint], level_mm: f64, row: u32) -> Vec<usize> {
        let ground = self.bed.ground;
        spots.iter().filter_map(|at| self.lay(onto(ground, level_mm, *at), row)).collect()
    }
}

/// Places at even chords of at least `pitch_mm` from the first point to the last; one in the middle
/// where there is room for no two.
pub(crate) fn even(points: &[Point], pitch_mm: f64) -> Vec<SurfacePoint> {
    let (marks, spare_mm) = walk(points, pitch_mm);
    let steps = marks.len() - 1;
    if steps == 0 {
        return points.get(points.len() / 2).map(|point| point.at).into_iter().collect();
    }
    // The longest chord at which as many steps still fit ends exactly at the end.
    let (mut low, mut high) = (pitch_mm, pitch_mm + spare_mm + pitch_mm);
    for _ in 0..50 {
        let middle = (low + high) / 2.0;
        if walk(points, middle).0.len() > steps { low = middle } else { high = middle }
    }
    let place = |(segment, share): (usize, f64)| {
        let (a, b) = (points[segment].at, points[segment + 1].at);
        let turn = b.around - a.around;
        // Two points of a line are never half a turn apart but where `around` begins anew.
        let turn = if points[segment].mm.distance(points[segment + 1].mm) < 1e-9 {
            0.0
        } else if turn.abs() > 6.0 && points_meet(points, segment) {
            turn - std::f64::consts::TAU * turn.signum()
        } else {
            turn
        };
        SurfacePoint {
            around: a.around + share * turn,
            along_mm: a.along_mm + share * (b.along_mm - a.along_mm),
        }
    };
    walk(points, low).0.into_iter().map(place).collect()
}

/// Whether two points of a line, a turn apart in `around`, are near in space.
fn points_meet(points: &[Point], segment: usize) -> bool {
    let apart_mm = points[segment].mm.distance(points[segment + 1].mm);
    apart_mm < (points[segment + 1].at.around - points[segment].at.around).abs()
}

/// Strides of one chord along the points: the marks (segment and part of it), and what is left.
fn walk(points: &[Point], pitch_mm: f64) -> (Vec<(usize, f64)>, f64) {
    let mut marks = vec![(0, 0.0)];
    let Some(first) = points.first() else { return (marks, 0.0) };
    let mut from: DVec3 = first.mm;
    for segment in 0..points.len() - 1 {
        let (a, b) = (points[segment].mm, points[segment + 1].mm);
        let mut begun = 0.0;
        while b.distance(from) >= pitch_mm {
            let (mut low, mut high) = (begun, 1.0);
            for _ in 0..40 {
                let middle = (low + high) / 2.0;
                if a.lerp(b, middle).distance(from) >= pitch_mm {
                    high = middle;
                } else {
                    low = middle;
                }
            }
            begun = high;
            from = a.lerp(b, high);
            marks.push((segment, high));
        }
    }
    (marks, points[points.len() - 1].mm.distance(from))
}
