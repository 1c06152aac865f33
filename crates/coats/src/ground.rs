//! Outlines on a grid of 1 µm, grown and drawn in with round corners.

use crate::film_piece::Outlines;
use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay::Overlay;
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::i_float::int::angle::Angle;
use i_overlay::i_float::int::point::IntPoint;
use i_overlay::mesh::int::arc::ArcOptions;
use i_overlay::mesh::int::outline::offset::IntOutlineOffset as _;
use i_overlay::mesh::int::style::{IntLineJoin, IntOutlineStyle};

/// Grid steps in one mm.
const STEPS_PER_MM: f64 = 1000.0;
/// Largest turn in one step of a round corner, 1/64 of a full turn: with a radius of 20 mm the chord
/// lies less than 0.03 mm off its arc.
const STEP: Angle = Angle::from_bits(1 << 26);

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

    /// Everything in it and within so many mm of it; what lies so far inside it where that is negative.
    #[must_use]
    pub(crate) fn grown(&self, mm: f64) -> Self {
        let round = IntLineJoin::Round(ArcOptions { max_step: STEP, ..ArcOptions::default() });
        let style = IntOutlineStyle::new((mm * STEPS_PER_MM).round() as i64).line_join(round);
        Self { shapes: self.shapes[..].outline(&style).unwrap_or_default() }
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
