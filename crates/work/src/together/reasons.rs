//! Why a task is not done earlier, in one sentence.

use super::clock::SLOT_MIN;
use super::{Together, What};
use crate::words::{list, span};
use schedule::life::{Reason, Why, why};
use schedule::{Plan, Slot};

/// Why a stretch of a task begins when it does.
pub(crate) fn reason(together: &Together, plan: &Plan, task: usize, begins: Slot) -> String {
    let told = &together.book.tasks[task];
    let Some(placed) = plan.tasks[task].as_ref() else { return String::new() };
    if told.fixed.is_some() {
        return "It stands as it was told.".to_owned();
    }
    if begins > placed.begins() {
        return "It goes on from the sitting before.".to_owned();
    }
    let Some(why) = why(&together.book, plan, task) else { return String::new() };
    said(together, &why)
}

/// What keeps it: what would hold for anyone goes before what holds for those who may do it.
fn said(together: &Together, why: &Why) -> String {
    if let Some(reason) = why.reasons.first() {
        return sentence(together, reason);
    }
    if why.could.is_some() {
        return "It could begin a little earlier, but nothing would be gained by it.".to_owned();
    }
    let own: Vec<String> = why
        .people
        .iter()
        .filter_map(|(_, reasons)| reasons.first())
        .map(|it| clause(together, it))
        .collect();
    match own.as_slice() {
        [] => "Nothing keeps it from an earlier time but what was told of it.".to_owned(),
        all => format!("{}.", list(all)),
    }
}

/// A reason as a sentence.
pub(crate) fn sentence(together: &Together, reason: &Reason) -> String {
    format!("{}.", clause(together, reason))
}

fn clause(together: &Together, reason: &Reason) -> String {
    let book = &together.book;
    let name = |task: usize| {
        let name = &book.tasks[task].name;
        format!("`{}`", name.split_once(": ").map_or(name.as_str(), |(_, step)| step))
    };
    let whole = |task: usize| format!("`{}`", book.tasks[task].name);
    let time = |slots: Slot| span(f64::from(slots) * SLOT_MIN as f64);
    match reason {
        Reason::NotBefore(_) => "It may not begin earlier".to_owned(),
        Reason::Horizon(_) => "That is past the time that is planned".to_owned(),
        Reason::Gap { after, least, .. } if *least > 0 => {
            format!("It waits for {} after {}", time(*least), name(*after))
        }
        Reason::Gap { after, .. } => format!("It waits for {}", name(*after)),
        Reason::Ahead { then, least, .. } => {
            format!("{} must come {} after it", name(*then), time(*least))
        }
        Reason::TooLate { after, most, .. } => {
            format!("It must begin within {} after {}", time(*most), name(*after))
        }
        Reason::Window { then, most, .. } => {
            format!("It waits so that {} can follow within {}", name(*then), time(*most))
        }
        Reason::MayNot { person } => format!("{} does not do that", book.people[*person].name),
        Reason::Closed { person, .. } => {
            format!("{} does not work just before then", book.people[*person].name)
        }
        Reason::Busy { person, with, .. } => {
            format!("{} is busy with {}", book.people[*person].name, whole(*with))
        }
        Reason::Rest { person, with, .. } => {
            format!("{} rests from {}", book.people[*person].name, whole(*with))
        }
        Reason::Full { machine, with, .. } if with.is_empty() => {
            format!("there is none of its {} to use", book.machines[*machine].name)
        }
        Reason::Full { machine, with, .. } => {
            let with: Vec<String> = with.iter().map(|&task| whole(task)).collect();
            format!("the {} are taken by {}", book.machines[*machine].name, list(&with))
        }
        Reason::Mix { with } => format!("It is poured from one mix with {}", whole(*with)),
    }
}

/// Whether a task is a sanding that hours call for.
pub(crate) fn is_called_for(together: &Together, plan: &Plan, task: usize) -> bool {
    together.meanings[task].what == What::SandFirst
        && plan.tasks[task].is_some()
        && together.book.tasks[task].fixed.is_none()
}
