//! The ground ready for packing: chart, cells and edges, with the stones laid so far.

use crate::fill::{Ground, Order};
use crate::pack::cells::Cells;
use crate::pack::chart::{Chart, Place};
use crate::pack::grade::Grade;
use crate::pack::walls::{self, Walls};
use glam::DVec3;
use piece::Blend;

/// Added to every gap for rounding, mm.
const ROUNDING_MM: f64 = 2e-7;
/// Rules are kept by so much, mm, so that a last correction does not break one.
const LIMIT_SLACK_MM: f64 = 1e-3;
/// First and farthest step by which a place is looked for where the rules let a stone lie, mm.
const LIMIT_STEP_MM: f64 = 0.005;
const LIMIT_FAR_MM: f64 = 20.0;
/// Ways across a flat part.
const ACROSS: [(f64, f64); 6] =
    [(1.0, 0.0), (-1.0, 0.0), (0.7, 0.7), (-0.7, 0.7), (0.7, -0.7), (-0.7, -0.7)];

/// With free choice, how much better a size of e times the weight of another is liked, against looseness in
/// diameters.
pub const FREE_WEIGHT: f64 = 0.12;
/// With free choice, how much better the largest size is liked than one of no width: large ones cover
/// more, small ones find room beside them later.
pub const FREE_LARGE: f64 = 0.4;

/// A stone on the board.
#[derive(Debug, Clone, Copy)]
pub struct Disc {
    /// Its centre.
    pub place: Place,
    /// Half its diameter and half the gap, mm: two stones keep the gap if their centres are at least
    /// the sum of both apart.
    pub reach_mm: f64,
    /// Index into the order's sizes.
    pub size: usize,
}

/// What a packing is laid on: everything that does not change.
#[derive(Debug)]
pub struct Board<'a> {
    /// The ground.
    pub ground: &'a Ground<'a>,
    /// Its chart.
    pub chart: Chart,
    /// Cells about as wide as the widest stone.
    pub cells: Cells,
    /// Its edges.
    pub walls: Walls,
    /// Half of each diameter, mm, largest first.
    pub radii_mm: Vec<f64>,
    /// Sizes, largest first.
    pub ladder: Vec<usize>,
    /// Step of the ladder of each size.
    pub steps: Vec<usize>,
    /// Shares of the sizes by count; with free choice those of the weights.
    pub shares: Vec<f64>,
    /// Whether the sizes are free: whatever covers most.
    pub free: bool,
    /// Whether shares are those of the area.
    pub by_area: bool,
    /// Sizes that change along a way.
    pub grade: Option<Grade>,
    /// Most stones of each size.
    pub most: Vec<usize>,
    /// Half the gap, mm.
    pub half_gap_mm: f64,
    /// Stones of other zones near enough to matter.
    pub fixed: Vec<Disc>,
    /// Their centres in space, mm.
    pub fixed_mm: Vec<DVec3>,
    /// The largest reach of anything on the board, mm.
    pub widest_reach_mm: f64,
    /// From the least to the greatest place down the wall.
    pub down_mm: (f64, f64),
}

impl<'a> Board<'a> {
    /// Prepares a ground for an order.
    pub fn new(ground: &'a Ground<'a>, order: &Order) -> Self {
        let chart = Chart::new(ground.surface);
        let radii_mm: Vec<f64> = order.sizes.iter().map(|size| size.0 / 2.0).collect();
        let widest_mm = 2.0 * radii_mm.iter().copied().fold(0.0, f64::max);
        let half_gap_mm = 0.5 * (order.gap_mm + ROUNDING_MM);
        let down_mm = (chart.down_mm(ground.along_mm.0), chart.down_mm(ground.along_mm.1));
        let cells = Cells::new(&chart, down_mm, ground.around, widest_mm + order.gap_mm);
        let walls = Walls::new(ground, &chart, down_mm, 0.6 * widest_mm);
        let (fixed, fixed_mm): (Vec<Disc>, Vec<DVec3>) = ground
            .obstacles
            .iter()
            .map(|set| {
                (
                    Disc {
                        place: chart.beside(set.centre_mm),
                        reach_mm: set.diameter_mm / 2.0
                            + set.gap_mm.max(order.gap_mm)
                            + ROUNDING_MM
                            - half_gap_mm,
                        size: usize::MAX,
                    },
                    set.centre_mm,
                )
            })
            .filter(|(disc, _)| {
                let beyond = widest_mm + 2.0 * disc.reach_mm;
                disc.place.down_mm > down_mm.0 - beyond && disc.place.down_mm < down_mm.1 + beyond
            })
            .unzip();
        let widest_reach_mm =
            fixed.iter().map(|disc| disc.reach_mm).fold(widest_mm / 2.0 + half_gap_mm, f64::max);
        let mut ladder: Vec<usize> = (0..radii_mm.len()).collect();
        ladder.sort_by(|a, b| radii_mm[*b].total_cmp(&radii_mm[*a]));
        let mut steps = vec![0; ladder.len()];
        for (step, size) in ladder.iter().enumerate() {
            steps[*size] = step;
        }
        let grade = Grade::new(order, ground.surface, &chart);
        let most = (0..radii_mm.len())
            .map(|size| order.most.get(size).copied().flatten().unwrap_or(usize::MAX))
            .collect();
        Self {
            ground,
            chart,
            cells,
            walls,
            radii_mm,
            ladder,
            steps,
            shares: shares_by_count(order),
            free: order.blend == Blend::Free,
            by_area: order.blend == Blend::Area,
            grade,
            most,
            half_gap_mm,
            fixed,
            fixed_mm,
            widest_reach_mm,
            down_mm,
        }
    }

    /// The step of the ladder asked for at a place, where sizes change along a way.
    pub fn step_asked(&self, place: &Place) -> Option<f64> {
        self.grade.as_ref().map(|grade| grade.step(&self.chart, place))
    }

    /// Whether the rules and the way along which sizes change let a size lie at a place.
    pub fn may(&self, place: &Place, size: usize) -> bool {
        self.off_limits_mm(place, size).is_none() && self.suits(size, self.step_asked(place))
    }

    /// The way to where the rules let a size lie, mm right and down; `None` if it may lie here.
    pub fn off_limits_mm(&self, place: &Place, size: usize) -> Option<(f64, f64)> {
        let limits = self.ground.limits?;
        let diameter_mm = 2.0 * self.radii_mm[size];
        let allowed =
            |place: &Place| limits.allow(self.chart.to_surface(place), diameter_mm, LIMIT_SLACK_MM);
        if allowed(place) {
            return None;
        }
        // Outward in ever longer steps; on a revolved part only up and down matter.
        let mut by_mm = LIMIT_STEP_MM;
        while by_mm < LIMIT_FAR_MM {
            let across: &[(f64, f64)] = if self.chart.is_revolved() { &[] } else { &ACROSS };
            for way in [(0.0, 1.0), (0.0, -1.0)].iter().chain(across) {
                let by = (by_mm * way.0, by_mm * way.1);
                if allowed(&self.chart.moved(place, by.0, by.1)) {
                    return Some(by);
                }
            }
            by_mm *= 1.25;
        }
        Some((0.0, LIMIT_FAR_MM))
    }

    /// Whether a size may lie where a step of the ladder is asked for.
    pub fn suits(&self, size: usize, asked: Option<f64>) -> bool {
        asked.is_none_or(|asked| Grade::allows(self.steps[size], asked))
    }

    /// Half the diameter and half the gap of a size, mm.
    pub fn reach_mm(&self, size: usize) -> f64 {
        self.radii_mm[size] + self.half_gap_mm
    }

    /// Square of half the diameter of a size, mm².
    pub fn square_mm2(&self, size: usize) -> f64 {
        self.radii_mm[size] * self.radii_mm[size]
    }

    /// The size a step smaller, if there is one.
    pub fn smaller(&self, size: usize) -> Option<usize> {
        self.ladder.get(self.steps[size] + 1).copied()
    }

    /// Whether there are as many stones of each size as these.
    pub fn in_stock(&self, counts: &[f64]) -> bool {
        let enough = |(count, most): (&f64, &usize)| *most == usize::MAX || *count <= *most as f64;
        counts.iter().zip(&self.most).all(enough)
    }

    /// Index of the smallest size.
    pub fn smallest(&self) -> usize {
        (0..self.radii_mm.len())
            .min_by(|a, b| self.radii_mm[*a].total_cmp(&self.radii_mm[*b]))
            .unwrap_or(0)
    }

    /// Whether a stone of a size lies whole in the zone here, other stones aside.
    pub fn holds(&self, place: &Place, size: usize) -> bool {
        self.walls.clear(self.ground, &self.chart, place, self.radii_mm[size] + walls::ROUNDING_MM)
    }

    /// Whether a place is in the zone.
    pub fn holds_centre(&self, place: &Place) -> bool {
        self.walls.clear(self.ground, &self.chart, place, 0.0)
    }
}

/// Shares of the order's sizes by count: a share of the area is that of as many circles.
fn shares_by_count(order: &Order) -> Vec<f64> {
    let each = order.sizes.iter().map(|(diameter_mm, share)| match order.blend {
        Blend::Area => share / (diameter_mm * diameter_mm),
        Blend::Count | Blend::Free => *share,
    });
    let each: Vec<f64> = each.collect();
    let sum = each.iter().sum::<f64>().max(f64::MIN_POSITIVE);
    each.into_iter().map(|one| one / sum).collect()
}
