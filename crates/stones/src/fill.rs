//! What a packing engine is asked and what it answers, so that a better one drops in.

use crate::limits::Limits;
use crate::steps::step;
use glam::DVec3;
use libm::{cos, sin};
use piece::{Blend, Layout, Way};
use shape::{Area, Field, Surface, SurfacePoint};
use std::f64::consts::{PI, TAU};

/// Slack for rounding when a stone is laid flush with an edge, mm.
const FLUSH_MM: f64 = 1e-7;

/// Where stones may go: one zone on the surface as it is when they are set.
#[derive(Debug)]
pub struct Ground<'a> {
    /// The part's surface, grown by what lies beneath.
    pub surface: &'a Surface,
    /// Distance to the edges of the zone, creases and ends of the part.
    pub field: &'a Field,
    /// The zone.
    pub area: &'a Area,
    /// Area of the zone on the surface, mm².
    pub area_mm2: f64,
    /// From the least to the greatest `along_mm` in the zone.
    pub along_mm: (f64, f64),
    /// From the least to the greatest `around` in the zone; beyond half a turn where it lies
    /// across the back, a whole turn where it leaves no gap all round.
    pub around: (f64, f64),
    /// Stones already set by other zones on this part.
    pub obstacles: &'a [Obstacle],
    /// Which sizes may lie where; `None` is any anywhere.
    pub limits: Option<&'a Limits>,
    /// Lines that stones in a line follow, as in [`shape::ZoneShape::strokes`].
    pub strokes: &'a [Vec<SurfacePoint>],
}

/// A stone that is already set.
#[derive(Debug, Clone, Copy)]
pub struct Obstacle {
    /// Centre of its flat back, part frame, mm.
    pub centre_mm: DVec3,
    /// Diameter, mm.
    pub diameter_mm: f64,
    /// Least clear distance it asks for, mm.
    pub gap_mm: f64,
}

/// What stones to lay.
#[derive(Debug, Clone, PartialEq)]
pub struct Order {
    /// Diameters (mm), largest first, and their shares by count, which sum to 1.
    pub sizes: Vec<(f64, f64)>,
    /// Least clear distance between two stones in space, mm.
    pub gap_mm: f64,
    /// The layout, with what only its engine looks at.
    pub layout: Layout,
    /// What the shares mean.
    pub blend: Blend,
    /// Sizes change along this way, from the first to the last, instead of being mixed all over.
    pub grade: Option<Way>,
    /// Most stones of each size; `None`, or fewer of these than sizes: as many as there is room for.
    pub most: Vec<Option<usize>>,
    /// Seed of everything random: the same order on the same ground gives the same spots.
    pub seed: [u64; 2],
}

/// A place for one stone.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spot {
    /// Where its centre lies.
    pub at: SurfacePoint,
    /// Index into [`Order::sizes`].
    pub size: usize,
    /// Its row from 1; 0 where there are no rows.
    pub row: u32,
}

/// Shown layouts while they come closer.
pub type Show<'a> = dyn FnMut(&[Spot]) + 'a;

/// A way of filling ground with stones. Whatever it is, the spots it gives keep the gap between
/// each other and to the obstacles, and lie whole inside the zone.
pub trait Engine {
    /// Lays stones. `progress` is told the share done and stops the work by returning false; then
    /// some of them may come back, or none.
    fn fill(
        &self,
        ground: &Ground<'_>,
        order: &Order,
        progress: &mut dyn FnMut(f64) -> bool,
    ) -> Vec<Spot>;

    /// The same; an engine that betters its layout step by step shows each that is closer than the one
    /// before, the first as soon as it is laid. Whatever is shown keeps what a finished layout keeps.
    fn fill_shown(
        &self,
        ground: &Ground<'_>,
        order: &Order,
        progress: &mut dyn FnMut(f64) -> bool,
        _show: Option<&mut Show<'_>>,
    ) -> Vec<Spot> {
        self.fill(ground, order, progress)
    }
}

/// A place on the ground with its directions: right (round the part), down (along the wall) and
/// how many mm one unit of either coordinate is.
#[derive(Debug, Clone, Copy)]
pub struct Frame {
    /// The place.
    pub at: SurfacePoint,
    /// In space, mm.
    pub centre_mm: DVec3,
    /// Unit vector round the part, to the right as seen from outside.
    pub right: DVec3,
    /// Unit vector along the wall, away from the rim.
    pub down: DVec3,
    /// Mm for one unit of `around`.
    pub right_mm: f64,
    /// Mm for one mm of `along_mm`.
    pub down_mm: f64,
}

impl<'a> Ground<'a> {
    /// The ground of an area; `None` if the area is empty.
    pub fn new(
        surface: &'a Surface,
        field: &'a Field,
        area: &'a Area,
        obstacles: &'a [Obstacle],
    ) -> Option<Self> {
        let points = || area.loops.iter().flatten();
        let along_mm = extent(points().map(|point| point.along_mm))?;
        let around = if surface.period().is_some() {
            taken_round(area)
        } else {
            extent(points().map(|point| point.around))?
        };
        (along_mm.0 < along_mm.1 && around.0 < around.1).then_some(Self {
            surface,
            field,
            area,
            area_mm2: area.area_mm2(surface),
            along_mm,
            around,
            obstacles,
            limits: None,
            strokes: &[],
        })
    }

    /// Whether the zone goes all round the part.
    pub fn all_round(&self) -> bool {
        self.surface.period().is_some() && self.around.1 - self.around.0 > TAU - 1e-9
    }

    /// The place with its directions.
    pub fn frame(&self, at: SurfacePoint) -> Frame {
        let right = if self.surface.period().is_some() {
            DVec3::new(-sin(at.around), cos(at.around), 0.0)
        } else {
            DVec3::X
        };
        Frame {
            at,
            centre_mm: self.surface.world_from_surface(at),
            right,
            down: right.cross(self.surface.normal(at)),
            // Near the axis a turn is no distance at all; a micrometre keeps the division finite.
            right_mm: self.surface.around_scale_mm(at.along_mm).max(1e-3),
            down_mm: self.surface.along_scale(at.along_mm).max(1e-3),
        }
    }

    /// The place some mm right and down of a frame, along its tangents.
    pub fn moved(&self, from: &Frame, right_mm: f64, down_mm: f64) -> SurfacePoint {
        let (start, end) = self.surface.along_range_mm();
        SurfacePoint {
            around: self.wrapped(from.at.around + right_mm / from.right_mm),
            along_mm: (from.at.along_mm + down_mm / from.down_mm).clamp(start, end),
        }
    }

    /// The same `around` within half a turn of the front.
    pub fn wrapped(&self, around: f64) -> f64 {
        if self.surface.period().is_none() || (-PI..=PI).contains(&around) {
            around
        } else {
            around - TAU * (around / TAU).round()
        }
    }

    /// Whether the rules let a stone of this diameter lie here.
    pub fn allows(&self, at: SurfacePoint, diameter_mm: f64) -> bool {
        self.limits.is_none_or(|limits| limits.allow(at, diameter_mm, 0.0))
    }

    /// Whether a stone of this diameter lies whole inside the zone.
    pub fn holds(&self, at: SurfacePoint, diameter_mm: f64) -> bool {
        step();
        self.field.clearance_mm(at) >= diameter_mm / 2.0 - FLUSH_MM
    }
}

fn extent(values: impl Iterator<Item = f64>) -> Option<(f64, f64)> {
    values.fold(None, |seen, value| {
        let (low, high) = seen.unwrap_or((value, value));
        Some((low.min(value), high.max(value)))
    })
}

/// The shortest stretch of the round that holds an area.
fn taken_round(area: &Area) -> (f64, f64) {
    let mut spans: Vec<(f64, f64)> = area
        .loops
        .iter()
        .filter_map(|ring| extent(ring.iter().map(|point| point.around)))
        .collect();
    spans.sort_by(|a, b| a.0.total_cmp(&b.0));
    let Some(first) = spans.first().copied() else { return (0.0, 0.0) };
    // The widest stretch without any: between two spans, or across the back.
    let mut reach = first.1;
    let mut gap = (0.0, 0.0);
    for span in spans.iter().skip(1).copied().chain([(first.0 + TAU, first.0 + TAU)]) {
        if span.0 - reach > gap.1 - gap.0 {
            gap = (reach, span.0);
        }
        reach = reach.max(span.1);
    }
    if gap.1 - gap.0 <= 1e-9 {
        return (-PI, PI);
    }
    // From the end of the gap to its start, a turn on, brought nearest to the front.
    let (low, high) = (gap.1 - TAU, gap.0);
    let turns = TAU * (((low + high) / 2.0) / TAU).round();
    (low - turns, high - turns)
}
