//! Dice that fall alike on every machine.

use rand_core::Rng;
use rand_pcg::Pcg64;

/// A row of throws.
pub struct Dice(Pcg64);

impl Dice {
    /// The row of this seed.
    pub fn new(seed: u64) -> Self {
        Self(Pcg64::new(u128::from(seed), 0x5a17_3a25))
    }

    /// One of the whole numbers from `least` to `most`, both included.
    pub fn between(&mut self, least: i32, most: i32) -> i32 {
        let count = u64::try_from(most - least + 1).expect("least is not above most");
        least + i32::try_from(self.0.next_u64() % count).expect("below the count")
    }

    /// Whether something comes true that does so in `percent` of cases.
    pub fn comes_true(&mut self, percent: i32) -> bool {
        self.between(1, 100) <= percent
    }
}
