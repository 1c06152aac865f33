//! What contradicts itself in a book, in words and times: told before anything is searched for.

use super::Together;
use super::clock::SLOT_MIN;
use crate::words::{list, span};
use piece::{Diagnostic, FieldPath};
use schedule::exact::Reason;
use schedule::{Conflict, Slot, conflicts};

/// Everything that no plan can satisfy; nothing if there may be a plan.
pub fn contradictions(together: &Together) -> Vec<Diagnostic> {
    conflicts(&together.book).iter().map(|conflict| told(together, conflict)).collect()
}

/// Tasks for which the search found no place, by name.
pub fn without_place(together: &Together, tasks: &[usize]) -> Diagnostic {
    /// So many are named, the others counted.
    const NAMED: usize = 4;
    let book = &together.book;
    let mut names: Vec<String> =
        tasks.iter().take(NAMED).map(|&task| format!("`{}`", book.tasks[task].name)).collect();
    if tasks.len() > NAMED {
        names.push(format!("{} more steps", tasks.len() - NAMED));
    }
    let message = match tasks.len() {
        0 => "some steps must follow each other sooner than any hours allow".to_owned(),
        1 => format!("{} has no place before the end of the time that is planned", list(&names)),
        _ => format!("{} have no place before the end of the time that is planned", list(&names)),
    };
    Diagnostic::error(FieldPath::root(), message)
        .hint("look at `away`, at what is `out`, and at the hours of whoever may do them")
}

fn told(together: &Together, conflict: &Conflict) -> Diagnostic {
    let book = &together.book;
    let name = |task: usize| format!("`{}`", book.tasks[task].name);
    let time = |slots: Slot| span(f64::from(slots) * SLOT_MIN as f64);
    let gap = |link: usize| {
        let link = &book.links[link];
        let most = link.most.map_or(String::new(), |most| format!(" and at most {}", time(most)));
        format!("{} at least {}{most} after {}", name(link.to), time(link.least), name(link.from))
    };
    let gaps = |links: &[usize]| list(&links.iter().map(|&link| gap(link)).collect::<Vec<_>>());
    let (message, hint) = match &conflict.reason {
        Reason::Gap { link } => (
            format!("two waits contradict each other: {}", gap(*link)),
            "look at the resin's recoat window in the studio file",
        ),
        Reason::Cycle { steps, .. } => {
            let links: Vec<usize> = steps.iter().map(|step| step.link).collect();
            (
                format!("steps wait for each other in a circle: {}", gaps(&links)),
                "what happened to one of them may be told wrongly",
            )
        }
        Reason::Capacity { task, machine, amount } => {
            let machine = &book.machines[*machine];
            (
                format!(
                    "{} needs {amount} {} at a time, and there are {}",
                    name(*task),
                    machine.name,
                    machine.capacity
                ),
                "make fewer at a time, or set more of them in the hours file",
            )
        }
        Reason::Alone { task, longest } => (
            format!(
                "{} takes {} in one go, and nobody who may do it works longer than {} at a stretch",
                name(*task),
                time(book.tasks[*task].work),
                time(*longest)
            ),
            "set longer hours on one day of the week, or make fewer pieces at a time",
        ),
        Reason::Horizon { task, .. } => (
            format!("{} cannot be done before the end of the time that is planned", name(*task)),
            "set more hours of work",
        ),
        Reason::Hours { links } => (
            format!("no hours of anyone allow this chain: {}", gaps(links)),
            "let someone work on a second time of the day, or let someone sand between coats",
        ),
        Reason::Links { together, .. } => (
            format!("these waits cannot all be kept: {}", gaps(together)),
            "set other hours, or let someone sand between coats",
        ),
        _ => (conflict.to_string(), "set more hours, spindles or racks"),
    };
    Diagnostic::error(FieldPath::root().key("maker"), message).hint(hint)
}
