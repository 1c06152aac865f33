//! Single stones along the strokes of lettering or a drawing: one on each end, corner and junction, and
//! between them at even gaps.

use crate::bed::Bed;
use crate::edges::offset::Point;
use crate::edges::outline::{TRACE_MM, even};
use crate::edges::parting::parting;
use crate::fill::{Engine, Ground, Order, Spot};
use shape::SurfacePoint;
use std::collections::BTreeMap;

/// Places of a stroke are about so far apart, in diameters.
const STEP: f64 = 0.05;
/// Places looked at before asking whether to go on.
const AT_ONCE: usize = 512;

/// Lays single stones along strokes.
#[derive(Debug, Clone, Copy, Default)]
pub struct Line;

impl Engine for Line {
    fn fill(
        &self,
        ground: &Ground<'_>,
        order: &Order,
        progress: &mut dyn FnMut(f64) -> bool,
    ) -> Vec<Spot> {
        let Some((diameter_mm, _)) = order.sizes.first().copied() else { return Vec::new() };
        let bed = Bed::new(ground, diameter_mm, order.gap_mm, 256);
        let pitch_mm = diameter_mm + bed.gap_mm;
        let mut pen = Pen { bed, diameter_mm, pitch_mm };
        let mut strokes: Vec<Vec<Point>> = Vec::with_capacity(ground.strokes.len());
        for line in ground.strokes {
            if !progress(0.0) {
                return Vec::new();
            }
            strokes.push(pen.finely(line));
        }
        let knots = knots(ground.strokes);
        let mut most: Vec<&Knot> = knots.iter().collect();
        most.sort_by_key(|knot| std::cmp::Reverse(knot.ends.len()));
        for knot in most {
            pen.lay(knot.at);
        }
        // Where every stroke has its first and last stone of its own: the number of its place.
        let mut begins = vec![0; strokes.len()];
        let mut ends: Vec<usize> = strokes.iter().map(|line| line.len() - 1).collect();
        for knot in &knots {
            if !progress(0.0) {
                return Vec::new();
            }
            let leaving: Vec<Vec<Point>> =
                knot.ends.iter().map(|(stroke, end)| from_end(&strokes[*stroke], *end)).collect();
            let part = parting(&leaving, pitch_mm + TRACE_MM);
            for ((stroke, end), own) in knot.ends.iter().zip(&part.own) {
                match end {
                    0 => begins[*stroke] = *own,
                    _ => ends[*stroke] = strokes[*stroke].len() - 1 - own,
                }
            }
            for at in part.shared {
                pen.lay(at);
            }
        }
        for (index, stroke) in strokes.iter().enumerate() {
            let mut going = || progress(index as f64 / strokes.len() as f64);
            if !going() {
                break;
            }
            pen.along(stroke, (begins[index], ends[index]), &mut going);
        }
        let most = order.most.first().copied().flatten().unwrap_or(usize::MAX);
        pen.bed.laid.iter().map(|laid| laid.spot).take(most).collect()
    }
}

/// A place where strokes begin, end or meet.
struct Knot {
    at: SurfacePoint,
    /// Which strokes, and which of their ends.
    ends: Vec<(usize, usize)>,
}

/// The knots of strokes in the order in which they come; a closed stroke has none of its own.
fn knots(strokes: &[Vec<SurfacePoint>]) -> Vec<Knot> {
    let key = |at: &SurfacePoint| (at.around.to_bits(), at.along_mm.to_bits());
    let mut numbers: BTreeMap<(u64, u64), usize> = BTreeMap::new();
    let mut knots: Vec<Knot> = Vec::new();
    for (stroke, line) in strokes.iter().enumerate() {
        for (end, at) in [line.first(), line.last()].into_iter().flatten().enumerate() {
            let number = *numbers.entry(key(at)).or_insert(knots.len());
            if number == knots.len() {
                knots.push(Knot { at: *at, ends: Vec::new() });
            }
            if line.len() > 1 {
                knots[number].ends.push((stroke, end));
            }
        }
    }
    let alone = |knot: &Knot| match knot.ends[..] {
        [(one, _), (other, _)] => one == other,
        _ => false,
    };
    knots.retain(|knot| !alone(knot));
    knots
}

/// A stroke as one goes along it from one of its ends.
fn from_end(stroke: &[Point], end: usize) -> Vec<Point> {
    if end == 0 { stroke.to_vec() } else { stroke.iter().rev().copied().collect() }
}

/// Lays stones of one size.
struct Pen<'a> {
    bed: Bed<'a>,
    diameter_mm: f64,
    /// Diameter and gap, mm.
    pitch_mm: f64,
}

impl Pen<'_> {
    /// A stroke in places close enough together to be taken as straight.
    fn finely(&self, line: &[SurfacePoint]) -> Vec<Point> {
        let surface = self.bed.ground.surface;
        let point = |at: SurfacePoint| Point { at, mm: surface.world_from_surface(at) };
        let mut points: Vec<Point> = line.first().map(|at| point(*at)).into_iter().collect();
        for pair in line.windows(2) {
            let apart_mm = point(pair[0]).mm.distance(point(pair[1]).mm);
            let steps = (apart_mm / (STEP * self.diameter_mm)).ceil().clamp(1.0, 1.0e4) as u32;
            points.extend((1..=steps).map(|step| {
                let share = f64::from(step) / f64::from(steps);
                let way = pair[1].around - pair[0].around;
                point(SurfacePoint {
                    around: pair[0].around + share * way,
                    along_mm: pair[0].along_mm + share * (pair[1].along_mm - pair[0].along_mm),
                })
            }));
        }
        points
    }

    fn lay(&mut self, at: SurfacePoint) {
        let at = SurfacePoint { around: self.bed.ground.wrapped(at.around), ..at };
        if self.bed.ground.allows(at, self.diameter_mm) {
            self.bed.try_lay(Spot { at, size: 0, row: 0 }, self.diameter_mm);
        }
    }

    /// Lays a stroke between two of its places, both included, at even gaps; where something lies in the
    /// way, what is free on both sides of it. Ends early when no longer `going`.
    fn along(
        &mut self,
        stroke: &[Point],
        (begin, end): (usize, usize),
        going: &mut dyn FnMut() -> bool,
    ) {
        if begin >= end {
            return;
        }
        let pitch_mm = self.pitch_mm + TRACE_MM;
        let last = stroke.len() - 1;
        let closed = begin == 0 && end == last && stroke[0].mm.distance(stroke[last].mm) < 1e-9;
        let whole = if closed { from_top(stroke) } else { stroke[begin..=end].to_vec() };
        let mut spots = even(&whole, pitch_mm);
        if closed && spots.len() > 1 {
            spots.pop();
        }
        let before = self.bed.laid.len();
        let mut missing = Vec::new();
        for (index, at) in spots.iter().enumerate() {
            if index % AT_ONCE == AT_ONCE - 1 && !going() {
                return;
            }
            let laid = self.bed.laid.len();
            self.lay(*at);
            let at_knot = (index == 0 && begin == 0) || (index + 1 == spots.len() && end == last);
            if self.bed.laid.len() == laid && !at_knot {
                missing.push(index);
            }
        }
        if !missing.is_empty() {
            self.bed.keep(before);
            self.free_runs(&stroke[begin..=end], pitch_mm, going);
        }
    }

    /// Lays what of a stroke is free; nothing when no longer `going`.
    fn free_runs(&mut self, stroke: &[Point], pitch_mm: f64, going: &mut dyn FnMut() -> bool) {
        let mut free: Vec<bool> = Vec::with_capacity(stroke.len());
        for points in stroke.chunks(AT_ONCE) {
            if !going() {
                return;
            }
            free.extend(points.iter().map(|point| self.bed.takes(point.at, self.diameter_mm)));
        }
        let mut from = 0;
        for run in free.chunk_by(|a, b| a == b) {
            let points = &stroke[from..from + run.len()];
            from += run.len();
            if run[0] {
                for at in even(points, pitch_mm) {
                    self.lay(at);
                }
            }
        }
    }
}

/// A closed stroke that begins and ends at its top.
fn from_top(stroke: &[Point]) -> Vec<Point> {
    let ring = &stroke[..stroke.len() - 1];
    let top = (0..ring.len()).min_by(|a, b| ring[*a].at.along_mm.total_cmp(&ring[*b].at.along_mm));
    let top = top.unwrap_or(0);
    ring[top..].iter().chain(&ring[..=top]).copied().collect()
}
