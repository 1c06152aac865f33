//! One item alone: the packs that cover an amount for least.
//!
//! What an item costs from given sellers is a knapsack, which dynamic programming solves exactly; these
//! costs make the integer program tight, and their packs give it an order to begin from.

/// A kind of pack of one item.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Pack {
    /// What it costs less its worth, minor units.
    pub cost: i64,
    /// How much is in it.
    pub amount: u64,
    /// Most of them.
    pub most: u64,
}

/// Most steps in which an amount is counted; larger amounts are rounded to so many.
const STEPS: u64 = 3000;

/// How an amount is rounded to steps.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Rounded {
    /// Packs up and need down: what comes out is not above the true least.
    Low,
    /// Packs down and need up: the packs that come out cover the need.
    Safe,
}

/// What each amount up to a need costs at least.
#[derive(Debug, Clone)]
pub(crate) struct Costs {
    least: Vec<i64>,
    grid: u64,
    /// Whether amounts are rounded down to the grid rather than up.
    down: bool,
    /// Whether nothing had to be rounded.
    pub exact: bool,
}

impl Costs {
    /// What an amount, no more than the need, costs at least; `None` if it is not to be had.
    pub fn of(&self, amount: u64) -> Option<i64> {
        let steps = if self.down { amount / self.grid } else { amount.div_ceil(self.grid) };
        let cost = *self.least.get(steps as usize)?;
        (cost < i64::MAX).then_some(cost)
    }
}

/// The least cost that covers a need with these packs, how many of each, and what less would cost; `None`
/// if they do not cover it. Exact if the need is counted in no more than 3000 steps of the packs' common
/// measure.
pub(crate) fn cover(packs: &[Pack], need: u64, rounded: Rounded) -> Option<(i64, Vec<u64>, Costs)> {
    let unit = packs.iter().fold(0, |unit, pack| gcd(unit, pack.amount)).max(1);
    let exact = need.div_ceil(unit) <= STEPS;
    let grid = if exact { unit } else { need.div_ceil(STEPS) };
    let size = |amount: u64| match rounded {
        Rounded::Safe => amount / grid,
        Rounded::Low => amount.div_ceil(grid),
    };
    let steps = match rounded {
        Rounded::Low if !exact => need / grid,
        _ => need.div_ceil(grid),
    } as usize;
    // Stages: all packs of a kind that can be had without end, or 1, 2, 4 … of one that cannot.
    let mut stages: Vec<(usize, u64, bool)> = Vec::new();
    for (index, pack) in packs.iter().enumerate() {
        let enough = need.div_ceil(pack.amount);
        if pack.most >= enough {
            stages.push((index, 1, true));
            continue;
        }
        let (mut left, mut chunk) = (pack.most, 1);
        while left > 0 {
            let now = left.min(chunk);
            stages.push((index, now, false));
            (left, chunk) = (left - now, 2 * chunk);
        }
    }
    let mut least = vec![i64::MAX; steps + 1];
    least[0] = 0;
    let mut taken = vec![vec![0_u32; steps + 1]; stages.len()];
    for (stage, (index, many, endless)) in stages.iter().enumerate() {
        let reach = (size(packs[*index].amount) * many) as usize;
        let cost = packs[*index].cost * *many as i64;
        if reach == 0 {
            continue;
        }
        let taken = &mut taken[stage];
        let mut improve = |at: usize, count: &mut dyn FnMut(&mut Vec<u32>, usize)| {
            let before = least[at.saturating_sub(reach)];
            if before < i64::MAX && before + cost < least[at] {
                least[at] = before + cost;
                count(taken, at.saturating_sub(reach));
            }
        };
        if *endless {
            for at in 1..=steps {
                improve(at, &mut |taken, from| taken[at] = taken[from] + 1);
            }
        } else {
            for at in (1..=steps).rev() {
                improve(at, &mut |taken, _| taken[at] = 1);
            }
        }
    }
    let cost = least[steps];
    (cost < i64::MAX).then(|| {
        let mut counts = vec![0; packs.len()];
        let mut at = steps;
        for (stage, (index, many, _)) in stages.iter().enumerate().rev() {
            let times = u64::from(taken[stage][at]);
            counts[*index] += times * many;
            at = at.saturating_sub((times * many * size(packs[*index].amount)) as usize);
        }
        let down = rounded == Rounded::Low && !exact;
        (cost, counts, Costs { least, grid, down, exact })
    })
}

pub(crate) fn gcd(a: u64, b: u64) -> u64 {
    if b == 0 { a } else { gcd(b, a % b) }
}

#[cfg(test)]
mod tests {
    use super::*;

    const ENDLESS: u64 = u64::MAX;

    fn covered(packs: &[Pack], need: u64, rounded: Rounded) -> Option<(i64, Vec<u64>)> {
        cover(packs, need, rounded).map(|(cost, counts, _)| (cost, counts))
    }

    #[test]
    fn a_need_is_covered_for_least() {
        // By hand: 300 from 144 at 220 and 1440 at 1600.
        let packs = [
            Pack { cost: 220, amount: 144, most: ENDLESS },
            Pack { cost: 1600, amount: 1440, most: ENDLESS },
        ];
        assert_eq!(covered(&packs, 300, Rounded::Safe), Some((660, vec![3, 0])));
        assert_eq!(covered(&packs, 1300, Rounded::Safe), Some((1600, vec![0, 1])));
        let few = [Pack { most: 2, ..packs[0] }, packs[1]];
        assert_eq!(covered(&few, 300, Rounded::Safe), Some((1600, vec![0, 1])));
        assert_eq!(covered(&few[..1], 300, Rounded::Safe), None);
        assert_eq!(covered(&few[..1], 288, Rounded::Safe), Some((440, vec![2])));
    }

    #[test]
    fn amounts_without_a_common_measure_are_held_between_two_bounds() {
        let packs = [
            Pack { cost: 4600, amount: 94_635, most: ENDLESS },
            Pack { cost: 1700, amount: 23_659, most: 3 },
        ];
        let (low, _) = covered(&packs, 231_007, Rounded::Low).expect("a bound");
        let (safe, counts) = covered(&packs, 231_007, Rounded::Safe).expect("packs");
        // By hand: two large hold 189,270, two small 47,318 more: 236,588; three large 283,905.
        assert_eq!((low, safe, counts), (12_600, 12_600, vec![2, 2]));
    }

    proptest::proptest! {
        #[test]
        fn no_packs_cost_less(
            told in proptest::collection::vec((1..60_i64, 1..9_u64, 0..5_u64), 1..4),
            need in 1..25_u64,
        ) {
            let packs: Vec<Pack> =
                told.iter().map(|(cost, amount, most)| Pack { cost: *cost, amount: *amount, most: *most }).collect();
            // Every count up to 4 of each.
            let all = (0..5_u64.pow(packs.len() as u32)).map(|mut number| {
                packs.iter().map(|_| { let count = number % 5; number /= 5; count }).collect::<Vec<u64>>()
            });
            let fits = all.filter(|counts| {
                let amount: u64 = counts.iter().zip(&packs).map(|(count, pack)| count * pack.amount).sum();
                amount >= need && counts.iter().zip(&packs).all(|(count, pack)| *count <= pack.most)
            });
            let least = fits.map(|counts| counts.iter().zip(&packs).map(|(count, pack)| *count as i64 * pack.cost).sum::<i64>()).min();
            proptest::prop_assert_eq!(covered(&packs, need, Rounded::Safe).map(|(cost, _)| cost), least);
        }
    }
}
