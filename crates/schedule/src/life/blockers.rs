//! What keeps a task from a place, while all others stand where they stand.

use crate::book::{Book, Slot, Task};
use crate::plan::{Placed, Stretch};

/// One thing that keeps a task from a place. Tasks, people and machines are told by index.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Reason {
    /// It may not begin before this slot.
    NotBefore(Slot),
    /// It may not end after this slot, the last that is planned.
    Horizon(Slot),
    /// At least `least` slots lie between the end of `after`, at `ends`, and it.
    Gap {
        /// The task before.
        after: usize,
        /// When it ends.
        ends: Slot,
        /// Least gap, slots.
        least: Slot,
    },
    /// At least `least` slots lie between its end and `then`, which begins at `begins`.
    Ahead {
        /// The task after.
        then: usize,
        /// When it begins.
        begins: Slot,
        /// Least gap, slots.
        least: Slot,
    },
    /// It must begin within `most` slots after the end of `after`; `relief` would make up for it.
    TooLate {
        /// The task before.
        after: usize,
        /// Most gap, slots.
        most: Slot,
        /// The optional task.
        relief: Option<usize>,
    },
    /// It waits so that `then` can follow within `most` slots; `relief` would make up for it.
    Window {
        /// The task after.
        then: usize,
        /// Most gap, slots.
        most: Slot,
        /// The optional task.
        relief: Option<usize>,
    },
    /// This person may not do it.
    MayNot {
        /// The person.
        person: usize,
    },
    /// The person is not there at this slot.
    Closed {
        /// The person.
        person: usize,
        /// The slot.
        at: Slot,
    },
    /// The person is busy with another task at this slot.
    Busy {
        /// The person.
        person: usize,
        /// The other task.
        with: usize,
        /// The slot.
        at: Slot,
    },
    /// The person has to rest from a sitting of this task, or before one, for so many slots.
    Rest {
        /// The person.
        person: usize,
        /// The other task.
        with: usize,
        /// How long, slots.
        rest: Slot,
    },
    /// At this slot the machine has no room beside these tasks; beside none if it is out.
    Full {
        /// The machine.
        machine: usize,
        /// The slot.
        at: Slot,
        /// The other tasks.
        with: Vec<usize>,
    },
    /// It shares a mix with this task, next before it or else next after it.
    Mix {
        /// The other task.
        with: usize,
    },
}

impl Reason {
    /// The person without whom it would not hold.
    pub fn person(&self) -> Option<usize> {
        match *self {
            Self::MayNot { person }
            | Self::Closed { person, .. }
            | Self::Busy { person, .. }
            | Self::Rest { person, .. } => Some(person),
            _ => None,
        }
    }
}

/// Everything that keeps a task from a place; nothing if it can stand there.
pub(super) fn blockers(
    book: &Book,
    tasks: &[Option<Placed>],
    index: usize,
    at: &Placed,
) -> Vec<Reason> {
    let task = &book.tasks[index];
    let mut reasons = Vec::new();
    if at.begins() < task.not_before.max(0) {
        reasons.push(Reason::NotBefore(task.not_before.max(0)));
    }
    if at.ends() > book.horizon {
        reasons.push(Reason::Horizon(book.horizon));
    }
    gaps(book, tasks, index, at, &mut reasons);
    reasons.extend(shared_mix(tasks, index, at).map(|with| Reason::Mix { with }));
    for machine in 0..book.machines.len() {
        reasons.extend(full(book, tasks, index, at.begins(), machine));
    }
    if let Some(person) = at.person {
        hands(book, tasks, index, person, &at.stretches, &mut reasons);
    }
    reasons
}

fn gaps(
    book: &Book,
    tasks: &[Option<Placed>],
    index: usize,
    at: &Placed,
    reasons: &mut Vec<Reason>,
) {
    let place = |task: usize| if task == index { Some(at) } else { tasks[task].as_ref() };
    for link in &book.links {
        let (Some(from), Some(to)) = (place(link.from), place(link.to)) else { continue };
        let concerned = link.from == index || link.to == index;
        let relieves = link.relief.is_some_and(|relief| relief.task == index);
        if !concerned && !relieves {
            continue;
        }
        let gap = to.begins() - from.ends();
        if link.to == index && gap < link.least {
            reasons.push(Reason::Gap { after: link.from, ends: from.ends(), least: link.least });
        }
        if link.from == index && gap < link.least {
            let (then, begins, least) = (link.to, to.begins(), link.least);
            reasons.push(Reason::Ahead { then, begins, least });
        }
        let Some(most) = link.most.filter(|&most| gap > most) else { continue };
        let relief = link.relief.and_then(|relief| Some((relief, place(relief.task)?)));
        let Some((relief, stands)) = relief else {
            let relief = link.relief.map(|relief| relief.task);
            reasons.push(if link.from == index {
                Reason::Window { then: link.to, most, relief }
            } else {
                Reason::TooLate { after: link.from, most, relief }
            });
            continue;
        };
        if stands.begins() - from.ends() < relief.before {
            let least = relief.before;
            if relieves {
                reasons.push(Reason::Gap { after: link.from, ends: from.ends(), least });
            } else if link.from == index {
                let (then, begins) = (relief.task, stands.begins());
                reasons.push(Reason::Ahead { then, begins, least });
            }
        }
        if to.begins() - stands.ends() < relief.after {
            let least = relief.after;
            if relieves {
                reasons.push(Reason::Ahead { then: link.to, begins: to.begins(), least });
            } else if link.to == index {
                reasons.push(Reason::Gap { after: relief.task, ends: stands.ends(), least });
            }
        }
    }
}

/// The task that would be left alone with a mix that is shared.
fn shared_mix(tasks: &[Option<Placed>], index: usize, at: &Placed) -> Option<usize> {
    let stands = tasks[index].as_ref()?;
    let mix = stands.mix?;
    if (stands.person, &stands.stretches) == (at.person, &at.stretches) {
        return None;
    }
    let others = tasks.iter().enumerate().filter(|(other, _)| *other != index);
    let mut sharers: Vec<(Slot, usize)> = others
        .filter_map(|(other, placed)| Some((other, placed.as_ref()?)))
        .filter(|(_, placed)| placed.mix == Some(mix))
        .map(|(other, placed)| (placed.begins(), other))
        .collect();
    sharers.sort_unstable();
    let before = sharers.iter().rev().find(|(begins, _)| *begins < stands.begins());
    before.or(sharers.first()).map(|&(_, other)| other)
}

fn hands(
    book: &Book,
    tasks: &[Option<Placed>],
    index: usize,
    person: usize,
    stretches: &[Stretch],
    reasons: &mut Vec<Reason>,
) {
    let task = &book.tasks[index];
    if !task.hands.contains(&person) {
        reasons.push(Reason::MayNot { person });
    }
    let open = book.people[person].open.stretches();
    for &(from, to) in stretches {
        // The first slot that no open stretch holds.
        let mut at = from;
        while let Some(within) = open.iter().find(|(a, b)| *a <= at && at < *b).filter(|_| at < to)
        {
            at = within.1;
        }
        if at < to {
            reasons.push(Reason::Closed { person, at });
        }
    }
    let mix = tasks[index].as_ref().and_then(|own| own.mix);
    for (with, placed) in tasks.iter().enumerate().filter(|(other, _)| *other != index) {
        let Some(placed) = placed.as_ref().filter(|placed| placed.person == Some(person)) else {
            continue;
        };
        if mix.is_some() && placed.mix == mix {
            // That they share is told by itself.
            continue;
        }
        let rest = rest_between(task, &book.tasks[with]);
        let pairs =
            stretches.iter().flat_map(|own| placed.stretches.iter().map(move |at| (own, at)));
        for (own, other) in pairs {
            if own.0 < other.1 && other.0 < own.1 {
                reasons.push(Reason::Busy { person, with, at: own.0.max(other.0) });
                break;
            }
            if rest.is_some_and(|rest| own.0 < other.1 + rest && other.0 < own.1 + rest) {
                reasons.push(Reason::Rest { person, with, rest: rest.unwrap_or(0) });
                break;
            }
        }
    }
}

fn rest_between(one: &Task, other: &Task) -> Option<Slot> {
    Some(one.sittings?.rest.max(other.sittings?.rest))
}

/// Where a machine has no room for a task that begins at a slot, and beside which others.
fn full(
    book: &Book,
    tasks: &[Option<Placed>],
    index: usize,
    begins: Slot,
    machine: usize,
) -> Option<Reason> {
    let used = |task: usize, begins: Slot| {
        let of = book.tasks[task].uses.iter().filter(move |used| used.machine == machine);
        of.map(move |used| (begins + used.from, begins + used.from + used.length, used.amount))
    };
    let own: Vec<(Slot, Slot, u16)> = used(index, begins).filter(|used| used.2 > 0).collect();
    let (first, last) =
        (own.iter().map(|used| used.0).min()?, own.iter().map(|used| used.1).max()?);
    let mut others: Vec<(Slot, Slot, u16, usize)> = Vec::new();
    for (other, placed) in tasks.iter().enumerate().filter(|(other, _)| *other != index) {
        let Some(placed) = placed else { continue };
        let taken = used(other, placed.begins()).filter(|used| used.0 < last && first < used.1);
        others.extend(taken.map(|(from, to, amount)| (from, to, amount, other)));
    }
    let told = &book.machines[machine];
    let outages = told.outages.iter().map(|out| out.from);
    // Room gets less only where something begins.
    let mut marks: Vec<Slot> = others.iter().map(|used| used.0).chain(outages).collect();
    marks.extend(own.iter().map(|used| used.0));
    marks.sort_unstable();
    marks.into_iter().filter(|&at| at >= 0).find_map(|at| {
        let holds = |from: Slot, to: Slot| from <= at && at < to;
        let out = told.outages.iter().filter(|out| holds(out.from, out.to));
        let capacity = out.fold(told.capacity, |left, out| left.saturating_sub(out.amount));
        let asked: u16 = own.iter().filter(|used| holds(used.0, used.1)).map(|used| used.2).sum();
        let there: Vec<_> = others.iter().filter(|used| holds(used.0, used.1)).collect();
        let taken: u16 = there.iter().map(|used| used.2).sum();
        (asked > 0 && asked + taken > capacity).then(|| Reason::Full {
            machine,
            at,
            with: there.iter().map(|used| used.3).collect(),
        })
    })
}
