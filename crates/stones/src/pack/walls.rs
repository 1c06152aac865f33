//! Edges of a zone near a place: how far they are and which way is away from them.

use crate::fill::Ground;
use crate::pack::cells::Cells;
use crate::pack::chart::{Chart, Place};
use shape::SurfacePoint;
use std::f64::consts::PI;

/// Parallels smaller than this, mm, are the axis itself and no edge.
const AXIS_MM: f64 = 1e-3;

/// Farthest that an edge may lie from the chord that stands for it, and longest such chord, mm.
const CHORD_MM: f64 = 1e-3;
const LONGEST_MM: f64 = 1.0;

/// Rounding that a stone flush with an edge is kept clear of, mm.
const ROUNDING_MM: f64 = 1e-6;

/// A piece of an edge, straight in the chart.
#[derive(Debug, Clone, Copy)]
struct Wall {
    middle_turn: f64,
    half_turn: f64,
    /// (down, radius, height) at its ends.
    ends: [[f64; 3]; 2],
}

/// The nearest place of an edge, as seen from a stone's centre.
#[derive(Debug, Clone, Copy)]
pub struct Touch {
    /// Straight distance, mm.
    pub distance_mm: f64,
    /// Unit direction away from it, right and down.
    pub away: (f64, f64),
}

/// The edges, by cell.
#[derive(Debug)]
pub struct Walls {
    walls: Vec<Wall>,
    starts: Vec<u32>,
    lists: Vec<u32>,
    /// Whether a cell without edges lies in the zone.
    inside: Vec<bool>,
    /// A level edge is taken as an arc, though the field's is a chain of chords: how far at most
    /// they lie apart, with a hair for rounding, mm.
    pub sag_mm: f64,
}

impl Walls {
    /// The edges of a ground that matter to places within `reach_mm` of them.
    pub fn new(ground: &Ground<'_>, chart: &Chart, cells: &Cells, reach_mm: f64) -> Self {
        let walls = walls(ground, chart);
        let (low, high) = (chart.down_mm(ground.along_mm.0), chart.down_mm(ground.along_mm.1));
        let mut by_cell: Vec<(u32, u32)> = Vec::new();
        for (number, wall) in walls.iter().enumerate() {
            let down = (wall.ends[0][0].min(wall.ends[1][0]), wall.ends[0][0].max(wall.ends[1][0]));
            let beyond = 2.0 * reach_mm;
            if down.1 < low - beyond || down.0 > high + beyond {
                continue;
            }
            let turn = (wall.middle_turn - wall.half_turn, wall.middle_turn + wall.half_turn);
            let radius_mm = wall.ends[0][1].min(wall.ends[1][1]);
            cells.near(turn, down, radius_mm, reach_mm, |cell| {
                by_cell.push((cell as u32, number as u32));
                true
            });
        }
        by_cell.sort_unstable();
        by_cell.dedup();
        let mut starts = vec![0_u32; cells.count() + 1];
        for (cell, _) in &by_cell {
            starts[*cell as usize + 1] += 1;
        }
        for cell in 0..cells.count() {
            starts[cell + 1] += starts[cell];
        }
        let inside = cells
            .middles()
            .into_iter()
            .enumerate()
            .map(|(cell, (turn, down_mm))| {
                starts[cell] == starts[cell + 1]
                    && ground.field.contains(chart.to_surface(&chart.place(turn, down_mm)))
            })
            .collect();
        let sag = |wall: &Wall| {
            let radius_mm = wall.ends[0][1];
            // Chords of half a millimetre, or of a twentieth of a radian.
            (0.25 / (8.0 * radius_mm)).min(0.0025 / 8.0 * radius_mm)
        };
        let sag_mm =
            if chart.is_revolved() { walls.iter().map(sag).fold(0.0, f64::max) } else { 0.0 };
        let sag_mm = sag_mm.max(if ground.area.edges.iter().any(|edge| is_bent(edge)) {
            CHORD_MM
        } else {
            0.0
        });
        let sag_mm = sag_mm + ROUNDING_MM;
        Self {
            walls,
            starts,
            sag_mm,
            lists: by_cell.into_iter().map(|pair| pair.1).collect(),
            inside,
        }
    }

    fn in_cell(&self, cell: usize) -> impl Iterator<Item = &Wall> {
        self.list(cell).iter().map(|number| &self.walls[*number as usize])
    }

    /// Whether edges may be within reach of places in a cell.
    pub fn any(&self, cell: usize) -> bool {
        self.starts[cell] != self.starts[cell + 1]
    }

    /// Whether a place is in the zone and at least `least_mm` from its edges.
    pub fn clear(
        &self,
        ground: &Ground<'_>,
        chart: &Chart,
        cell: usize,
        place: &Place,
        least_mm: f64,
    ) -> bool {
        if !self.any(cell) {
            return self.inside[cell];
        }
        let least = least_mm * least_mm;
        self.in_cell(cell).all(|wall| wall.seen(chart, place).0 >= least)
            && ground.field.contains(chart.to_surface(place))
    }

    /// Distance to the nearest edge within reach, mm; infinite if there is none.
    pub fn room_mm(&self, chart: &Chart, cell: usize, place: &Place) -> f64 {
        self.in_cell(cell)
            .map(|wall| wall.seen(chart, place).0)
            .fold(f64::INFINITY, f64::min)
            .sqrt()
    }

    /// Numbers of the edge pieces that matter to a cell.
    pub fn list(&self, cell: usize) -> &[u32] {
        &self.lists[self.starts[cell] as usize..self.starts[cell + 1] as usize]
    }

    /// Adds the numbers of those within `reach_mm` of a place.
    pub fn near(
        &self,
        chart: &Chart,
        cell: usize,
        place: &Place,
        reach_mm: f64,
        out: &mut Vec<u32>,
    ) {
        let reach = reach_mm * reach_mm;
        let near = |number: &&u32| self.walls[**number as usize].seen(chart, place).0 < reach;
        out.extend(self.list(cell).iter().filter(near));
    }

    /// Those of the listed edges nearer than `reach_mm`: the nearest one, and the nearest of those
    /// that push another way, as in a corner.
    pub fn touches(
        &self,
        chart: &Chart,
        list: &[u32],
        place: &Place,
        reach_mm: f64,
    ) -> [Option<Touch>; 2] {
        let reach = reach_mm * reach_mm;
        let mut found = [None, None];
        let mut others = 0;
        for number in list {
            let wall = &self.walls[*number as usize];
            if wall.seen(chart, place).0 < reach {
                let touch = wall.touch(chart, place);
                others += 1;
                if found[0].is_none_or(|first: Touch| touch.distance_mm < first.distance_mm) {
                    found[0] = Some(touch);
                }
            }
        }
        let Some(nearest) = found[0].filter(|_| others > 1) else { return found };
        for number in list {
            let wall = &self.walls[*number as usize];
            if wall.seen(chart, place).0 < reach {
                let touch = wall.touch(chart, place);
                let alike = touch.away.0 * nearest.away.0 + touch.away.1 * nearest.away.1;
                let nearer = |second: Touch| touch.distance_mm < second.distance_mm;
                if alike < 0.7 && found[1].is_none_or(nearer) {
                    found[1] = Some(touch);
                }
            }
        }
        found
    }

    /// Calls `see` for every edge piece within reach of a place.
    pub fn each_touch(
        &self,
        chart: &Chart,
        cell: usize,
        place: &Place,
        mut see: impl FnMut(Touch),
    ) {
        for wall in self.in_cell(cell) {
            see(wall.touch(chart, place));
        }
    }
}

impl Wall {
    fn new(chart: &Chart, a: (f64, [f64; 3]), b: (f64, [f64; 3])) -> Self {
        let middle = 0.5 * (a.0 + b.0);
        let flip = b.0 < a.0;
        Self {
            middle_turn: chart.wrapped(middle),
            half_turn: 0.5 * (b.0 - a.0).abs(),
            ends: if flip { [b.1, a.1] } else { [a.1, b.1] },
        }
    }

    /// Square of the distance, and the nearest place: angle from it, radius, height.
    fn seen(&self, chart: &Chart, place: &Place) -> (f64, f64, f64, f64) {
        let off = chart.turn_between(place.turn, self.middle_turn);
        let [a, b] = &self.ends;
        let scale =
            if chart.is_revolved() { (place.radius_mm * 0.5 * (a[1] + b[1])).sqrt() } else { 1.0 };
        let from = [(-self.half_turn - off) * scale, a[1] - place.radius_mm, a[2] - place.z_mm];
        let step = [2.0 * self.half_turn * scale, b[1] - a[1], b[2] - a[2]];
        let length = step[0] * step[0] + step[1] * step[1] + step[2] * step[2];
        let toward = -(from[0] * step[0] + from[1] * step[1] + from[2] * step[2]);
        let share = (toward / length.max(1e-18)).clamp(0.0, 1.0);
        let turn = off + self.half_turn * (1.0 - 2.0 * share);
        let (radius_mm, z_mm) = (a[1] + share * step[1], a[2] + share * step[2]);
        (chart.distance_apart(place, turn, radius_mm, z_mm), turn, radius_mm, z_mm)
    }

    fn touch(&self, chart: &Chart, place: &Place) -> Touch {
        let (squared, turn, radius_mm, z_mm) = self.seen(chart, place);
        let (right, down) = chart.slopes_apart(place, turn, radius_mm, z_mm);
        let steep = (right * right + down * down).sqrt().max(1e-12);
        Touch { distance_mm: squared.sqrt(), away: (right / steep, down / steep) }
    }
}

fn walls(ground: &Ground<'_>, chart: &Chart) -> Vec<Wall> {
    let surface = ground.surface;
    let at = |band: usize, point: SurfacePoint| {
        let place = surface.place_in_band(band, SurfacePoint { around: 0.0, ..point }).0;
        let down_mm = chart.down_mm(point.along_mm);
        if chart.is_revolved() { [down_mm, place.x, place.z] } else { [down_mm, 1.0, place.y] }
    };
    let mut walls = Vec::new();
    for edge in &ground.area.edges {
        let mut first = 0;
        while first + 1 < edge.len() {
            let mut last = first + 1;
            while last + 1 < edge.len() && is_chord(ground, &edge[first..=last + 1]) {
                last += 1;
            }
            let end =
                |point: SurfacePoint| (point.around, at(surface.band_at(point.along_mm), point));
            walls.push(Wall::new(chart, end(edge[first]), end(edge[last])));
            first = last;
        }
    }
    if chart.is_revolved() {
        for (index, band) in surface.bands().iter().enumerate() {
            for along_mm in [band.along_mm.0, band.along_mm.1] {
                let end = at(index, SurfacePoint { around: 0.0, along_mm });
                if end[1] > AXIS_MM {
                    walls.push(Wall::new(chart, (-PI, end), (PI, end)));
                }
            }
        }
    }
    walls
}

/// Whether an edge is anything but level.
fn is_bent(edge: &[SurfacePoint]) -> bool {
    edge.iter().any(|point| (point.along_mm - edge[0].along_mm).abs() > 1e-12)
}

/// Whether the chord between the ends of a stretch of edge may stand for it.
fn is_chord(ground: &Ground<'_>, stretch: &[SurfacePoint]) -> bool {
    let (a, b) = (stretch[0], stretch[stretch.len() - 1]);
    if stretch.iter().all(|point| (point.along_mm - a.along_mm).abs() < 1e-12) {
        return true;
    }
    let radius_mm = ground.surface.around_scale_mm(a.along_mm);
    let (x, y) = ((b.around - a.around) * radius_mm, b.along_mm - a.along_mm);
    let length = (x * x + y * y).sqrt();
    if length > LONGEST_MM {
        return false;
    }
    stretch[1..stretch.len() - 1].iter().all(|point| {
        let (px, py) = ((point.around - a.around) * radius_mm, point.along_mm - a.along_mm);
        (px * y - py * x).abs() <= CHORD_MM * length
    })
}
