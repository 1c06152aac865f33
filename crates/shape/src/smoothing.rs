//! The smoothest curve that a tape's readings allow.
//!
//! A natural cubic spline g that makes Σ ((yᵢ − g(sᵢ)) / σᵢ)² + α ∫ g″² least, with the largest α at
//! which it still passes near enough: C. H. Reinsch, "Smoothing by spline functions", Numerische
//! Mathematik 10 (1967) 177–183; the equations in the form of P. J. Green and B. W. Silverman,
//! Nonparametric Regression and Generalized Linear Models (1994), section 2.3, both from memory.

use crate::spline::Spline;

/// Halvings of the search for α, by its logarithm.
const HALVINGS: usize = 60;
/// Reach of α to either side of the cube of the length over the variance, as powers of e.
const REACH: f64 = 40.0;
/// Variance of a reading that is wrong by anything within half a step, over the square of the step:
/// a rectangular distribution (JCGM 100:2008, 4.3.7).
const VARIANCE: f64 = 1.0 / 12.0;

/// The points to be smoothed.
struct Points<'a> {
    at: &'a [f64],
    value: &'a [f64],
    /// σ², 0 where the curve must pass through.
    variance: Vec<f64>,
}

/// The smoothest curve that passes within half of its `step` of each point, and whose sum of squares
/// is no more than such errors give. Steps of 0 are passed through. `at` grows strictly; there are two
/// points or more, and as many of each.
pub(crate) fn smoothest(at: &[f64], value: &[f64], step: &[f64]) -> Spline {
    let variance: Vec<f64> = step.iter().map(|step| VARIANCE * step * step).collect();
    let mean = variance.iter().sum::<f64>() / variance.len() as f64;
    let points = Points { at, value, variance };
    if at.len() == 2 || mean == 0.0 {
        return points.spline(0.0);
    }
    let length = at[at.len() - 1] - at[0];
    let scale = libm::log(length * length * length / mean);
    let near = |curve: &Spline| {
        let off = || curve.values().iter().zip(value).map(|(on, read)| (on - read).abs());
        let within = off().zip(step).all(|(off, step)| off <= step / 2.0 + 1e-12);
        let squares: f64 = off()
            .zip(&points.variance)
            .filter(|(_, variance)| **variance > 0.0)
            .map(|(off, variance)| off * off / variance)
            .sum();
        within && squares <= value.len() as f64
    };
    let curve = |power: f64| points.spline(libm::exp(scale + power));
    let stiffest = curve(REACH);
    if near(&stiffest) {
        return stiffest;
    }
    let (mut low, mut high) = (-REACH, REACH);
    for _ in 0..HALVINGS {
        let middle = (low + high) / 2.0;
        if near(&curve(middle)) { low = middle } else { high = middle }
    }
    curve(low)
}

impl Points<'_> {
    /// The curve for one α.
    fn spline(&self, alpha: f64) -> Spline {
        let n = self.at.len();
        let step: Vec<f64> = self.at.windows(2).map(|pair| pair[1] - pair[0]).collect();
        // Column i of Q: second differences about point i + 1.
        let q: Vec<[f64; 3]> = step
            .windows(2)
            .map(|pair| {
                let (before, after) = (1.0 / pair[0], 1.0 / pair[1]);
                [before, -before - after, after]
            })
            .collect();
        // R + α Qᵀ D² Q, symmetric with two side diagonals: the diagonal, and those right of it.
        let mut rows: Vec<[f64; 3]> = Vec::with_capacity(q.len());
        for i in 0..q.len() {
            let share = |apart: usize| -> f64 {
                let Some(other) = q.get(i + apart) else { return 0.0 };
                (apart..3).map(|k| q[i][k] * other[k - apart] * self.variance[i + k]).sum()
            };
            rows.push([
                (step[i] + step[i + 1]) / 3.0 + alpha * share(0),
                step[i + 1] / 6.0 + alpha * share(1),
                alpha * share(2),
            ]);
        }
        let right = q.iter().enumerate().map(|(i, q)| {
            q[0] * self.value[i] + q[1] * self.value[i + 1] + q[2] * self.value[i + 2]
        });
        let bend = solve(rows, right.collect());
        let mut value = self.value.to_vec();
        for (i, q) in q.iter().enumerate() {
            for k in 0..3 {
                value[i + k] -= alpha * self.variance[i + k] * q[k] * bend[i];
            }
        }
        // Second derivatives at all points: none at the ends.
        let second = |i: usize| if i == 0 || i == n - 1 { 0.0 } else { bend[i - 1] };
        let mut slope: Vec<f64> = (0..n - 1)
            .map(|i| {
                (value[i + 1] - value[i]) / step[i]
                    - step[i] / 6.0 * (2.0 * second(i) + second(i + 1))
            })
            .collect();
        let last = n - 2;
        slope.push(
            (value[n - 1] - value[last]) / step[last]
                + step[last] / 6.0 * (second(last) + 2.0 * second(n - 1)),
        );
        Spline::hermite(self.at.to_vec(), value, slope)
    }
}

/// Solves a symmetric positive definite system with two side diagonals (Cholesky without roots).
fn solve(mut rows: Vec<[f64; 3]>, mut right: Vec<f64>) -> Vec<f64> {
    let n = rows.len();
    for i in 0..n {
        let [pivot, one, two] = rows[i];
        if i + 1 < n {
            rows[i + 1][0] -= one * one / pivot;
            rows[i + 1][1] -= one * two / pivot;
            right[i + 1] -= one / pivot * right[i];
        }
        if i + 2 < n {
            rows[i + 2][0] -= two * two / pivot;
            right[i + 2] -= two / pivot * right[i];
        }
    }
    for i in (0..n).rev() {
        let mut rest = right[i];
        if i + 1 < n {
            rest -= rows[i][1] * right[i + 1];
        }
        if i + 2 < n {
            rest -= rows[i][2] * right[i + 2];
        }
        right[i] = rest / rows[i][0];
    }
    right
}

#[cfg(test)]
mod tests {
    use super::*;

    const AT: [f64; 6] = [0.0, 22.0, 41.0, 70.0, 118.0, 165.0];
    const VALUE: [f64; 6] = [24.5, 31.0, 39.25, 43.5, 42.0, 35.5];

    fn agrees(step: [f64; 6], alpha: f64, expected: &[(f64, f64, f64)]) {
        let variance = step.iter().map(|step| VARIANCE * step * step).collect();
        let curve = Points { at: &AT, value: &VALUE, variance }.spline(alpha);
        for (s, value, slope) in expected {
            let i = AT.partition_point(|at| at <= s).clamp(1, 5) - 1;
            let found = curve.eval(i, (s - AT[i]) / (AT[i + 1] - AT[i]));
            let off = (found.0 - value).abs().max((found.1 - slope).abs());
            assert!(off < 1e-9, "at {s}: {found:?}, expected {value} and {slope}");
        }
    }

    /// Values and first derivatives of scipy.interpolate.make_smoothing_spline(x, y, w, lam), SciPy
    /// 1.17.1, with w = 12 / step².
    #[test]
    fn smoothing_agrees_with_scipy() {
        agrees(
            [0.16; 6],
            2.0e5,
            &[
                (0.0, 24.373086861689426, 0.3027182696019277),
                (11.0, 27.768972744143202, 0.3207141560108102),
                (41.0, 38.69886084441026, 0.31549603300726853),
                (66.6, 43.35770518300705, 0.07850092752043186),
                (100.0, 43.50214445726818, -0.05819560428013125),
                (165.0, 35.51905644227971, -0.15444222631303853),
            ],
        );
        agrees(
            [0.16, 0.32, 0.16, 0.5, 0.16, 0.16],
            3.0e6,
            &[
                (0.0, 25.2165860501839, 0.3432225640663177),
                (11.0, 28.9671963373927, 0.3364485865606728),
                (41.0, 37.93251609461519, 0.23805354329350703),
                (66.6, 42.232086049492224, 0.10141222525025365),
                (100.0, 43.145897580705196, -0.03788187583940492),
                (165.0, 35.842246370804034, -0.14993546757998644),
            ],
        );
    }

    /// The straight line of least squares: numpy.polyfit of NumPy beside SciPy 1.17.1 gives a slope of
    /// -0.0527397 and 43.49645889 at the rim.
    #[test]
    fn readings_of_a_cone_that_a_tape_cannot_tell_from_straight_give_a_straight_wall() {
        let at = [0.0, 30.0, 60.0, 95.0, 130.0, 170.0];
        let value = [43.5, 41.9, 40.35, 38.5, 36.6, 34.55];
        let curve = smoothest(&at, &value, &[0.16; 6]);
        let (rim, slope) = curve.eval(0, 0.0);
        assert!((rim - 43.496_458_89).abs() < 1e-6, "{rim}");
        for piece in 0..5 {
            assert!((curve.eval(piece, 0.5).1 + 0.052_739_7).abs() < 1e-6);
        }
        assert!((slope + 0.052_739_7).abs() < 1e-6);
    }

    #[test]
    fn the_curve_passes_within_half_a_step_and_through_what_is_exact() {
        let step = [0.0, 0.16, 0.16, 0.16, 0.16, 0.0];
        let curve = smoothest(&AT, &VALUE, &step);
        for (i, on) in curve.values().iter().enumerate() {
            assert!((on - VALUE[i]).abs() <= step[i] / 2.0 + 1e-9, "point {i}: {on}");
        }
        // It made use of the room it had.
        let off = curve.values().iter().zip(VALUE).map(|(on, read)| (on - read).abs());
        assert!(off.fold(0.0, f64::max) > 0.05);
    }
}
