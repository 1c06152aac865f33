//! Linear regression that a few odd lines cannot pull away, with what is believed before.
//!
//! Errors follow Student's t with 4 degrees of freedom, fitted by iteratively reweighted least squares
//! (Lange, Little and Taylor, Robust statistical modeling using the t distribution, JASA 84, 1989;
//! Holland and Welsch 1977 for the reweighting). Coefficients have independent normal priors, the spread
//! a scaled inverse chi-squared one (Gelman et al., Bayesian Data Analysis, 3rd ed., 2.6 and 17.2). What
//! is given is the mode, and its covariance by the expected information of the t (Lange et al., 1989).

use nalgebra::{DMatrix, DVector};
use statrs::distribution::{ContinuousCDF, StudentsT};

/// Degrees of freedom of the errors: Lange et al. (1989) hold 4 for a good choice where there are too few
/// points to estimate it.
pub const FREEDOM: f64 = 4.0;
/// Most rounds of reweighting; a few tens are usual.
const MOST_ROUNDS: usize = 2000;
/// Change of a coefficient, against its prior spread, below which the rounds end.
const STILL: f64 = 1e-11;

/// What is believed of a coefficient.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Prior {
    /// Its mean.
    pub mean: f64,
    /// Its standard deviation.
    pub sd: f64,
}

/// What is believed of the spread of the errors.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spread {
    /// Its size.
    pub sd: f64,
    /// So many lines would say as much.
    pub worth: f64,
}

/// One line: what was seen, and what it is made of.
#[derive(Debug, Clone, PartialEq)]
pub struct Seen {
    /// What was seen.
    pub y: f64,
    /// Its parts, one for each coefficient.
    pub x: Vec<f64>,
}

/// What came of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Fit {
    /// The coefficients.
    pub mean: DVector<f64>,
    /// Their covariance.
    pub covariance: DMatrix<f64>,
    /// Spread of the errors: scale of their t distribution.
    pub spread: f64,
    /// Degrees of freedom of what is said of the coefficients: lines, and what the prior is worth.
    pub freedom: f64,
}

/// Fits.
pub fn fit(seen: &[Seen], priors: &[Prior], spread: Spread) -> Fit {
    let count = priors.len();
    let x = DMatrix::from_fn(seen.len(), count, |row, column| seen[row].x[column]);
    let y = DVector::from_iterator(seen.len(), seen.iter().map(|one| one.y));
    let believed = DVector::from_iterator(count, priors.iter().map(|prior| prior.mean));
    let precision = DMatrix::from_diagonal(&DVector::from_iterator(
        count,
        priors.iter().map(|prior| 1.0 / (prior.sd * prior.sd)),
    ));
    let lines = seen.len() as f64;
    let mut mean = believed.clone();
    let mut variance = spread.sd * spread.sd;
    for _ in 0..MOST_ROUNDS {
        let off = &y - &x * &mean;
        let weights = off.map(|off| (FREEDOM + 1.0) / (FREEDOM + off * off / variance));
        let weighed = DMatrix::from_diagonal(&weights) * &x;
        let information = x.tr_mul(&weighed) / variance + &precision;
        let wanted = weighed.tr_mul(&y) / variance + &precision * &believed;
        let next = solve(&information, &wanted);
        let off = &y - &x * &next;
        let squares: f64 =
            weights.iter().zip(off.iter()).map(|(weight, off)| weight * off * off).sum();
        variance = (spread.worth * spread.sd * spread.sd + squares) / (spread.worth + lines);
        let moved = (0..count).map(|at| (next[at] - mean[at]).abs() / priors[at].sd);
        let moved = moved.fold(0.0, f64::max);
        mean = next;
        if moved < STILL {
            break;
        }
    }
    let expected = (FREEDOM + 1.0) / (FREEDOM + 3.0);
    let information = x.tr_mul(&x) * (expected / variance) + &precision;
    let covariance = information.clone().cholesky().map_or_else(
        // Priors make it positive definite; what rounding could spoil keeps what was believed.
        || DMatrix::from_diagonal(&precision.diagonal().map(|one| 1.0 / one)),
        |factor| factor.inverse(),
    );
    Fit { mean, covariance, spread: libm::sqrt(variance), freedom: lines + spread.worth }
}

fn solve(information: &DMatrix<f64>, wanted: &DVector<f64>) -> DVector<f64> {
    let zero = || DVector::zeros(wanted.len());
    information.clone().cholesky().map_or_else(zero, |factor| factor.solve(wanted))
}

impl Fit {
    /// Mean and standard deviation of a sum of coefficients, each times a factor.
    pub fn of(&self, factors: &[f64]) -> (f64, f64) {
        let factors = DVector::from_column_slice(factors);
        let variance = (&self.covariance * &factors).dot(&factors);
        (self.mean.dot(&factors), libm::sqrt(variance.max(0.0)))
    }

    /// Half the width of the 80 % interval of something with this standard deviation.
    pub fn half_width(&self, sd: f64) -> f64 {
        sd * upper_tenth(self.freedom)
    }
}

/// What Student's t exceeds one time in ten.
pub fn upper_tenth(freedom: f64) -> f64 {
    // The distribution refuses only freedoms that are not positive.
    StudentsT::new(0.0, 1.0, freedom).map_or(1.281_551_565_5, |t| t.inverse_cdf(0.9))
}
