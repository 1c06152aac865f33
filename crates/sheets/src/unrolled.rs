//! Bands of a part unrolled onto the page at true size: what the wrap, the placement pages and the
//! cut files are drawn from.
//!
//! Each zone is drawn on its own grown surface, so a zone that goes on late is a little wider than
//! the bare band behind it; all line up at the front.

mod borders;
mod collar;
mod crests;
mod grid;
mod guides;
mod in_colours;
mod names;
mod near;
mod numbers;
mod occupied;
mod placement;
mod stacked;
mod stone_marks;
mod tangled;
mod tiles;
mod wrap;

pub(crate) use collar::{collar_drawing, collars, has_collars, in_collar};
pub(crate) use grid::{grid_drawing, grids};
pub(crate) use guides::guides;
pub(crate) use in_colours::{coloured_band, coloured_bands};
pub(crate) use occupied::Occupied;
pub(crate) use placement::{Placement, placements};
pub(crate) use stone_marks::colour_mark;
pub(crate) use tiles::{Tile, split};
pub(crate) use wrap::{Trim, band_wraps, wrap_drawing};

use crate::drawing::Bounds;
use glam::DVec2;
use shape::{Band, Sheet, Surface, SurfacePoint};
use std::f64::consts::{PI, TAU};

/// Farthest that two points of a line may lie apart round the part, radians: on a flat ring of
/// 60 mm radius the chord then lies less than 0.01 mm off its arc.
const STEP_RAD: f64 = 0.03;

/// One band of one (grown) surface on its sheet.
pub(crate) struct Unrolled {
    sheet: Sheet,
    band: Band,
    revolved: bool,
    /// Where the sheet's origin lies on the page.
    offset: DVec2,
}

impl Unrolled {
    pub(crate) fn new(surface: &Surface, band: usize, offset: DVec2) -> Self {
        Self {
            sheet: surface.sheet(band),
            band: surface.bands()[band].clone(),
            revolved: surface.period().is_some(),
            offset,
        }
    }

    /// A stretch of the band between two places along the wall, on the sheet nearest to it there.
    pub(crate) fn over(
        surface: &Surface,
        band: usize,
        along_mm: (f64, f64),
        offset: DVec2,
    ) -> Self {
        Self { sheet: surface.sheet_over(band, along_mm), ..Self::new(surface, band, offset) }
    }

    /// Greatest error of a length on the sheet, mm; 0 on a straight band.
    pub(crate) fn error_mm(&self) -> f64 {
        self.sheet.error_mm()
    }

    /// What the band takes up on the page.
    pub(crate) fn bounds(&self) -> Bounds {
        let (low, high) = self.sheet.extent_mm();
        Bounds::new(low + self.offset, high + self.offset)
    }

    /// The border of the band and, on a revolved one, where it is cut open at the back.
    pub(crate) fn outline(&self) -> (Vec<Vec<DVec2>>, Vec<[DVec2; 2]>) {
        let shift = |point: &DVec2| *point + self.offset;
        let borders = self.sheet.borders().iter().map(|line| line.iter().map(shift).collect());
        let cuts = self.sheet.cuts().iter().map(|cut| cut.map(|point| point + self.offset));
        (borders.collect(), cuts.collect())
    }

    /// Points close together along the border between two places along the wall; of a plate, its
    /// whole outline.
    pub(crate) fn border_points(&self, from_mm: f64, to_mm: f64) -> Vec<DVec2> {
        if !self.revolved {
            return self.outline().0.into_iter().flat_map(|line| dense(&line)).collect();
        }
        let (top, bottom) = (self.parallel(from_mm), self.parallel(to_mm));
        let ends = [0, top.len() - 1].map(|place| dense(&[top[place], bottom[place]]));
        let ends: Vec<DVec2> = ends.into_iter().flatten().collect();
        [dense(&top), dense(&bottom), ends].concat()
    }

    /// Whether a place belongs to this band; a crease belongs to the band above it.
    pub(crate) fn holds(&self, along_mm: f64) -> bool {
        !self.revolved || (along_mm >= self.band.along_mm.0 && along_mm <= self.band.along_mm.1)
    }

    pub(crate) fn page(&self, point: SurfacePoint) -> DVec2 {
        self.sheet.sheet_from_surface(point) + self.offset
    }

    /// A closed loop of the surface where it lies in this band, on the page; `None` if it does not.
    pub(crate) fn loop_on_page(&self, points: &[SurfacePoint]) -> Option<Vec<DVec2>> {
        let (from, to) = self.band.along_mm;
        if self.revolved {
            let low = points.iter().map(|point| point.along_mm).fold(f64::INFINITY, f64::min);
            let high = points.iter().map(|point| point.along_mm).fold(f64::NEG_INFINITY, f64::max);
            if high <= from || low >= to {
                return None;
            }
        }
        let mut page = Vec::with_capacity(points.len());
        for (place, &point) in points.iter().enumerate() {
            self.step(point, points[(place + 1) % points.len()], &mut page);
        }
        Some(page)
    }

    /// The stretches of a line of the surface that lie in this band, on the page.
    pub(crate) fn lines_on_page(&self, points: &[SurfacePoint]) -> Vec<Vec<DVec2>> {
        let mut lines = Vec::new();
        let mut line: Vec<DVec2> = Vec::new();
        for (from, to) in points.windows(2).flat_map(|pair| self.in_one_turn(pair[0], pair[1])) {
            match self.clip(from, to) {
                Some((start, end)) => {
                    let begin = self.page(start);
                    // The next stretch repeats the point where the last one ended.
                    match line.last() {
                        Some(last) if (*last - begin).length() < 1e-6 => drop(line.pop()),
                        _ => lines.push(std::mem::take(&mut line)),
                    }
                    self.step(start, end, &mut line);
                    line.push(self.page(end));
                }
                None => lines.push(std::mem::take(&mut line)),
            }
        }
        lines.push(line);
        lines.retain(|line| line.len() > 1);
        lines
    }

    /// The parallel at `along_mm` from cut to cut.
    pub(crate) fn parallel(&self, along_mm: f64) -> Vec<DVec2> {
        let count = (2.0 * PI / STEP_RAD).ceil() as i32;
        (0..=count)
            .map(|step| -PI + 2.0 * PI * f64::from(step) / f64::from(count))
            .map(|around| self.page(SurfacePoint { around, along_mm }))
            .collect()
    }

    /// A step of an edge, which may run on beyond half a turn, as steps between both sides of the
    /// cut at the back. A leap from one side of the cut to the other is no line on the sheet.
    fn in_one_turn(
        &self,
        from: SurfacePoint,
        to: SurfacePoint,
    ) -> Vec<(SurfacePoint, SurfacePoint)> {
        let turn = to.around - from.around;
        if !self.revolved {
            return vec![(from, to)];
        } else if turn.abs() > PI {
            return Vec::new();
        }
        // At most one odd multiple of half a turn lies strictly between them.
        let low = from.around.min(to.around);
        let back = ((low / PI - 1.0) / 2.0).floor() * TAU + 3.0 * PI;
        let share = if turn == 0.0 { 0.0 } else { (back - from.around) / turn };
        let middle = SurfacePoint { around: back, ..between(from, to, share) };
        let halves = if share > 1e-9 && share < 1.0 - 1e-9 {
            vec![(from, middle), (middle, to)]
        } else {
            vec![(from, to)]
        };
        let home = |(from, to): (SurfacePoint, SurfacePoint)| {
            let shift = ((from.around + to.around) / (2.0 * TAU)).round() * TAU;
            let moved =
                |point: SurfacePoint| SurfacePoint { around: point.around - shift, ..point };
            (moved(from), moved(to))
        };
        halves.into_iter().map(home).collect()
    }

    /// `from` and points on the way to `to`, without `to`.
    fn step(&self, from: SurfacePoint, to: SurfacePoint, page: &mut Vec<DVec2>) {
        let turn = (to.around - from.around).abs();
        let count = if self.revolved { (turn / STEP_RAD).ceil().max(1.0) as u32 } else { 1 };
        for step in 0..count {
            let share = f64::from(step) / f64::from(count);
            page.push(self.page(between(from, to, share)));
        }
    }

    /// The piece of a straight step that lies in the band.
    fn clip(&self, from: SurfacePoint, to: SurfacePoint) -> Option<(SurfacePoint, SurfacePoint)> {
        if !self.revolved {
            return Some((from, to));
        }
        let (low, high) = self.band.along_mm;
        let rise = to.along_mm - from.along_mm;
        if rise == 0.0 {
            return (low..=high).contains(&from.along_mm).then_some((from, to));
        }
        let (a, b) = ((low - from.along_mm) / rise, (high - from.along_mm) / rise);
        let (start, end) = (a.min(b).max(0.0), a.max(b).min(1.0));
        (start < end).then(|| (between(from, to, start), between(from, to, end)))
    }
}

/// Whether an edge keeps its distance from the rim all along.
fn is_level(edge: &[SurfacePoint]) -> bool {
    let along = || edge.iter().map(|point| point.along_mm);
    along().fold(f64::NEG_INFINITY, f64::max) - along().fold(f64::INFINITY, f64::min) < 0.05
}

/// A line with points no more than 1 mm apart.
fn dense(line: &[DVec2]) -> Vec<DVec2> {
    let mut points = Vec::new();
    for pair in line.windows(2) {
        let count = (pair[1] - pair[0]).length().ceil().max(1.0) as u32;
        let share = |step: u32| f64::from(step) / f64::from(count);
        points.extend((0..count).map(|step| pair[0].lerp(pair[1], share(step))));
    }
    points.extend(line.last());
    points
}

fn between(from: SurfacePoint, to: SurfacePoint, share: f64) -> SurfacePoint {
    SurfacePoint {
        around: from.around + (to.around - from.around) * share,
        along_mm: from.along_mm + (to.along_mm - from.along_mm) * share,
    }
}

/// A cylinder of 40 mm radius, 100 mm long.
#[cfg(test)]
fn cylinder() -> Surface {
    let measure = |along_mm| piece::Measure {
        along_mm,
        radius_mm: 40.0,
        run: piece::Run::Straight,
        crease: false,
        radius_step_mm: 0.0,
    };
    Surface::revolved(&[measure(0.0), measure(100.0)]).expect("a cylinder")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_edge_that_runs_on_across_the_back_is_drawn_on_both_sides_of_the_cut() {
        let at = |around, along_mm| SurfacePoint { around, along_mm };
        let edge = [at(3.0, 20.0), at(3.1, 20.0), at(3.3, 20.0), at(3.4, 20.0)];
        let on = Unrolled::new(&cylinder(), 0, DVec2::ZERO);
        let lines = on.lines_on_page(&edge);
        assert_eq!(lines.len(), 2);
        let back = PI * 40.0;
        let ends: Vec<f64> =
            lines.iter().flat_map(|line| [line[0].x, line[line.len() - 1].x]).collect();
        for (found, expected) in ends.iter().zip([120.0, back, -back, 136.0 - 2.0 * back]) {
            assert!((found - expected).abs() < 1e-6, "{ends:?}");
        }
        for beyond in [-2.0, 1.0, 4.0] {
            let moved = edge.map(|point| at(point.around + beyond * TAU, 20.0));
            assert_eq!(on.lines_on_page(&moved).len(), 2);
        }
    }

    #[test]
    fn an_edge_is_cut_off_where_the_band_ends() {
        let at = |around, along_mm| SurfacePoint { around, along_mm };
        let lines = Unrolled::new(&cylinder(), 0, DVec2::ZERO).lines_on_page(&[
            at(0.0, 90.0),
            at(0.0, 110.0),
            at(0.1, 110.0),
            at(0.1, 90.0),
        ]);
        assert_eq!(lines.len(), 2);
        let lowest = lines.iter().flatten().map(|point| point.y).fold(0.0, f64::max);
        assert!((lowest - 100.0).abs() < 1e-9);
    }
}
