//! How art lies on a part that is not flat: level, straight as a sticker, or climbing.

use crate::ink::Ink;
use crate::margin::moved;
use crate::{Surface, SurfacePoint};
use glam::DVec2;
use piece::Lie;

/// Longest piece of a straight line that stays straight on a curved way, mm: it then lies at most
/// 0.004 mm off on radii over 30 mm (sagitta, length² / 8 radius).
const PIECE_MM: f64 = 1.0;

/// Step along a climbing line, mm.
const CLIMB_STEP_MM: f64 = 0.25;

/// Millimetres for one unit of `around` at the middle of art.
pub(crate) fn middle_scale(surface: &Surface, along_mm: f64) -> f64 {
    let (start, end) = surface.along_range_mm();
    surface.around_scale_mm(along_mm.clamp(start, end))
}

/// The outlines of art whose middle lies at `along_mm`, as places counted from its middle.
pub(crate) fn laid(
    ink: &Ink,
    lie: Lie,
    along_mm: f64,
    surface: &Surface,
) -> Vec<Vec<SurfacePoint>> {
    let closed = |one: &Vec<DVec2>| one.iter().chain(one.first()).copied().collect();
    let outlines: Vec<Vec<DVec2>> = ink.loops.iter().map(closed).collect();
    let mut laid = laid_lines(&outlines, lie, along_mm, surface);
    for one in &mut laid {
        one.pop();
    }
    laid
}

/// The same for lines that need not be closed; ends that are the same place stay the same place.
pub(crate) fn laid_lines(
    lines: &[Vec<DVec2>],
    lie: Lie,
    along_mm: f64,
    surface: &Surface,
) -> Vec<Vec<SurfacePoint>> {
    let scale = middle_scale(surface, along_mm);
    if surface.period().is_none() {
        return level(lines, scale);
    }
    let (start, end) = surface.along_range_mm();
    let middle = SurfacePoint { around: 0.0, along_mm: along_mm.clamp(start, end) };
    let from_middle =
        |p: SurfacePoint| SurfacePoint { around: p.around, along_mm: p.along_mm - middle.along_mm };
    let bent = |way: &dyn Fn(DVec2) -> SurfacePoint| {
        lines
            .iter()
            .map(|one| in_pieces(one).into_iter().map(|p| from_middle(way(p))).collect())
            .collect()
    };
    match lie {
        Lie::Level | Lie::Column => level(lines, scale),
        Lie::Straight => bent(&|p| moved(surface, middle, p)),
        Lie::Rising { rise_rad } => {
            let across = || lines.iter().flatten().map(|p| p.x);
            let span = (across().fold(0.0, f64::min), across().fold(0.0, f64::max));
            let climb = Climb::new(surface, middle.along_mm, rise_rad, span);
            bent(&|p| climb.place(surface, p))
        }
    }
}

/// Art lies level: its horizontal along the parallel, its vertical along the wall. On a cone it is a
/// little wider where the cone is wider, and unrolls to arcs.
fn level(lines: &[Vec<DVec2>], scale: f64) -> Vec<Vec<SurfacePoint>> {
    let place = |p: &DVec2| SurfacePoint { around: p.x / scale, along_mm: p.y };
    lines.iter().map(|one| one.iter().map(place).collect()).collect()
}

/// A line with its long edges in pieces.
fn in_pieces(one: &[DVec2]) -> Vec<DVec2> {
    let mut pieces = Vec::with_capacity(one.len());
    for pair in one.windows(2) {
        let (from, to) = (pair[0], pair[1]);
        let steps = ((to - from).length() / PIECE_MM).ceil().clamp(1.0, 1.0e4) as u32;
        pieces.extend((0..steps).map(|step| from.lerp(to, f64::from(step) / f64::from(steps))));
    }
    pieces.extend(one.last());
    pieces
}

/// A line on the surface that keeps one angle to the parallels (a loxodrome; a helix on a cylinder),
/// by its length from the middle of the art.
struct Climb {
    /// Length at the first place, mm.
    from_mm: f64,
    places: Vec<SurfacePoint>,
    /// Across and down of one mm along it.
    way: DVec2,
}

impl Climb {
    /// Down the wall its place is known outright; round the part it goes by
    /// d around = cos(rise) / radius · d length, summed by Simpson's rule on every step.
    fn new(surface: &Surface, along_mm: f64, rise_rad: f64, (from, to): (f64, f64)) -> Self {
        let way = DVec2::new(libm::cos(rise_rad), -libm::sin(rise_rad));
        let (first, last) =
            ((from / CLIMB_STEP_MM).floor() as i64, (to / CLIMB_STEP_MM).ceil() as i64);
        let along = |length: f64| along_mm + way.y * length;
        let rate = |length: f64| way.x / middle_scale(surface, along(length)).max(1.0e-3);
        let turn = |step: i64| {
            let (a, b) = (step as f64 * CLIMB_STEP_MM, (step + 1) as f64 * CLIMB_STEP_MM);
            (rate(a) + 4.0 * rate(f64::midpoint(a, b)) + rate(b)) * CLIMB_STEP_MM / 6.0
        };
        let mut around = -(first..0).map(turn).sum::<f64>();
        let mut places = Vec::new();
        for step in first..=last {
            places.push(SurfacePoint { around, along_mm: along(step as f64 * CLIMB_STEP_MM) });
            around += turn(step);
        }
        Self { from_mm: first as f64 * CLIMB_STEP_MM, places, way }
    }

    /// Along the line by `x`, then square to it down by `y`, straight on the cone that touches the
    /// surface there.
    fn place(&self, surface: &Surface, p: DVec2) -> SurfacePoint {
        let steps = (p.x - self.from_mm) / CLIMB_STEP_MM;
        let index = (steps.max(0.0) as usize).min(self.places.len().saturating_sub(2));
        let (a, b) = (self.places[index], self.places[index + 1]);
        let share = steps - index as f64;
        let on = SurfacePoint {
            around: a.around + (b.around - a.around) * share,
            along_mm: a.along_mm + (b.along_mm - a.along_mm) * share,
        };
        moved(surface, on, DVec2::new(-self.way.y, self.way.x) * p.y)
    }
}
