//! The plan of a book: the best that is found before whoever asks says stop.

use crate::book::Book;
use crate::bound::bound;
use crate::decode::Compiled;
use crate::plan::{Cost, Plan};
use crate::search::{Annealer, Weights};

/// Searches that run side by side, on as many threads as there are; their number does not change with
/// the machine, so neither does the plan.
const SEARCHES: u64 = 2;
/// Placings of one task in a round, about: so that a round takes some hundredths of a second.
const PLACINGS: usize = 60_000;

/// Shares of the effort at which the searches go on from the best of them.
const EXCHANGES: [f64; 2] = [0.5, 0.8];

/// How the search goes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Progress {
    /// Rounds done.
    pub round: u32,
    /// Cost of the best plan so far.
    pub cost: Cost,
    /// What no plan can be below.
    pub bound: Cost,
    /// Tasks that have no place yet; there is no whole plan before this is 0.
    pub lost: u32,
}

/// What is asked beside the book.
#[derive(Debug, Clone, Copy, Default)]
pub struct Effort {
    /// Seed of chance.
    pub seed: u64,
}

/// Why there is no plan.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum Unsolved {
    /// Tasks, by index, that have no place before the horizon in the best plan; none of them if only
    /// gaps are too long.
    #[error("{} tasks have no place before the end of the time that is planned", .0.len())]
    NoRoom(Vec<usize>),
}

/// Plans a book. `going` is told after the first plan and after each round how it stands, and says how
/// much of the effort is behind, 0 to 1; the search ends at 1. With a share that follows from the round
/// alone, the same book gives the same plan.
///
/// # Errors
/// Tasks without a place.
pub fn solve(
    book: &Book,
    effort: &Effort,
    going: &mut dyn FnMut(&Progress) -> f64,
) -> Result<Plan, Unsolved> {
    let compiled = Compiled::new(book);
    let weights = Weights { lost: 1e9, late: 100.0, smooth: 100.0, extra: 1000.0, finish: 1.0 };
    let bound = bound(book).cost;
    let mut first = Annealer::new(&compiled, weights, effort.seed);
    let mut progress =
        Progress { round: 0, cost: first.best.0.cost, bound, lost: first.best.0.lost };
    let mut share = going(&progress);
    if share < 1.0 {
        first.try_rules();
    }
    let mut searches: Vec<Annealer> =
        (1..SEARCHES).map(|own| first.with_seed(effort.seed.wrapping_add(own))).collect();
    searches.insert(0, first);
    let changes = (PLACINGS / compiled.len().max(1)).clamp(4, 4000) as u32;
    while share < 1.0 {
        std::thread::scope(|scope| {
            for search in &mut searches {
                scope.spawn(move || search.round(changes, share));
            }
        });
        progress.round += 1;
        // Twice the searches go on together from the best of them.
        let now = going_share(&mut progress, &searches, going);
        if EXCHANGES.iter().any(|&at| share < at && now >= at) {
            let best = searches.iter().map(|search| search.best.clone()).min_by_key(|best| best.0);
            if let Some(best) = best {
                searches.iter_mut().for_each(|search| search.go_on_from(&best));
            }
        }
        share = now;
    }
    let Some(best) = searches.iter_mut().min_by_key(|search| search.best.0) else {
        return Err(Unsolved::NoRoom(Vec::new()));
    };
    let score = best.best.0;
    if score.lost > 0 {
        return Err(Unsolved::NoRoom(best.lost()));
    }
    Ok(Plan { tasks: best.plan(), cost: score.cost, bound })
}

/// Tells how the searches stand, and asks how much of the effort is behind.
fn going_share(
    progress: &mut Progress,
    searches: &[Annealer],
    going: &mut dyn FnMut(&Progress) -> f64,
) -> f64 {
    if let Some(best) = searches.iter().map(|search| search.best.0).min() {
        (progress.cost, progress.lost) = (best.cost, best.lost);
    }
    going(progress)
}
