//! Plain books, solved exactly: the best plan with a proof, or why there is none.
//!
//! A book is plain if no task has sittings, a mix or a choice of hands or is optional, and no link
//! has a relief.
//! `conflict.rs` says what can be wrong with any book, before any search. `plain.rs` turns a plain
//! book into figures, `improve.rs` finds a good plan, `model.rs` puts the book to the constraint
//! solver and `least.rs` asks it for the best. Read first: `plain.rs`.

mod blame;
mod conflict;
mod decode;
mod floor;
mod improve;
mod lags;
mod least;
mod model;
mod needs;
mod orders;
mod plain;
mod reach;
mod room;
mod solve;

pub use conflict::{Conflict, CycleStep, Reason, conflicts};

use crate::book::{Book, Slot};
use crate::plan::{Cost, Plan};
use decode::Decoder;
use improve::Improve;
use model::Bounds;
use plain::Plain;
use solve::{Asking, Found};

/// What is told while there is no plan yet.
pub const NO_PLAN: Cost =
    Cost { late: u64::MAX, extras: u32::MAX, finishes: u64::MAX, moved: u32::MAX };

/// Rounds of search and proof: orders tried before the solver begins, and decisions that it may
/// take. Small books are done in the first; large ones need a good plan to begin with.
const ROUNDS: [(usize, Option<u64>); 2] = [(1_000, Some(3_000)), (20_000, None)];

/// What is known about the best plan of a book.
#[derive(Debug, Clone, PartialEq)]
pub struct Exact {
    /// The best plan found; nothing if the search was stopped before there was one.
    pub plan: Option<Plan>,
    /// No plan is better than this one.
    pub proven: bool,
    /// No plan costs less than this.
    pub bound: Cost,
}

/// The best plan of a plain book: least late, then done soonest.
///
/// `start` is a plan to begin with, if one is known; it need not keep to the book. `going` is asked
/// every hundred steps or so whether to go on, with the cost of the best plan so far, [`NO_PLAN`] at
/// first; whatever stops it, the same answers give the same result. A task's end is that of its work,
/// so a machine may still be in use after the horizon.
///
/// # Errors
/// Why there is no plan, or what makes the book not plain.
///
/// # Panics
/// If an index of the book points at nothing.
pub fn exact(
    book: &Book,
    start: Option<&Plan>,
    going: &mut dyn FnMut(&Cost) -> bool,
) -> Result<Exact, Conflict> {
    let plain = Plain::new(book)?;
    if let Some(conflict) = conflicts(book).into_iter().next() {
        return Err(conflict);
    }
    let Some((early, late)) = lags::windows(&plain) else {
        return Err(blame::blame(&plain, &mut Asking::new(going, NO_PLAN)));
    };
    let Some(end) = floor::least_end(&plain, &early, &late) else {
        return Err(blame::blame(&plain, &mut Asking::new(going, NO_PLAN)));
    };
    let mut bound = match book.jobs.as_slice() {
        [_] => plain.cost_of_ends(&[end]),
        _ => plain.cost(&early),
    };
    let window = Bounds { ends: plain.ends(&late), early, late };
    let mut asking = Asking::new(going, NO_PLAN);
    let start = start.and_then(|plan| begins_of(plan, &plain));
    let mut best = start.clone().filter(|begins| plain.holds(begins));
    let decoder = Decoder::new(&plain, window.early.clone(), window.late.clone());
    let mut improve = Improve::new(&plain, decoder);
    for (moves, decisions) in ROUNDS {
        // Each round begins anew: next to a good plan the search would hardly move.
        let tried = improve.search(start.as_deref(), bound, moves, &mut asking);
        best = best.into_iter().chain(tried).min_by_key(|begins| plain.cost(begins));
        asking.for_decisions(decisions);
        if best.is_none() {
            match solve::any(&plain, &plain.arcs, &window, &mut asking) {
                Found::Nothing => {
                    asking.for_decisions(None);
                    return Err(blame::blame(&plain, &mut asking));
                }
                Found::Begins(begins) => best = Some(begins),
                Found::Stopped => continue,
            }
        }
        let known = best.take().expect("there is a plan");
        asking.best = plain.cost(&known);
        let least = least::best(&plain, &window, known, bound, &mut asking);
        bound = least.bound;
        let proved = plain.cost(&least.begins) <= bound;
        best = Some(least.begins);
        if proved {
            break;
        }
    }
    let plan = best.map(|begins| plain.plan(&begins, bound));
    let proven = plan.as_ref().is_some_and(|plan| plan.cost <= bound);
    Ok(Exact { plan, proven, bound })
}

fn begins_of(plan: &Plan, plain: &Plain) -> Option<Vec<Slot>> {
    let begins = plan.tasks.iter().map(|placed| placed.as_ref().map(|placed| placed.begins()));
    let begins: Vec<Slot> = begins.collect::<Option<_>>()?;
    (begins.len() == plain.items.len()).then_some(begins)
}
