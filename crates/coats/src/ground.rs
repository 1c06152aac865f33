//! Outlines on a grid of 1 µm, grown and drawn in with round corners.

use crate::film_piece::Outlines;
use glam::DVec2;
use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay::Overlay;
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::i_float::int::angle::Angle;
use i_overlay::i_float::int::point::IntPoint;
use i_overlay::mesh::int::arc::ArcOptions;
use i_overlay::mesh::int::outline::offset::IntOutlineOffset as _;
use i_overlay::mesh::int::style::{IntLineJoin, IntOutlineStyle};
use shape::simpler;

/// Grid steps in one mm.
const STEPS_PER_MM: f64 = 1000.0;
/// Largest turn in one step of a round corner, 1/64 of a full turn: with a radius of 20 mm the chord
/// lies less than 0.03 mm off its arc.
const STEP: Angle = Angle::from_bits(1 << 26);
/// Outlines of more corners than this grow in steps.
const MANY_CORNERS: usize = 1000;
/// First of these steps, mm; each further one is twice as wide.
const FIRST_STEP_MM: f64 = 0.5;
/// How far a chord of a round corner may lie off its arc in one such step, and a corner off the line
/// that takes its place, mm.
const SAGITTA_MM: f64 = 0.005;

/// A region of a sheet.
#[derive(Debug, Clone, Default)]
pub(crate) struct Ground {
    /// Separate shapes, each an outer loop and its holes.
    shapes: Vec<Vec<Vec<IntPoint<i64>>>>,
}

impl Ground {
    /// What the outlines cover, even-odd.
    pub(crate) fn of<'a>(outlines: impl Iterator<Item = &'a Vec<[f64; 2]>>) -> Self {
        let step = |mm: f64| (mm * STEPS_PER_MM).round() as i64;
        let loops: Vec<Vec<IntPoint<i64>>> = outlines
            .map(|one| one.iter().map(|&[x, y]| IntPoint::new(step(x), step(y))).collect())
            .collect();
        let mut overlay = Overlay::<i64>::from_subj(&loops[..]);
        Self { shapes: overlay.overlay(OverlayRule::Subject, FillRule::EvenOdd) }
    }

    /// The same of outlines with fewer corners, nowhere farther off than `off_mm`.
    pub(crate) fn thinned<'a>(
        outlines: impl Iterator<Item = &'a Vec<[f64; 2]>>,
        off_mm: f64,
    ) -> Self {
        let fewer = |one: &Vec<[f64; 2]>| -> Vec<[f64; 2]> {
            let closed: Vec<DVec2> =
                one.iter().chain(one.first()).map(|&point| DVec2::from(point)).collect();
            simpler(&closed, off_mm).into_iter().map(<[f64; 2]>::from).collect()
        };
        let fewer: Outlines = outlines.map(fewer).collect();
        Self::of(fewer.iter())
    }

    /// Everything in it and within so many mm of it; what lies so far inside it where that is negative.
    #[must_use]
    pub(crate) fn grown(&self, mm: f64) -> Self {
        self.grown_with(mm, STEP)
    }

    fn grown_with(&self, mm: f64, step: Angle) -> Self {
        let round = IntLineJoin::Round(ArcOptions { max_step: step, ..ArcOptions::default() });
        let style = IntOutlineStyle::new((mm * STEPS_PER_MM).round() as i64).line_join(round);
        Self { shapes: self.shapes[..].outline(&style).unwrap_or_default() }
    }

    /// Everything in it and within so many mm of it, where that is far and there may be thousands of
    /// shapes. Grown at once, every shape would cross every other, and time and memory go with the
    /// square of their count. What is near grows together first, since growing by one length and then by
    /// another is growing by both together.
    #[must_use]
    pub(crate) fn grown_far(&self, mm: f64) -> Self {
        if self.shapes.iter().flatten().map(Vec::len).sum::<usize>() <= MANY_CORNERS {
            return self.grown(mm);
        }
        let (mut grown, mut left_mm, mut step_mm) = (self.clone(), mm, FIRST_STEP_MM);
        while left_mm > 0.0 {
            let now_mm = step_mm.min(left_mm);
            // A chord of angle a lies radius * (1 - cos(a / 2)) off its arc, about radius * a² / 8.
            // Angles count in 2³² parts of a full turn.
            let turns = (8.0 * SAGITTA_MM / now_mm).sqrt() / std::f64::consts::TAU;
            let angle = Angle::from_bits((turns * 4_294_967_296.0) as u32);
            // Every step makes two corners of one, so those that turn nowhere are left out again.
            let all = grown.grown_with(now_mm, angle).outlines();
            grown = Self::thinned(all.iter(), SAGITTA_MM);
            left_mm -= now_mm;
            step_mm *= 2.0;
        }
        grown
    }

    /// How many separate shapes it has.
    pub(crate) fn shapes(&self) -> usize {
        self.shapes.len()
    }

    /// Its outer outlines and holes, mm.
    pub(crate) fn outlines(&self) -> Outlines {
        let mm = |steps: i64| steps as f64 / STEPS_PER_MM;
        let place = |one: &IntPoint<i64>| [mm(one.x), mm(one.y)];
        self.shapes.iter().flatten().map(|one| one.iter().map(place).collect()).collect()
    }
}

/// Where a level line enters and leaves what outlines cover, even-odd, from left to right, mm.
pub(crate) fn crossings(outlines: &Outlines, level_mm: f64) -> Vec<f64> {
    let mut places: Vec<f64> = Vec::new();
    for one in outlines {
        for (a, b) in one.iter().zip(one.iter().cycle().skip(1)) {
            if (a[1] <= level_mm) != (b[1] <= level_mm) {
                places.push(a[0] + (b[0] - a[0]) * (level_mm - a[1]) / (b[1] - a[1]));
            }
        }
    }
    places.sort_by(f64::total_cmp);
    places
}

#[cfg(test)]
mod tests {
    use super::*;

    fn area(outlines: &Outlines) -> f64 {
        outlines
            .iter()
            .map(|one| {
                let pairs = one.iter().zip(one.iter().cycle().skip(1));
                pairs.map(|(a, b)| 0.5 * (a[0] * b[1] - b[0] * a[1])).sum::<f64>()
            })
            .sum::<f64>()
            .abs()
    }

    #[test]
    fn a_square_grows_by_its_sides_and_four_quarters_of_a_disc() {
        let square = [vec![[0.0, 0.0], [10.0, 0.0], [10.0, 10.0], [0.0, 10.0]]];
        let grown = Ground::of(square.iter()).grown(4.0);
        // Steiner's formula: area + edge times margin + pi times margin squared.
        let steiner = 100.0 + 40.0 * 4.0 + std::f64::consts::PI * 16.0;
        assert!((area(&grown.outlines()) - steiner).abs() < 0.1, "{}", area(&grown.outlines()));
        assert!((area(&grown.grown(-4.0).outlines()) - 100.0).abs() < 0.1);
    }

    #[test]
    fn thousands_of_shapes_grow_together_as_one_would() {
        // Squares of 1 mm, 1 mm apart, in a block of 99 mm by 99 mm.
        let at = |x: f64, y: f64| vec![[x, y], [x + 1.0, y], [x + 1.0, y + 1.0], [x, y + 1.0]];
        let squares: Vec<_> =
            (0..2500).map(|n| at(2.0 * f64::from(n % 50), 2.0 * f64::from(n / 50))).collect();
        let grown = Ground::of(squares.iter()).grown_far(10.0);
        assert_eq!(grown.outlines().len(), 1);
        // Steiner's formula for the block. Between two squares the line dips by 10 - √(10² - 0.5²) =
        // 0.013 mm, and each of five steps lies at most twice 0.005 mm off.
        let (side, margin) = (99.0, 10.0);
        let steiner = side * side + 4.0 * side * margin + std::f64::consts::PI * margin * margin;
        let off = steiner - area(&grown.outlines());
        assert!(off.abs() < 4.0 * (side + 16.0) * (0.013 + 5.0 * 0.01), "{off}");
    }

    #[test]
    fn what_lies_apart_becomes_one_and_a_wide_hole_stays() {
        let at = |x: f64, size: f64| vec![[x, 0.0], [x + size, 0.0], [x + size, size], [x, size]];
        let two = [at(0.0, 10.0), at(20.0, 10.0)];
        assert_eq!(Ground::of(two.iter()).shapes(), 2);
        assert_eq!(Ground::of(two.iter()).grown(5.1).shapes(), 1);
        let hole = vec![[20.0, 20.0], [80.0, 20.0], [80.0, 80.0], [20.0, 80.0]];
        let frame = [at(0.0, 100.0), hole];
        assert_eq!(Ground::of(frame.iter()).grown(10.0).outlines().len(), 2);
        assert_eq!(crossings(&Ground::of(frame.iter()).outlines(), 50.0), [0.0, 20.0, 80.0, 100.0]);
    }
}
