//! Money as whole minor units, so that sums never drift.

use std::iter::Sum;
use std::ops::{Add, AddAssign, Sub};

/// An amount in the smallest unit of the studio's currency (cents for USD).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default, Hash)]
pub struct Money(pub i64);

/// So many billionths are the whole.
pub const BILLION: u64 = 1_000_000_000;

/// A share as whole billionths, so that money is multiplied by whole numbers only: a percentage with up
/// to seven decimals is met exactly.
pub fn billionths(share: f64) -> u64 {
    (share.clamp(0.0, 1e6) * BILLION as f64).round() as u64
}

impl Money {
    /// Nothing.
    pub const ZERO: Self = Self(0);

    /// This amount times a factor, rounded half away from zero to a whole minor unit; what would be
    /// larger than an amount can be is the largest.
    #[must_use]
    pub fn times(self, factor: f64) -> Self {
        Self((self.0 as f64 * factor).round() as i64)
    }

    /// This amount times a share in [`billionths`], rounded as by [`Money::share`].
    #[must_use]
    pub fn part(self, billionths: u64) -> Self {
        self.share(billionths, BILLION)
    }

    /// This amount times a share `of` / `in_all` of whole numbers, rounded half away from zero to a
    /// whole minor unit, without a rounding in between.
    #[must_use]
    pub fn share(self, of: u64, in_all: u64) -> Self {
        let in_all = i128::from(in_all.max(1));
        let amount = i128::from(self.0) * i128::from(of);
        let (whole, rest) = (amount / in_all, amount % in_all);
        let rounded = if 2 * rest.abs() >= in_all { whole + amount.signum() } else { whole };
        Self(rounded.clamp(i128::from(i64::MIN), i128::from(i64::MAX)) as i64)
    }
}

// Sums stop at the largest amount instead of running over: a bill that comes near it is refused where
// it is made.
impl Add for Money {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0.saturating_add(other.0))
    }
}

impl AddAssign for Money {
    fn add_assign(&mut self, other: Self) {
        *self = *self + other;
    }
}

impl Sub for Money {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0.saturating_sub(other.0))
    }
}

impl Sum for Money {
    fn sum<I: Iterator<Item = Self>>(amounts: I) -> Self {
        amounts.fold(Self::ZERO, Add::add)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shares_are_rounded_once_half_away_from_zero() {
        // By hand: 18.00 an hour for 1278 min, shared by 7, is 54.771; 0.05 shared by 2 is 0.025.
        assert_eq!(Money(1800).share(1278, 60 * 7), Money(5477));
        assert_eq!(Money(5).share(1, 2), Money(3));
        assert_eq!(Money(-5).share(1, 2), Money(-3));
        assert_eq!(Money(1).share(1, 3), Money::ZERO);
    }

    #[test]
    fn shares_typed_with_decimals_are_met_exactly() {
        // By hand: 6.5 % of 11.00 is 0.715, half a cent, which goes up; 0.065 has no exact binary form.
        assert_eq!(Money(1100).part(billionths(0.065)), Money(72));
        assert_eq!(Money(-1100).part(billionths(0.065)), Money(-72));
        // 2.675 % of 20.00 is 0.535.
        assert_eq!(Money(2000).part(billionths(0.02675)), Money(54));
        assert_eq!(billionths(1.0), BILLION);
    }

    #[test]
    fn amounts_stop_at_the_largest() {
        let most = Money(i64::MAX);
        assert_eq!(most + Money(1), most);
        assert_eq!(Money(i64::MIN) - Money(1), Money(i64::MIN));
        assert_eq!(most.times(2.0), most);
        assert_eq!(most.share(u64::MAX, 1), most);
    }
}
