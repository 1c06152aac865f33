//! Whether gaps are kept, and optional tasks done where they are called for and nowhere else.

use super::Case;
use schedule::{Link, Slot};

/// What is wrong.
pub fn faults(case: Case) -> Vec<String> {
    let mut faults = Vec::new();
    let mut called_for = vec![false; case.book.tasks.len()];
    for link in &case.book.links {
        faults.extend(of_link(case, link, &mut called_for));
    }
    for (index, task, _) in case.placed() {
        if task.optional && task.fixed.is_none() && !called_for[index] {
            faults.push(format!("{} is done and not called for", task.name));
        }
    }
    faults
}

/// First slot of a task and first slot after it.
fn span(case: Case, task: usize) -> Option<(Slot, Slot)> {
    let stretches = &case.place(task)?.stretches;
    Some((stretches.first()?.0, stretches.last()?.1))
}

fn of_link(case: Case, link: &Link, called_for: &mut [bool]) -> Option<String> {
    // An optional task that is not done has no gaps.
    let (Some((_, ends)), Some((begins, _))) = (span(case, link.from), span(case, link.to)) else {
        return None;
    };
    let gap = begins - ends;
    let both = format!("between {} and {}", case.name(link.from), case.name(link.to));
    let settled = case.is_fixed(link.from) && case.is_fixed(link.to);
    if gap < link.least && !settled {
        return Some(format!("{gap} slots {both}, least {}", link.least));
    }
    let most = link.most.filter(|&most| gap > most)?;
    let Some(relief) = link.relief else {
        return (!settled).then(|| format!("{gap} slots {both}, most {most}"));
    };
    called_for[relief.task] = true;
    let name = case.name(relief.task);
    let Some((relief_begins, relief_ends)) = span(case, relief.task) else {
        return (!settled).then(|| format!("{gap} slots {both}, most {most}, without {name}"));
    };
    if settled && case.is_fixed(relief.task) {
        return None;
    }
    if relief_begins - ends < relief.before {
        return Some(format!("{name} is done {} slots after the first", relief_begins - ends));
    }
    let left = begins - relief_ends;
    (left < relief.after).then(|| format!("{name} is done {left} slots before the second"))
}
