//! How durations vary.

use crate::book::Slot;
use rand_core::{Rng, SeedableRng};
use rand_pcg::Pcg64;

/// How durations vary about what the book says: each is that times a factor from a lognormal
/// distribution with mean 1 and the coefficient of variation given here, standard deviation by mean.
#[derive(Debug, Clone, PartialEq)]
pub struct Spread {
    /// Of the work of each task, one factor a task.
    pub tasks: Vec<f64>,
    /// Of the gaps after pours, tasks with a mix: one factor for all, as warmth acts on all.
    pub warmth: f64,
    /// Of the pace of each person, one factor for all that she does.
    pub pace: f64,
    /// How many slots past her hours someone stays rather than put off what is done in one go.
    pub stays: Slot,
    /// No task begins before its time in the plan; without it, each as soon as the order allows.
    pub keeps_times: bool,
}

/// A source of factors.
pub(super) struct Factors(Pcg64);

impl Factors {
    pub fn new(seed: u64) -> Self {
        Self(Pcg64::seed_from_u64(seed))
    }

    /// From 0, not included, to 1: 53 bits.
    fn share(&mut self) -> f64 {
        ((self.0.next_u64() >> 11) as f64 + 1.0) / 9_007_199_254_740_992.0
    }

    /// From the normal distribution with mean 0 and deviation 1 (Box and Muller 1958).
    fn normal(&mut self) -> f64 {
        let radius = (-2.0 * libm::log(self.share())).sqrt();
        radius * libm::cos(std::f64::consts::TAU * self.share())
    }

    /// From the lognormal distribution with mean 1 and this coefficient of variation. The logarithm has
    /// the variance ln(1 + cv²) and the mean of minus half of it.
    pub fn factor(&mut self, variation: f64) -> f64 {
        let normal = self.normal();
        if variation <= 0.0 {
            return 1.0;
        }
        let variance = libm::log1p(variation * variation);
        libm::exp(variance.sqrt() * normal - variance / 2.0)
    }
}
