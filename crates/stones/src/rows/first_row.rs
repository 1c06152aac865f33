//! The first row along an edge: flush with it, at even gaps.

use crate::bed::Bed;
use crate::rows::edge_rows::InRow;
use crate::rows::sight::Sight;
use std::f64::consts::TAU;

/// Lines of sight looked along before asking whether to go on.
const AT_ONCE: usize = 32;
/// Slack for the chords of the traced line, mm.
const TRACE_MM: f64 = 2e-3;

/// A stretch of the line on which the first row's centres lie.
#[derive(Debug, Clone)]
pub struct Stretch {
    /// Close enough together to be taken as straight.
    pub points: Vec<InRow>,
    /// Whether the last point is the first again.
    pub closed: bool,
}

/// Traces the first free places seen from outside, cut where the line jumps; none when no longer `going`.
pub fn stretches(
    bed: &Bed<'_>,
    sight: &Sight,
    diameter_mm: f64,
    going: &mut dyn FnMut(&Bed<'_>) -> bool,
) -> Vec<Stretch> {
    let ground = bed.ground;
    let (low, high) = sight.across;
    let widest_mm = {
        let deep =
            |k: u32| sight.deep_mm.0 + (sight.deep_mm.1 - sight.deep_mm.0) * f64::from(k) / 8.0;
        let radius = |k| match ground.surface.period() {
            Some(_) => ground.surface.around_scale_mm(deep(k)),
            None => sight.deep_mm.1,
        };
        (0..=8).map(radius).fold(1.0, f64::max)
    };
    let steps =
        ((high - low) * widest_mm / (diameter_mm / 12.0)).ceil().clamp(8.0, 20_000.0) as usize;
    let mut points: Vec<Option<InRow>> = Vec::with_capacity(steps + 1);
    let mut hint: Option<f64> = None;
    for step in 0..=steps {
        if step % AT_ONCE == 0 && !going(bed) {
            return Vec::new();
        }
        let across = low + (high - low) * step as f64 / steps as f64;
        let top = sight.deep_mm.0;
        // Most lines come to rest near where the last one did.
        let near = hint.and_then(|deep: f64| {
            let from = deep - diameter_mm / 2.0;
            sight
                .rest(bed, diameter_mm, across, from, deep + diameter_mm / 2.0)
                .filter(|rest| *rest > from)
        });
        let rest = near.or_else(|| sight.rest(bed, diameter_mm, across, top, sight.deep_mm.1));
        hint = rest;
        points.push(rest.map(|deep_mm| {
            let at = sight.place(ground, across, deep_mm);
            InRow { across, deep_mm, centre_mm: ground.surface.world_from_surface(at) }
        }));
    }
    let mut out = vec![Stretch { points: Vec::new(), closed: false }];
    for point in points {
        let last = out.len() - 1;
        let jumps = |a: &InRow, b: &InRow| a.centre_mm.distance(b.centre_mm) > diameter_mm;
        match (point, out[last].points.last()) {
            (Some(point), Some(before)) if jumps(before, &point) => {
                out.push(Stretch { points: vec![point], closed: false });
            }
            (Some(point), _) => out[last].points.push(point),
            (None, Some(_)) => out.push(Stretch { points: Vec::new(), closed: false }),
            (None, None) => {}
        }
    }
    out.retain(|stretch| !stretch.points.is_empty());
    if sight.closed {
        close(&mut out, steps + 1, diameter_mm);
    }
    out
}

/// Joins the line over the place where tracing began.
fn close(stretches: &mut Vec<Stretch>, steps: usize, diameter_mm: f64) {
    let Some(first) = stretches.first().and_then(|stretch| stretch.points.first()).copied() else {
        return;
    };
    let Some(last) = stretches.last().and_then(|stretch| stretch.points.last()).copied() else {
        return;
    };
    if last.centre_mm.distance(first.centre_mm) > diameter_mm / 2.0 {
        return;
    }
    if stretches.len() == 1 {
        stretches[0].closed = stretches[0].points.len() == steps;
        if stretches[0].closed {
            // Begin at the front (or the top), so that what is symmetric stays so.
            let points = &mut stretches[0].points;
            points.pop();
            let front = points.iter().position(|point| point.across >= -1e-9).unwrap_or(0);
            points.rotate_left(front);
            let again = points[0];
            points.push(again);
        }
    } else if let Some(mut tail) = stretches.pop() {
        tail.points.pop();
        tail.points.append(&mut stretches[0].points);
        stretches[0] = tail;
    }
}

/// Lines, and how deep, at even gaps of at least `pitch_mm` along a stretch: closing exactly, or
/// from end to end.
pub fn even(sight: &Sight, stretch: &Stretch, pitch_mm: f64) -> Vec<(f64, f64)> {
    let least_mm = pitch_mm + TRACE_MM;
    let (_, spare_mm, steps) = walk(stretch, least_mm);
    let whole = |point: &InRow| (point.across, point.deep_mm);
    if steps == 0 {
        // Room for one: in the middle.
        return stretch.points.get(stretch.points.len() / 2).map(whole).into_iter().collect();
    }
    // The longest pitch at which as many steps still fit ends exactly at the end.
    let (mut low, mut high) = (least_mm, least_mm + spare_mm + pitch_mm);
    for _ in 0..40 {
        let middle = (low + high) / 2.0;
        if walk(stretch, middle).2 >= steps { low = middle } else { high = middle }
    }
    let (mut marks, _, _) = walk(stretch, low);
    if stretch.closed {
        marks.pop();
    }
    let mut lines: Vec<(f64, f64)> = marks
        .into_iter()
        .map(|(segment, part)| {
            let (a, b) = (&stretch.points[segment], &stretch.points[segment + 1]);
            let turn = sight.apart(a.across, b.across);
            (a.across + turn * part, a.deep_mm + (b.deep_mm - a.deep_mm) * part)
        })
        .collect();
    for line in &mut lines {
        if sight.closed && line.0 > sight.across.1 {
            line.0 -= TAU;
        }
    }
    lines.sort_by(|a, b| a.0.total_cmp(&b.0));
    lines
}

/// Strides of one chord length along the points: the marks (segment and part of it), what is left
/// at the end, and how many strides.
fn walk(stretch: &Stretch, pitch_mm: f64) -> (Vec<(usize, f64)>, f64, usize) {
    let points = &stretch.points;
    let mut marks = vec![(0, 0.0)];
    let mut from = points[0].centre_mm;
    for segment in 0..points.len() - 1 {
        let (a, b) = (points[segment].centre_mm, points[segment + 1].centre_mm);
        let mut begun = 0.0;
        while b.distance(from) >= pitch_mm {
            let (mut low, mut high) = (begun, 1.0);
            for _ in 0..30 {
                let middle = (low + high) / 2.0;
                if a.lerp(b, middle).distance(from) >= pitch_mm {
                    high = middle
                } else {
                    low = middle
                }
            }
            begun = high;
            from = a.lerp(b, high);
            marks.push((segment, high));
        }
    }
    let spare_mm = points[points.len() - 1].centre_mm.distance(from);
    let steps = marks.len() - 1;
    (marks, spare_mm, steps)
}
