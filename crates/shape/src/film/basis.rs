//! Polynomials on a rectangle: products of Legendre polynomials of at most one total degree.

/// Highest total degree that is used.
const MOST: usize = 7;

/// A rectangle in (around, along) and the degree of the polynomials on it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Basis {
    middle: (f64, f64),
    half: (f64, f64),
    degree: usize,
}

/// Value and both slopes of one polynomial.
#[derive(Debug, Clone, Copy)]
pub(super) struct Term {
    pub(super) value: f64,
    pub(super) by_around: f64,
    pub(super) by_along: f64,
}

impl Basis {
    /// Polynomials up to this total degree, at most 7, on a rectangle from a lower to an upper corner.
    pub(super) fn new(low: (f64, f64), high: (f64, f64), degree: usize) -> Self {
        let half = |low: f64, high: f64| (0.5 * (high - low)).max(1e-9);
        Self {
            middle: (f64::midpoint(low.0, high.0), f64::midpoint(low.1, high.1)),
            half: (half(low.0, high.0), half(low.1, high.1)),
            degree: degree.min(MOST),
        }
    }

    /// How many polynomials there are.
    pub(super) fn count(&self) -> usize {
        (self.degree + 1) * (self.degree + 2) / 2
    }

    /// All polynomials at a place, put into `terms`.
    pub(super) fn terms(&self, around: f64, along: f64, terms: &mut Vec<Term>) {
        let (across, slope_across) = legendre((around - self.middle.0) / self.half.0);
        let (down, slope_down) = legendre((along - self.middle.1) / self.half.1);
        terms.clear();
        for i in 0..=self.degree {
            for j in 0..=self.degree - i {
                terms.push(Term {
                    value: across[i] * down[j],
                    by_around: slope_across[i] / self.half.0 * down[j],
                    by_along: across[i] * slope_down[j] / self.half.1,
                });
            }
        }
    }
}

/// Legendre polynomials and their slopes: (n + 1) P(n+1) = (2n + 1) x P(n) - n P(n-1) (Bonnet), and
/// P'(n+1) - P'(n-1) = (2n + 1) P(n) (both from memory).
fn legendre(x: f64) -> ([f64; MOST + 1], [f64; MOST + 1]) {
    let (mut value, mut slope) = ([1.0; MOST + 1], [0.0; MOST + 1]);
    (value[1], slope[1]) = (x, 1.0);
    for n in 1..MOST {
        let (k, next) = (n as f64, n as f64 + 1.0);
        value[n + 1] = ((2.0 * k + 1.0) * x * value[n] - k * value[n - 1]) / next;
        slope[n + 1] = slope[n - 1] + (2.0 * k + 1.0) * value[n];
    }
    (value, slope)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_polynomials_are_those_of_the_tables() {
        // P5 is (63 x⁵ - 70 x³ + 15 x) / 8, its slope (315 x⁴ - 210 x² + 15) / 8 (any table).
        for x in [-1.0_f64, -0.3, 0.0, 0.77, 1.0] {
            let (value, slope) = legendre(x);
            let (two, four) = (x * x, x * x * x * x);
            assert!((value[5] - x * (63.0 * four - 70.0 * two + 15.0) / 8.0).abs() < 1e-14);
            assert!((slope[5] - (315.0 * four - 210.0 * two + 15.0) / 8.0).abs() < 1e-13);
        }
    }

    #[test]
    fn slopes_on_a_rectangle_are_those_of_small_steps() {
        let basis = Basis::new((-0.4, 20.0), (0.9, 75.0), 6);
        let (mut here, mut right, mut down) = (Vec::new(), Vec::new(), Vec::new());
        basis.terms(0.3, 41.0, &mut here);
        basis.terms(0.3 + 1e-6, 41.0, &mut right);
        basis.terms(0.3, 41.0 + 1e-5, &mut down);
        assert_eq!(here.len(), basis.count());
        for ((here, right), down) in here.iter().zip(&right).zip(&down) {
            assert!(((right.value - here.value) / 1e-6 - here.by_around).abs() < 1e-3);
            assert!(((down.value - here.value) / 1e-5 - here.by_along).abs() < 1e-4);
        }
    }
}
