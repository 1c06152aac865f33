//! Two rules of thumb of the trade, and where they lose money.
//!
//! One averages materials and wage with three times the materials, the other takes half of four times
//! the materials and the wage. Both are twice the materials and half the wage: each hour is paid by half.

use crate::level::{Level, Made};
use crate::selling::Selling;
use piece::Money;

/// Longest time that is tried for the one from which a rule loses money, min: ten thousand hours.
const LONGEST_MIN: u64 = 600_000;

/// What one rule would ask.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Rule {
    /// Which.
    pub kind: RuleKind,
    /// The price, and what it leaves.
    pub level: Level,
    /// With these materials and fees, the hands-on time of one piece, in whole minutes, from which it
    /// does not pay the wage in full; `None` if it always does.
    pub loses_from_min: Option<u64>,
}

/// Rules of thumb that are seen in the trade.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RuleKind {
    /// The average of materials and wage with three times the materials.
    Average,
    /// Half of four times the materials and the wage.
    HalfOfFourfold,
}

impl RuleKind {
    fn asks(self, made: &Made) -> Money {
        let (materials, labour) = (made.materials, made.labour());
        match self {
            Self::Average => (materials + labour + materials.share(3, 1)).share(1, 2),
            Self::HalfOfFourfold => (materials.share(4, 1) + labour).share(1, 2),
        }
    }
}

pub(crate) fn rules(made: &Made, selling: &Selling) -> [Rule; 2] {
    [RuleKind::Average, RuleKind::HalfOfFourfold].map(|kind| {
        let level = |made: &Made| Level::at(kind.asks(made), made, selling);
        let loses = |min: u64| {
            let of_all = Made { minutes: min * made.pieces, ..*made };
            level(&of_all).margin < Money::ZERO
        };
        Rule { kind, level: level(made), loses_from_min: first(loses) }
    })
}

/// The first number for which it holds, if it holds from some number on.
fn first(holds: impl Fn(u64) -> bool) -> Option<u64> {
    if !holds(LONGEST_MIN) {
        return None;
    }
    let (mut low, mut high) = (0, LONGEST_MIN);
    while low < high {
        let middle = low.midpoint(high);
        if holds(middle) { high = middle } else { low = middle + 1 }
    }
    Some(low)
}
