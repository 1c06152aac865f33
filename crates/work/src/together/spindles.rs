//! Which spindles turn what: numbers for the stretches that a plan gives.

use super::tasks::SPINDLES;
use super::{Meaning, Ordered, Together};
use schedule::{Plan, Slot};
use std::collections::BTreeMap;

/// What turns: numbers of its spindles from 1, and the slot up to which it turns.
pub(crate) type Turning = (Vec<u32>, Slot);

/// What one task holds.
struct Hold {
    /// Order, group and part.
    thing: (usize, usize, Option<usize>),
    until: Slot,
    numbers: Vec<u32>,
}

/// For each task that turns something, on which spindles and until when. The lowest that are free are
/// taken; what is coated again while it turns stays where it is.
pub(crate) fn spindles(
    together: &Together,
    orders: &[Ordered],
    plan: &Plan,
) -> BTreeMap<usize, Turning> {
    let mut turns: Vec<(Slot, usize, Slot, usize)> = Vec::new();
    for (task, told) in together.book.tasks.iter().enumerate() {
        let Some(placed) = plan.tasks.get(task).and_then(Option::as_ref) else { continue };
        for used in told.uses.iter().filter(|used| used.machine == SPINDLES) {
            let from = placed.begins() + used.from;
            turns.push((from, task, from + used.length, usize::from(used.amount)));
        }
    }
    turns.sort_unstable();
    let mut held: Vec<Hold> = Vec::new();
    let mut all = BTreeMap::new();
    for (from, task, until, amount) in turns {
        held.retain(|hold| hold.until > from);
        let thing = thing(&together.meanings[task], orders);
        let same = held.iter_mut().find(|hold| hold.thing == thing && hold.numbers.len() == amount);
        let numbers = match same {
            Some(hold) => {
                hold.until = hold.until.max(until);
                hold.numbers.clone()
            }
            None => {
                let taken: Vec<u32> =
                    held.iter().flat_map(|hold| hold.numbers.iter().copied()).collect();
                let free = (1..).filter(|number| !taken.contains(number));
                let numbers: Vec<u32> = free.take(amount).collect();
                held.push(Hold { thing, until, numbers: numbers.clone() });
                numbers
            }
        };
        all.insert(task, (numbers, until));
    }
    all
}

fn thing(meaning: &Meaning, orders: &[Ordered]) -> (usize, usize, Option<usize>) {
    let steps = &orders[meaning.order].groups[meaning.group].steps.steps;
    (meaning.order, meaning.group, steps[meaning.steps.start].part)
}
