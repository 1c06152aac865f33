//! From a book to the order that costs least.

use crate::choice::{Choices, choices};
use crate::model::{Nothing, Program};
use crate::prune::useful;
use crate::start::start;
use crate::{Book, Order, Unmet, faults, reckon, unmet};
use thiserror::Error;

/// Branches that are tried for a better order to begin from: counted, not timed, so that every run takes
/// the same way.
const IMPROVING: i32 = 50;

/// Why there is no order.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum Refusal {
    /// The book makes no sense.
    #[error("the book makes no sense: {0}")]
    Broken(String),
    /// Wants that cannot be met, each for a reason of its own.
    #[error("{} of the wants cannot be met", .0.len())]
    Unmet(Vec<Unmet>),
    /// Each want could be met alone, but not all together.
    #[error("each want can be met, but not all of them together")]
    Together,
    /// No order was found in the time.
    #[error("no order was found in the time that was given")]
    Time,
    /// A fault of the solver.
    #[error("the solver failed: {0}")]
    Solver(String),
}

/// The order that makes money spent less the worth of what is bought least; of several the one with the
/// fewest parcels, then from the sellers that stand first.
///
/// The solver gets so many `seconds`; if they run out, the best order so far is given with the bound
/// that was reached, and is not called proven. The same book gives the same order if it is proven.
///
/// # Errors
/// Wants that cannot be met and why; a book that makes no sense; no order in the time.
pub fn solve(book: &Book, seconds: f64) -> Result<Order, Refusal> {
    book.check().map_err(Refusal::Broken)?;
    let unmet = unmet(book);
    if !unmet.is_empty() {
        return Err(Refusal::Unmet(unmet));
    }
    if book.wants.is_empty() {
        let nothing = reckon(book, vec![0; book.offers.len()], Vec::new());
        return Ok(Order { bound: 0, proven: true, ..nothing });
    }
    let choices = choices(book);
    let begin = start(book, &choices);
    let begin = begin.map(|order| improved(book, &choices, order, seconds));
    let useful = match &begin {
        Some(order) => useful(book, &choices, order.net()),
        None => vec![true; book.offers.len()],
    };
    let program = Program::new(book, &choices, &useful);
    let found =
        program.solve(book, begin.as_ref(), (seconds, i32::MAX)).map_err(
            |nothing| match nothing {
                Nothing::Infeasible => Refusal::Together,
                Nothing::Time => Refusal::Time,
                Nothing::Solver(what) => Refusal::Solver(what),
            },
        )?;
    let mut from = found.from;
    from.resize(book.wants.len(), None);
    let order = reckon(book, found.packs, from);
    if let Some(fault) = faults(book, &order).first() {
        return Err(Refusal::Solver(format!("its order does not hold: {fault}")));
    }
    // If the time ran out, it may have found nothing better than what it began from.
    let order = match begin {
        Some(begin) if begin.net() < order.net() => begin,
        _ => order,
    };
    // No order is below one that was reckoned, whatever rounding the bound has gone through.
    let bound = found.bound.min(order.net());
    Ok(Order { bound, proven: bound == order.net(), ..order })
}

/// A better order from the packs that cover one item alone for least from some sellers: found soon, since
/// they are few, and the lower it is, the fewer packs are of use for the proof.
fn improved(book: &Book, choices: &[Choices], order: Order, seconds: f64) -> Order {
    let useful = useful(book, choices, order.net());
    let ways = choices.iter().flat_map(|list| list.ways.iter().chain(&list.idle));
    let mut few: Vec<bool> = order.packs.iter().map(|packs| *packs > 0).collect();
    for (offer, _) in ways.filter_map(|way| way.packs.as_ref()).flatten() {
        few[*offer] |= useful[*offer];
    }
    let found = Program::new(book, choices, &few).solve(book, Some(&order), (seconds, IMPROVING));
    let Ok(found) = found else { return order };
    let better = reckon(book, found.packs, found.from);
    if better.net() < order.net() && faults(book, &better).is_empty() { better } else { order }
}
