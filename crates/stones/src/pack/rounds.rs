//! The rounds that press a draft closer, and how many there are.

use crate::pack::anew::Anew;
use crate::pack::board::{Board, Disc};
use crate::pack::squeeze::{Squeeze, reachable_shares};
use crate::pack::windows::Windows;
use crate::quality::WIDE_HOLE_MM;

/// Most rounds where none are asked for.
const MOST_ROUNDS: u32 = 15;

/// With free choice, most rounds that are squeezed alone, and squeezes after stones were laid anew.
const SQUEEZED_ALONE: u32 = 4;
const SQUEEZED_AFTER: u32 = 2;

/// Rounds for about this many stones where none are asked for: a small ground gains most by each, and
/// takes least time; so does free choice.
pub fn rounds(board: &Board<'_>, stones: usize) -> u32 {
    let least = if board.free { 7 } else { 6 };
    (least + (1200 / stones.max(1)).min(8) as u32).min(MOST_ROUNDS)
}

/// Shows a layout, while it is going.
pub type ShowDiscs<'a> = dyn FnMut(&[Disc], &mut dyn FnMut() -> bool) + 'a;

/// A layout pressed closer in so many rounds; whatever is better than before is shown. `progress`
/// stops it by returning false.
pub fn squeezed(
    board: &Board<'_>,
    laid: Vec<Disc>,
    seed: [u64; 2],
    rounds: u32,
    progress: &mut dyn FnMut(f64) -> bool,
    show: &mut ShowDiscs<'_>,
) -> Vec<Disc> {
    if rounds == 0 {
        return laid;
    }
    let shares = reachable_shares(board, &laid);
    let mut squeeze = Squeeze::new(board, laid, shares.clone(), seed, &mut || progress(0.0));
    let mut best = (squeeze.best_worth(), squeeze.best().to_vec());
    let mut going = true;
    // With free choice only the first rounds are squeezed alone.
    let anew = board.free && board.grade.is_none();
    let alone = if anew { SQUEEZED_ALONE.min(rounds.div_ceil(3)) } else { rounds };
    for round in 0..rounds {
        let mut tell = || {
            going = going && progress(f64::from(round) / f64::from(rounds));
            going
        };
        let dice = [seed[0], seed[1].wrapping_add(u64::from(round))];
        if round >= alone {
            let behind = f64::from(round - alone) / f64::from(rounds - alone);
            // Goes on from a layout that may be worse than the best so far.
            let mut anew = Anew::new(board, squeeze.best().to_vec(), seed, round);
            anew.round(1.0 - behind, &mut tell);
            if !tell() {
                return Vec::new();
            }
            squeeze = Squeeze::new(board, anew.ours(), shares.clone(), dice, &mut tell);
            for _ in 0..SQUEEZED_AFTER {
                squeeze.round(&mut tell);
            }
        } else if squeeze.is_stuck() {
            // Denser place by place, then all together again with other dice.
            let mut windows = Windows::new(board, squeeze.best().to_vec(), &shares, dice);
            windows.round(&mut tell);
            if !tell() {
                return Vec::new();
            }
            squeeze = Squeeze::new(board, windows.ours(), shares.clone(), dice, &mut tell);
        } else {
            squeeze.round(&mut tell);
        }
        if !tell() {
            return Vec::new();
        }
        if squeeze.best_worth() > best.0 {
            best = (squeeze.best_worth(), squeeze.best().to_vec());
            show(&best.1, &mut tell);
        }
    }
    let mut windows = Windows::new(board, best.1, &shares, seed);
    windows.close(WIDE_HOLE_MM, &mut || progress(1.0));
    windows.ours()
}
