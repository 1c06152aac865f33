//! What a layout is worth, and the shares of sizes that it is to keep.

use crate::pack::board::{Board, Disc};

/// Points of the total by which a size may miss its share without loss of worth.
const SLACK: f64 = 0.003;

/// Worth of so many stones of each size: the squares of their radii summed, less what the blend is
/// off.
pub fn worth(board: &Board<'_>, shares: &[f64], counts: &[f64]) -> f64 {
    let total: f64 = counts.iter().sum();
    let square = |size: usize| board.square_mm2(size);
    let area: f64 = counts.iter().enumerate().map(|(size, count)| count * square(size)).sum();
    if board.free || board.grade.is_some() {
        return area;
    }
    let slack = SLACK * total + 1.0;
    let mean = area / total.max(1.0);
    let off = |size: usize| {
        // A point of the area is fewer stones of a large size.
        let slack = if board.by_area { slack * (mean / square(size)).min(1.0) } else { slack };
        ((shares[size] * total - counts[size]).abs() - slack).max(0.0) * square(size)
    };
    area - (0..counts.len()).map(off).sum::<f64>()
}

/// Square of a radius where sizes have these shares by count, on average, mm².
pub fn mean_square_mm2(board: &Board<'_>, shares: &[f64]) -> f64 {
    shares.iter().enumerate().map(|(size, share)| share * board.square_mm2(size)).sum()
}

/// Worth of these stones.
pub fn worth_of(board: &Board<'_>, shares: &[f64], laid: &[Disc]) -> f64 {
    worth(board, shares, &counts(board, laid.iter().map(|disc| disc.size)))
}

/// How many of each size.
pub fn counts(board: &Board<'_>, sizes: impl Iterator<Item = usize>) -> Vec<f64> {
    let mut counts = vec![0.0; board.radii_mm.len()];
    for size in sizes {
        counts[size] += 1.0;
    }
    counts
}

/// How many stones of each size are missing for the blend; negative where there are too many.
pub(super) fn lack(shares: &[f64], sizes: &[usize]) -> Vec<f64> {
    let mut lack: Vec<f64> = shares.iter().map(|share| share * sizes.len() as f64).collect();
    for size in sizes {
        lack[*size] -= 1.0;
    }
    lack
}

/// The shares to keep: those of the order, or those of the draft if that met less than half of one,
/// since the ground then has no room for them.
pub fn reachable_shares(board: &Board<'_>, laid: &[Disc]) -> Vec<f64> {
    let counts = counts(board, laid.iter().map(|disc| disc.size));
    let total = laid.len() as f64;
    let missed = |(count, share): (&f64, &f64)| *count < 0.5 * share * total - 2.0;
    if board.free || counts.iter().zip(&board.shares).any(missed) {
        counts.into_iter().map(|count| count / total).collect()
    } else {
        board.shares.clone()
    }
}
