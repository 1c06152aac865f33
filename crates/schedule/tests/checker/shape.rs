//! Whether each task is there, by someone who may do it, as long as it takes and within its time.

use super::Case;
use schedule::{Placed, Slot, Task};

/// What is wrong.
pub fn faults(case: Case) -> Vec<String> {
    let mut faults = Vec::new();
    for (index, task) in case.book.tasks.iter().enumerate() {
        let name = &task.name;
        match (&task.fixed, case.place(index)) {
            (Some(fixed), Some(placed)) => {
                // Mixes are numbered anew in each plan.
                if (fixed.person, &fixed.stretches) != (placed.person, &placed.stretches) {
                    faults.push(format!("{name} is fixed and stands elsewhere"));
                }
            }
            (Some(_), None) => faults.push(format!("{name} is fixed and not there")),
            (None, None) => {
                if !task.optional {
                    faults.push(format!("{name} is not there"));
                }
            }
            (None, Some(placed)) => {
                faults.extend(one(case, index, task, placed).map(|why| format!("{name} {why}")));
            }
        }
    }
    faults
}

fn one(case: Case, index: usize, task: &Task, placed: &Placed) -> Option<String> {
    match placed.person {
        None if !task.hands.is_empty() => return Some("is done by nobody".into()),
        Some(person) if task.hands.is_empty() => {
            return Some(format!("needs nobody and is done by {person}"));
        }
        Some(person) if !task.hands.contains(&person) => {
            return Some(format!("may not be done by {person}"));
        }
        _ => {}
    }
    if placed.stretches.is_empty() || placed.stretches.iter().any(|(from, to)| from > to) {
        return Some("has no stretch or one that ends before it begins".into());
    }
    if placed.stretches.windows(2).any(|pair| pair[0].1 > pair[1].0) {
        return Some("has stretches out of order".into());
    }
    let (begins, ends) = (placed.stretches[0].0, placed.stretches[placed.stretches.len() - 1].1);
    if begins < task.not_before.max(0) {
        return Some(format!("begins at {begins}, before {}", task.not_before.max(0)));
    }
    if ends > case.book.horizon {
        return Some(format!("ends at {ends}, past the horizon {}", case.book.horizon));
    }
    length(case, index, task, placed)
}

/// Whether the stretches are as long and as many as they have to be.
fn length(case: Case, index: usize, task: &Task, placed: &Placed) -> Option<String> {
    let lengths: Vec<Slot> = placed.stretches.iter().map(|(from, to)| to - from).collect();
    let Some(sittings) = task.sittings else {
        let saved = match task.mix {
            Some(mix) if joins(case, index, placed) => mix.stir,
            _ => 0,
        };
        let wanted = vec![task.work - saved];
        return (lengths != wanted).then(|| format!("takes {lengths:?}, not {wanted:?}"));
    };
    let work: Vec<Slot> = lengths.iter().map(|length| length - sittings.set_up).collect();
    if work.iter().any(|&work| work < 1) {
        return Some("has a sitting of nothing but set-up".into());
    }
    let done: Slot = work.iter().sum();
    if done != task.work {
        return Some(format!("does {done} of {} slots of work", task.work));
    }
    if let Some(long) = lengths.iter().find(|&&length| length > sittings.longest) {
        return Some(format!("has a sitting of {long}, above {}", sittings.longest));
    }
    let all_but_last = &work[..work.len() - 1];
    let short = all_but_last.iter().find(|&&work| work < sittings.least);
    short.map(|short| format!("has a sitting of {short}, below {}", sittings.least))
}

/// Whether a task takes from a mix that another task has stirred before.
fn joins(case: Case, index: usize, placed: &Placed) -> bool {
    placed.mix.is_some()
        && case.placed().any(|(other, _, first)| {
            other != index
                && first.mix == placed.mix
                && first.stretches[0].0 < placed.stretches[0].0
        })
}
