//! What a customer is asked to pay, and when.

use piece::Money;

/// Deposits are told to a hundredth of a per cent.
const PARTS: f64 = 10_000.0;

/// A price for a customer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Terms {
    /// For one piece.
    pub each: Money,
    /// For all of them.
    pub all: Money,
    /// Of that, before work begins: rounded once, half up.
    pub deposit: Money,
    /// Of that, when it is done.
    pub rest: Money,
}

impl Terms {
    /// The price of so many pieces at so much each, of which a share (0 to 1) is paid before work begins.
    pub fn of(each: Money, pieces: u32, deposit: f64) -> Self {
        let all = each.share(u64::from(pieces), 1);
        let parts = (deposit.clamp(0.0, 1.0) * PARTS).round() as u64;
        let deposit = all.share(parts, PARTS as u64);
        Self { each, all, deposit, rest: all - deposit }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_deposit_is_rounded_once_half_up_and_the_rest_makes_it_whole() {
        // By hand: 3 times 189.55 is 568.65; half of it 284.325; a third (33.33 %) 189.531045.
        let terms = |share| Terms::of(Money(18_955), 3, share);
        let half = Terms {
            each: Money(18_955),
            all: Money(56_865),
            deposit: Money(28_433),
            rest: Money(28_432),
        };
        assert_eq!(terms(0.5), half);
        assert_eq!(terms(0.3333).deposit, Money(18_953));
        assert_eq!((terms(0.0).deposit, terms(1.0).rest), (Money::ZERO, Money::ZERO));
        // Without floating point: 10 % of an amount that no f64 holds exactly.
        let large = Terms::of(Money(90_071_992_547_409_935), 1, 0.1);
        assert_eq!(large.deposit, Money(9_007_199_254_740_994));
    }
}
