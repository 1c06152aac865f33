//! Chance for motifs: the same numbers from the same seed on every machine.

use piece::chance::unit_of;
use piece::fnv::{EMPTY, fnv1a_64};
use rand_core::Rng as _;
use rand_pcg::Pcg64;

/// A row of chances.
pub(super) struct Chance(Pcg64);

impl Chance {
    /// From a seed, another row for every kind of motif.
    pub(super) fn new(seed: u64, kind: &str) -> Self {
        Self(Pcg64::new(u128::from(seed), u128::from(fnv1a_64(EMPTY, kind.as_bytes()))))
    }

    /// From 0 to below 1.
    pub(super) fn unit(&mut self) -> f64 {
        unit_of(self.0.next_u64())
    }

    /// Evenly spread from the first to the second, in chance order: one in each of `count` equal
    /// steps, so that short and long ones mingle and none is lacking.
    pub(super) fn spread(&mut self, (least, most): (f64, f64), count: usize) -> Vec<f64> {
        let mut values: Vec<f64> = (0..count)
            .map(|step| least + (most - least) * (step as f64 + self.unit()) / count as f64)
            .collect();
        // Fisher and Yates.
        for last in (1..count).rev() {
            let other = ((last + 1) as f64 * self.unit()) as usize;
            values.swap(last, other.min(last));
        }
        values
    }
}
