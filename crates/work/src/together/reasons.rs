//! Why a task is not done earlier, in one sentence.

use super::clock::SLOT_MIN;
use super::{Together, What};
use crate::words::span;
use schedule::{Plan, Slot};

/// Why a stretch of a task begins when it does.
pub(crate) fn reason(together: &Together, plan: &Plan, task: usize, begins: Slot) -> String {
    let book = &together.book;
    let told = &book.tasks[task];
    let Some(placed) = plan.tasks[task].as_ref() else { return String::new() };
    if told.fixed.is_some() {
        return "It stands as it was told.".to_owned();
    }
    if begins > placed.begins() {
        return "It goes on from the sitting before.".to_owned();
    }
    let (ready, before) = ready(together, plan, task);
    let after = before.map(|(from, gap)| {
        let name = step_name(&book.tasks[from].name);
        if gap > 0 { format!("{} after `{name}`", hours(gap)) } else { format!("`{name}`") }
    });
    if ready >= begins {
        return match after {
            Some(after) => format!("It waits for {after}."),
            None => "It may not begin earlier.".to_owned(),
        };
    }
    if told.mix.is_some() && shares(plan, task) {
        return "It is poured from the mix of the pour before it.".to_owned();
    }
    let Some(person) = placed.person else { return "It waits for room.".to_owned() };
    let name = &book.people[person].name;
    let open: Vec<(Slot, Slot)> = book.people[person]
        .open
        .stretches()
        .iter()
        .map(|&(from, to)| (from.max(ready), to.min(begins)))
        .filter(|(from, to)| from < to)
        .collect();
    if open.is_empty() {
        return format!("{name} has no hours of work before then.");
    }
    let busy: Slot = open.iter().map(|stretch| busy(plan, person, *stretch)).sum();
    let hours: Slot = open.iter().map(|(from, to)| to - from).sum();
    if busy >= hours {
        return format!("{name} is busy with other work before then.");
    }
    if told.uses.is_empty() {
        format!(
            "The time that {name} is free before then is too short, or better left to other work."
        )
    } else {
        format!(
            "Before then the spindles or racks are full, or {name} is free for too short a time."
        )
    }
}

/// When everything that a task waits for is over, and which of it is last, with the gap after it.
fn ready(together: &Together, plan: &Plan, task: usize) -> (Slot, Option<(usize, Slot)>) {
    let mut latest = (together.book.tasks[task].not_before, None);
    let mut look = |from: usize, least: Slot| {
        let Some(placed) = plan.tasks[from].as_ref() else { return };
        if placed.ends() + least > latest.0 {
            latest = (placed.ends() + least, Some((from, least)));
        }
    };
    for link in &together.book.links {
        if link.to == task {
            look(link.from, link.least);
            link.relief.iter().for_each(|relief| look(relief.task, relief.after));
        }
        if let Some(relief) = link.relief.filter(|relief| relief.task == task) {
            look(link.from, relief.before);
        }
    }
    latest
}

fn shares(plan: &Plan, task: usize) -> bool {
    let mix = plan.tasks[task].as_ref().and_then(|placed| placed.mix);
    let same = |placed: &Option<schedule::Placed>| {
        placed.as_ref().is_some_and(|placed| placed.mix.is_some() && placed.mix == mix)
    };
    plan.tasks.iter().filter(|placed| same(placed)).count() > 1
}

/// How much of a stretch someone works.
fn busy(plan: &Plan, person: usize, (from, to): (Slot, Slot)) -> Slot {
    plan.tasks
        .iter()
        .flatten()
        .filter(|placed| placed.person == Some(person))
        .flat_map(|placed| &placed.stretches)
        .map(|&(begins, ends)| (ends.min(to) - begins.max(from)).max(0))
        .sum()
}

fn hours(slots: Slot) -> String {
    span(f64::from(slots) * SLOT_MIN as f64)
}

fn step_name(task: &str) -> &str {
    task.split_once(": ").map_or(task, |(_, step)| step)
}

/// Whether a task is a sanding that hours call for.
pub(crate) fn is_called_for(together: &Together, plan: &Plan, task: usize) -> bool {
    together.meanings[task].what == What::SandFirst
        && plan.tasks[task].is_some()
        && together.book.tasks[task].fixed.is_none()
}
