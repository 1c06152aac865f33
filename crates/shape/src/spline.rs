//! The cubic spline that a smooth stretch of wall follows.

/// A cubic spline r(s) through points with growing s. Both ends are "not-a-knot": the first two and
/// the last two pieces are one cubic each (C. de Boor, A Practical Guide to Splines, chapter IV).
/// Three points give the parabola through them, two the straight line.
#[derive(Debug, Clone)]
pub(crate) struct Spline {
    at: Vec<f64>,
    value: Vec<f64>,
    slope: Vec<f64>,
}

impl Spline {
    /// Fits the spline. `at` grows strictly, has two points or more, and as many as `value`.
    pub(crate) fn new(at: Vec<f64>, value: Vec<f64>) -> Self {
        let step: Vec<f64> = at.windows(2).map(|w| w[1] - w[0]).collect();
        let chord: Vec<f64> =
            value.windows(2).zip(&step).map(|(w, step)| (w[1] - w[0]) / step).collect();
        let slope = match at.len() {
            2 => vec![chord[0]; 2],
            3 => parabola_slopes(&step, &chord),
            _ => not_a_knot_slopes(&step, &chord),
        };
        Self { at, value, slope }
    }

    /// The curve of these values and slopes (cubic Hermite form).
    pub(crate) fn hermite(at: Vec<f64>, value: Vec<f64>, slope: Vec<f64>) -> Self {
        Self { at, value, slope }
    }

    /// Values at the points.
    pub(crate) fn values(&self) -> &[f64] {
        &self.value
    }

    /// Value and first derivative at fraction `u` (0 to 1) of piece `i`.
    pub(crate) fn eval(&self, i: usize, u: f64) -> (f64, f64) {
        let step = self.at[i + 1] - self.at[i];
        let (c0, c1, c2, c3) = self.coefficients(i);
        let s = u * step;
        (c0 + s * (c1 + s * (c2 + s * c3)), c1 + s * (2.0 * c2 + s * 3.0 * c3))
    }

    /// Least and greatest first derivative on piece `i`.
    pub(crate) fn slope_range(&self, i: usize) -> (f64, f64) {
        let step = self.at[i + 1] - self.at[i];
        let (_, _, c2, c3) = self.coefficients(i);
        let (mut low, mut high) =
            (self.slope[i].min(self.slope[i + 1]), self.slope[i].max(self.slope[i + 1]));
        if c3 != 0.0 {
            let u = -c2 / (3.0 * c3) / step;
            if u > 0.0 && u < 1.0 {
                let turning = self.eval(i, u).1;
                low = low.min(turning);
                high = high.max(turning);
            }
        }
        (low, high)
    }

    /// Powers of (s - start of piece `i`), lowest first (cubic Hermite form).
    fn coefficients(&self, i: usize) -> (f64, f64, f64, f64) {
        let step = self.at[i + 1] - self.at[i];
        let chord = (self.value[i + 1] - self.value[i]) / step;
        let (m0, m1) = (self.slope[i], self.slope[i + 1]);
        let c2 = (3.0 * chord - 2.0 * m0 - m1) / step;
        let c3 = (m0 + m1 - 2.0 * chord) / (step * step);
        (self.value[i], m0, c2, c3)
    }
}

fn parabola_slopes(step: &[f64], chord: &[f64]) -> Vec<f64> {
    let bend = (chord[1] - chord[0]) / (step[0] + step[1]);
    vec![chord[0] - bend * step[0], chord[0] + bend * step[0], chord[1] + bend * step[1]]
}

/// Slopes at the points from continuity of the second derivative, and of the third at the second
/// and last but one point: a tridiagonal system, solved by elimination (Thomas).
fn not_a_knot_slopes(step: &[f64], chord: &[f64]) -> Vec<f64> {
    let n = step.len() + 1;
    let (mut below, mut diagonal, mut above, mut right) =
        (vec![0.0; n], vec![0.0; n], vec![0.0; n], vec![0.0; n]);
    let reach = step[0] + step[1];
    diagonal[0] = step[1];
    above[0] = reach;
    right[0] =
        ((step[0] + 2.0 * reach) * step[1] * chord[0] + step[0] * step[0] * chord[1]) / reach;
    for i in 1..n - 1 {
        below[i] = step[i];
        diagonal[i] = 2.0 * (step[i - 1] + step[i]);
        above[i] = step[i - 1];
        right[i] = 3.0 * (step[i] * chord[i - 1] + step[i - 1] * chord[i]);
    }
    let (last, before) = (step[n - 2], step[n - 3]);
    let reach = last + before;
    below[n - 1] = reach;
    diagonal[n - 1] = before;
    right[n - 1] =
        (last * last * chord[n - 3] + (2.0 * reach + last) * before * chord[n - 2]) / reach;

    for i in 1..n {
        let factor = below[i] / diagonal[i - 1];
        diagonal[i] -= factor * above[i - 1];
        right[i] -= factor * right[i - 1];
    }
    let mut slope = right;
    slope[n - 1] /= diagonal[n - 1];
    for i in (0..n - 1).rev() {
        slope[i] = (slope[i] - above[i] * slope[i + 1]) / diagonal[i];
    }
    slope
}

#[cfg(test)]
mod tests {
    use super::*;

    const AT: [f64; 6] = [0.0, 22.0, 41.0, 70.0, 118.0, 165.0];
    const VALUE: [f64; 6] = [24.5, 31.0, 39.25, 43.5, 42.0, 35.5];

    fn agrees(points: usize, expected: &[(f64, f64, f64)]) {
        let spline = Spline::new(AT[..points].to_vec(), VALUE[..points].to_vec());
        for (s, value, slope) in expected {
            let i = AT[..points].partition_point(|at| at <= s).clamp(1, points - 1) - 1;
            let found = spline.eval(i, (s - AT[i]) / (AT[i + 1] - AT[i]));
            let off = (found.0 - value).abs().max((found.1 - slope).abs());
            assert!(off < 1e-12, "at {s}: {found:?}, expected {value} and {slope}");
        }
    }

    /// Values and first derivatives of scipy.interpolate.CubicSpline(x, y) with its default ends,
    /// SciPy 1.17.1.
    #[test]
    fn splines_agree_with_scipy() {
        agrees(
            6,
            &[
                (3.0, 24.742288674670124, 0.1265344765241102),
                (11.0, 26.58438420209395, 0.320658426779698),
                (30.5, 34.95575061200827, 0.45873849700009695),
                (41.0, 39.25, 0.336249073857808),
                (66.6, 43.37344111171147, 0.044023212081721524),
                (100.0, 43.23726609696806, -0.047264547603936495),
                (118.0, 42.0, -0.08959761590083754),
                (150.25, 38.00381936522513, -0.15626346751977319),
                (165.0, 35.5, -0.18282661452623294),
            ],
        );
        agrees(
            4,
            &[
                (0.0, 24.5, 0.10016840379678402),
                (10.0, 26.55010004271325, 0.2964556277056277),
                (60.0, 44.14032172621323, 0.07225381362842084),
            ],
        );
        agrees(
            3,
            &[
                (0.0, 24.5, 0.2210001166997322),
                (10.0, 27.048430388610107, 0.28868596102228955),
                (35.0, 36.38076204924729, 0.4579005718286848),
            ],
        );
    }

    #[test]
    fn the_steepest_place_between_points_is_found() {
        let spline = Spline::new(AT.to_vec(), VALUE.to_vec());
        let (low, high) = spline.slope_range(1);
        let walk = (0..=1000).map(|k| spline.eval(1, f64::from(k) / 1000.0).1);
        let steepest = walk.fold(f64::NEG_INFINITY, f64::max);
        assert!(steepest <= high && high - steepest < 1e-6);
        assert!(low < high);
    }
}
