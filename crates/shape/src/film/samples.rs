//! Places spread over a shape, each standing for some of its area.

use crate::SurfacePoint;

/// A place and the share of the (around, along) plane that it stands for, rad · mm.
#[derive(Debug, Clone, Copy)]
pub(super) struct Sample {
    pub(super) at: SurfacePoint,
    pub(super) weight: f64,
}

/// A rectangle in (around, along): lower and upper corner.
pub(super) type Window = (SurfacePoint, SurfacePoint);

/// Gauss's places for three points on [-1, 1] and their weights (Abramowitz and Stegun 25.4.30).
const GAUSS: [(f64, f64); 3] =
    [(-0.774_596_669_241_483_4, 5.0 / 9.0), (0.0, 8.0 / 9.0), (0.774_596_669_241_483_4, 5.0 / 9.0)];

/// Places in what of a shape (even-odd) lies in a window, on so many lines across it; on a line that
/// is wholly inside there are about as many.
pub(super) fn samples(shape: &[Vec<SurfacePoint>], window: Window, lines: usize) -> Vec<Sample> {
    let (low, high) = window;
    let step = (high.along_mm - low.along_mm) / lines as f64;
    let longest = (high.around - low.around) / (lines as f64 / 3.0);
    let mut found = Vec::new();
    for (line, crossed) in crossings(shape, low.along_mm, step, lines).iter().enumerate() {
        let along_mm = low.along_mm + (line as f64 + 0.5) * step;
        for pair in crossed.chunks_exact(2) {
            let (from, to) = (pair[0].max(low.around), pair[1].min(high.around));
            if to - from <= 1e-12 {
                continue;
            }
            let stretches = ((to - from) / longest).ceil().clamp(1.0, 1e4) as u32;
            let half = 0.5 * (to - from) / f64::from(stretches);
            for stretch in 0..stretches {
                let middle = from + (2.0 * f64::from(stretch) + 1.0) * half;
                found.extend(GAUSS.map(|(place, weight)| Sample {
                    at: SurfacePoint { around: middle + place * half, along_mm },
                    weight: weight * half * step,
                }));
            }
        }
    }
    found
}

/// Stretches of a shape on a line down the wall: from and to, mm.
pub(super) fn down(shape: &[Vec<SurfacePoint>], around: f64) -> Vec<(f64, f64)> {
    let mut crossed: Vec<f64> = Vec::new();
    for (a, b) in edges(shape) {
        if (a.around <= around) != (b.around <= around) {
            let share = (around - a.around) / (b.around - a.around);
            crossed.push(a.along_mm + share * (b.along_mm - a.along_mm));
        }
    }
    crossed.sort_by(f64::total_cmp);
    crossed.chunks_exact(2).map(|pair| (pair[0], pair[1])).collect()
}

/// Stretches of a shape on a line across: from and to, radians.
pub(super) fn level(shape: &[Vec<SurfacePoint>], along_mm: f64) -> Vec<(f64, f64)> {
    let crossed = crossings(shape, along_mm - 0.5, 1.0, 1).remove(0);
    crossed.chunks_exact(2).map(|pair| (pair[0], pair[1])).collect()
}

/// Where lines across meet the edges of a shape, in order.
fn crossings(
    shape: &[Vec<SurfacePoint>],
    top_mm: f64,
    step_mm: f64,
    lines: usize,
) -> Vec<Vec<f64>> {
    let mut crossed = vec![Vec::new(); lines];
    for (a, b) in edges(shape) {
        let (upper, lower) = if a.along_mm <= b.along_mm { (a, b) } else { (b, a) };
        let line = |along_mm: f64| ((along_mm - top_mm) / step_mm - 0.5).ceil().max(0.0) as usize;
        // Half open, so that a corner on a line counts once.
        let (first, last) = (line(upper.along_mm), line(lower.along_mm).min(lines));
        for (line, crossed) in crossed.iter_mut().enumerate().take(last).skip(first) {
            let along_mm = top_mm + (line as f64 + 0.5) * step_mm;
            let share = (along_mm - upper.along_mm) / (lower.along_mm - upper.along_mm);
            crossed.push(upper.around + share * (lower.around - upper.around));
        }
    }
    for line in &mut crossed {
        line.sort_by(f64::total_cmp);
    }
    crossed
}

fn edges(shape: &[Vec<SurfacePoint>]) -> impl Iterator<Item = (SurfacePoint, SurfacePoint)> + '_ {
    shape.iter().flat_map(|one| one.iter().copied().zip(one.iter().copied().cycle().skip(1)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::{PI, TAU};

    fn disc(radius: f64, steps: u32) -> Vec<SurfacePoint> {
        (0..steps)
            .map(|step| TAU * f64::from(step) / f64::from(steps))
            .map(|angle| SurfacePoint {
                around: radius * libm::cos(angle),
                along_mm: 50.0 + radius * libm::sin(angle),
            })
            .collect()
    }

    #[test]
    fn areas_and_moments_of_a_ring_come_out() {
        let ring = [disc(2.0, 400), disc(1.0, 400)];
        let at = |x: f64, y: f64| SurfacePoint { around: x, along_mm: y };
        let found = samples(&ring, (at(-2.0, 48.0), at(2.0, 52.0)), 60);
        let sum = |value: &dyn Fn(SurfacePoint) -> f64| -> f64 {
            found.iter().map(|one| one.weight * value(one.at)).sum()
        };
        // π (R² - r²) and, about an axis across, π (R⁴ - r⁴) / 4.
        assert!((sum(&|_| 1.0) / (3.0 * PI) - 1.0).abs() < 0.003);
        let moment = sum(&|place| (place.along_mm - 50.0) * (place.along_mm - 50.0));
        assert!((moment / (15.0 * PI / 4.0) - 1.0).abs() < 0.005);
        // A quarter of it in a quarter of the window.
        let quarter = samples(&ring, (at(0.0, 50.0), at(2.0, 52.0)), 60);
        let area: f64 = quarter.iter().map(|one| one.weight).sum();
        assert!((area / (0.75 * PI) - 1.0).abs() < 0.005);
    }

    #[test]
    fn a_line_down_meets_the_film_on_both_sides_of_a_hole() {
        let ring = [disc(2.0, 400), disc(1.0, 400)];
        let stretches = down(&ring, 0.001);
        assert_eq!(stretches.len(), 2);
        assert!((stretches[0].0 - 48.0).abs() < 0.001 && (stretches[0].1 - 49.0).abs() < 0.001);
        assert!(down(&ring, 2.5).is_empty());
    }
}
