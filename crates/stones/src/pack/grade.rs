//! Sizes that change along a way across the zone instead of being mixed all over.

use crate::fill::Order;
use crate::pack::chart::{Chart, Place};
use glam::DVec3;
use piece::Way;
use shape::{Surface, SurfacePoint};
use std::f64::consts::{PI, TAU};

/// Longest piece of a line that is taken as straight in space, mm.
const STRAIGHT_MM: f64 = 0.5;
/// Steps of the ladder by which a stone's size may miss the one asked for at its place.
const OFF: f64 = 1.4;

/// Which size is asked for where.
#[derive(Debug, Clone)]
pub struct Grade {
    way: Line,
    /// Highest step of the ladder.
    last: f64,
}

/// A way ready to be asked about.
#[derive(Debug, Clone)]
enum Line {
    /// Mm down the grown wall (or the flat part) at its beginning and end.
    Wall(f64, f64),
    /// Angles (mm on a flat part) at its beginning and end.
    Around(f64, f64),
    /// Points in space with their share of the length.
    Points(Vec<(DVec3, f64)>),
}

impl Grade {
    /// The grade of an order, if it asks for one of several sizes.
    pub fn new(order: &Order, surface: &Surface, chart: &Chart) -> Option<Self> {
        let way = match order.grade.as_ref()? {
            Way::Wall { along_mm } => {
                Line::Wall(chart.down_mm(along_mm.0), chart.down_mm(along_mm.1))
            }
            Way::Around { around } => Line::Around(around.0, around.1),
            Way::Line { corners } => Line::Points(points(corners, surface, chart)),
        };
        (order.sizes.len() > 1).then_some(Self { way, last: order.sizes.len() as f64 - 1.0 })
    }

    /// The step of the ladder (0 is the largest) asked for at a place, between two of them as a
    /// fraction.
    pub fn step(&self, chart: &Chart, place: &Place) -> f64 {
        let between = |from: f64, to: f64, at: f64| {
            if from == to { 0.0 } else { (at - from) / (to - from) }
        };
        let share = match &self.way {
            Line::Wall(from, to) => between(*from, *to, place.down_mm),
            Line::Around(from, to) => {
                let middle = 0.5 * (from + to);
                let off = place.turn - middle;
                let off = if chart.is_revolved() && off.abs() > PI {
                    off - TAU * (off / TAU).round()
                } else {
                    off
                };
                between(*from, *to, middle + off)
            }
            Line::Points(points) => {
                let away = |point: &(DVec3, f64)| point.0.distance_squared(place.centre_mm);
                let nearest = points.iter().min_by(|a, b| away(a).total_cmp(&away(b)));
                nearest.map_or(0.0, |nearest| nearest.1)
            }
        };
        self.last * share.clamp(0.0, 1.0)
    }

    /// Whether a step of the ladder may lie where another is asked for.
    pub fn allows(step: usize, asked: f64) -> bool {
        (step as f64 - asked).abs() <= OFF
    }
}

/// Points of a line, close together, with their share of its length in space.
fn points(corners: &[(f64, f64)], surface: &Surface, chart: &Chart) -> Vec<(DVec3, f64)> {
    let at = |(around, along_mm): (f64, f64)| {
        chart.placed(surface.world_from_surface(SurfacePoint { around, along_mm }))
    };
    let mut out: Vec<(DVec3, f64)> = Vec::new();
    let mut length_mm = 0.0;
    for pair in corners.windows(2) {
        let (a, b) = (pair[0], pair[1]);
        let scale_mm = surface.around_scale_mm(0.5 * (a.1 + b.1));
        let about_mm = (b.0 - a.0).abs() * scale_mm + (b.1 - a.1).abs();
        let pieces = (about_mm / STRAIGHT_MM).ceil().clamp(1.0, 1e4) as u32;
        for k in 0..=pieces {
            let share = f64::from(k) / f64::from(pieces);
            let point = at((a.0 + share * (b.0 - a.0), a.1 + share * (b.1 - a.1)));
            length_mm += out.last().map_or(0.0, |last| last.0.distance(point));
            out.push((point, length_mm));
        }
    }
    for point in &mut out {
        point.1 /= length_mm.max(f64::MIN_POSITIVE);
    }
    out
}
