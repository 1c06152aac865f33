//! Chance by a generator named after its algorithm, the same on every machine.

use rand_core::{Rng, SeedableRng};
use rand_pcg::Pcg32;

/// A source of numbers.
#[derive(Debug, Clone)]
pub(crate) struct Chance(Pcg32);

impl Chance {
    /// From a seed.
    pub fn new(seed: u64) -> Self {
        Self(Pcg32::seed_from_u64(seed))
    }

    /// From 0 to below `n`, which is not 0.
    pub fn below(&mut self, n: usize) -> usize {
        ((u64::from(self.0.next_u32()) * n as u64) >> 32) as usize
    }

    /// From 0 to below 1.
    pub fn share(&mut self) -> f64 {
        f64::from(self.0.next_u32()) / 4_294_967_296.0
    }

    /// True with a probability.
    pub fn happens(&mut self, probability: f64) -> bool {
        self.share() < probability
    }
}
