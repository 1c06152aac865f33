//! What pieces made together really save.

use crate::Price;
use piece::Money;

/// One piece of a batch against one made alone.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Saving {
    /// Less materials.
    pub materials: Money,
    /// Less wage.
    pub labour: Money,
    /// Less overhead.
    pub overhead: Money,
    /// Less for pieces that fail.
    pub failure: Money,
    /// Less to ask: the discount that keeps profit and pay as they are.
    pub asked: Money,
    /// That as a share of what one alone is asked for, in tenths of a percent, rounded down.
    pub per_mille: i64,
}

impl Saving {
    /// The share as a number of a hundred: `4.5`.
    pub fn percent(&self) -> String {
        let minus = if self.per_mille < 0 { "-" } else { "" };
        format!("{minus}{}.{}", self.per_mille.abs() / 10, self.per_mille.abs() % 10)
    }
}

impl Price {
    /// What one piece of this batch saves against one made alone.
    pub fn saving_against(&self, alone: &Self) -> Saving {
        let asked = alone.asked - self.asked;
        Saving {
            materials: alone.materials - self.materials,
            labour: alone.labour - self.labour,
            overhead: alone.overhead - self.overhead,
            failure: alone.failure - self.failure,
            asked,
            per_mille: (i128::from(asked.0) * 1000).div_euclid(i128::from(alone.asked.0.max(1)))
                as i64,
        }
    }
}
