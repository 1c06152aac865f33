//! A flower: separate petals round a heart.

use super::ground::{arc, in_pieces};
use super::strewn::Made;
use super::{PIECE_MM, TOLERANCE_MM};
use crate::flatten::closed_loops;
use glam::DVec2;
use kurbo::BezPath;
use std::f64::consts::PI;

/// Where a petal is widest, from its foot to its tip.
const WIDEST: f64 = 0.62;
/// How much of the room beside it a petal takes there.
const FULL: f64 = 0.84;
/// Most that a petal is as wide as long.
const STOUT: f64 = 0.55;
/// Size of the heart, as a share of the circle on which the petals begin.
const HEART: f64 = 0.68;
/// Control points of a quarter of an ellipse as Bézier curve (common practice: within 0.03 %).
const QUARTER: f64 = 0.552_284_75;

/// A flower of this diameter, turned by a share of the angle from one petal to the next.
pub(super) fn flower(petals: u32, size_mm: f64, heart: f64, turn: f64) -> Made {
    let tip = 0.5 * size_mm;
    let foot = heart * tip;
    let length = tip - foot;
    let widest = foot + WIDEST * length;
    let half = (FULL * widest * libm::tan(PI / f64::from(petals))).min(STOUT * length);
    let mut path = BezPath::new();
    path.move_to((foot, 0.0));
    for (side, forward) in [(-1.0, true), (1.0, false)] {
        let at = |x: f64, y: f64| (x, side * y);
        let (to_x, bend) = (tip - widest, QUARTER);
        if forward {
            path.curve_to(
                at(foot + 0.1 * length, 0.4 * half),
                at(foot + 0.32 * length, half),
                at(widest, half),
            );
            path.curve_to(at(widest + bend * to_x, half), at(tip, bend * half), at(tip, 0.0));
        } else {
            path.curve_to(at(tip, bend * half), at(widest + bend * to_x, half), at(widest, half));
            path.curve_to(
                at(foot + 0.32 * length, half),
                at(foot + 0.1 * length, 0.4 * half),
                at(foot, 0.0),
            );
        }
    }
    path.close_path();
    let petal = closed_loops(&path, TOLERANCE_MM).swap_remove(0);
    let mut loops: Vec<Vec<DVec2>> = (0..petals)
        .map(|number| {
            let angle = 2.0 * PI * (f64::from(number) + turn) / f64::from(petals);
            let way = DVec2::new(libm::cos(angle), libm::sin(angle));
            let turned: Vec<DVec2> = petal.iter().map(|at| way.rotate(*at)).collect();
            in_pieces(&turned, PIECE_MM)
        })
        .collect();
    let mut disc = arc(DVec2::ZERO, HEART * foot, 0.0, 2.0 * PI, 1.0);
    disc.pop();
    loops.push(disc);
    Made { discs: vec![(DVec2::ZERO, tip)], loops }
}
