//! Choices from which placing gives a plan that is known.

use crate::book::Slot;
use crate::decode::compiled::NONE;
use crate::decode::{Choices, Compiled};
use crate::plan::Placed;

/// Choices that place every task where it stands, none of them before `now`; what has no place there
/// any more comes at the earliest time after it. The first to end comes first, so that sittings fill in
/// what the others leave.
pub(crate) fn standing(compiled: &Compiled, tasks: &[Option<Placed>], now: Slot) -> Choices {
    let book = compiled.book;
    let mut choices = Choices::none(compiled);
    let place = |task: usize| tasks.get(task).and_then(Option::as_ref);
    let mut order: Vec<usize> = (0..compiled.len()).collect();
    order.sort_by_key(|&task| place(task).map_or((Slot::MAX, task), |at| (at.ends(), task)));
    for (rank, &task) in order.iter().enumerate() {
        choices.key[task] = rank as f32 + 1.0;
        choices.delay[task] = now;
        if let Some(at) = place(task) {
            choices.delay[task] = at.begins().max(now);
            choices.person[task] = at.person.map_or(NONE, |person| person as u32);
        }
    }
    for (keep, link) in choices.keep.iter_mut().zip(&book.links) {
        let both = place(link.from).zip(place(link.to)).zip(link.most);
        *keep = both.is_some_and(|((from, to), most)| to.begins() - from.ends() <= most);
    }
    tie(&mut choices, compiled, tasks);
    choices
}

/// Ties the tasks that share a mix.
fn tie(choices: &mut Choices, compiled: &Compiled, tasks: &[Option<Placed>]) {
    let mut shared: Vec<(u32, Slot, usize)> = Vec::new();
    for (task, placed) in tasks.iter().enumerate() {
        let free = compiled.book.tasks[task].fixed.is_none() && compiled.mixes[task].is_some();
        if let Some(placed) = placed.as_ref().filter(|_| free)
            && let Some(mix) = placed.mix
        {
            shared.push((mix, placed.begins(), task));
        }
    }
    shared.sort_unstable();
    for pair in shared.windows(2).filter(|pair| pair[0].0 == pair[1].0) {
        let (before, after) = (pair[0].2, pair[1].2);
        choices.next[before] = after as u32;
        choices.first[after] = choices.first[before];
    }
}
