//! Why a book has no plan, with the names of what contradicts itself.

use super::needs;
use super::reach;
use crate::book::{Book, Slot};
use std::fmt;

/// A contradiction in a book, with a sentence about it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Conflict {
    /// What contradicts itself, by index.
    pub reason: Reason,
    told: String,
}

/// What contradicts itself.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Reason {
    /// Not a contradiction: the task asks for more than can be solved exactly (sittings, a mix, a
    /// choice of hands, or that it is optional).
    NotPlainTask {
        /// Index of the task.
        task: usize,
    },
    /// Not a contradiction: the link has a relief, which cannot be solved exactly.
    NotPlainLink {
        /// Index of the link.
        link: usize,
    },
    /// A link's least gap is above its most.
    Gap {
        /// Index of the link.
        link: usize,
    },
    /// Gaps that ask, round in a circle, for a task to begin after itself.
    Cycle {
        /// What asks, in order round the circle.
        steps: Vec<CycleStep>,
        /// How many slots after itself each task would have to begin.
        sum: i64,
    },
    /// A task needs more of a machine than there is.
    Capacity {
        /// Index of the task.
        task: usize,
        /// Index of the machine.
        machine: usize,
        /// How much of it the task needs at a time.
        amount: i32,
    },
    /// A task has no place even alone: it is longer than any stretch in which someone who may do it
    /// works, and what it needs is there, between its first slot and the horizon.
    Alone {
        /// Index of the task.
        task: usize,
        /// Longest such stretch of anyone who may do it, slots; of the book if it needs nobody.
        longest: Slot,
    },
    /// Tasks that follow each other and do not all end before the horizon.
    Horizon {
        /// Indices of the links between them.
        links: Vec<usize>,
        /// Index of the task that comes too late.
        task: usize,
    },
    /// Greatest gaps that no hours of anyone allow, even if nothing else were to be done. Without
    /// any one of these links there would be a way.
    Hours {
        /// Indices of the links.
        links: Vec<usize>,
    },
    /// There is no plan for these links together, as a search has proved.
    Links {
        /// Indices of links that contradict each other; without any one of them the others could be
        /// kept, unless the search was stopped.
        together: Vec<usize>,
        /// Indices of links without which the whole book could be kept; empty if the search was
        /// stopped before that was known.
        loosen: Vec<usize>,
    },
    /// There is no plan, whatever the links, as a search has proved: too much to do before the
    /// horizon, or what is fixed is in the way.
    Full,
}

/// A step round a circle of gaps.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct CycleStep {
    /// Index of the link.
    pub link: usize,
    /// It is the link's greatest gap, seen from its second task.
    pub back: bool,
    /// How many slots the next task begins after this one, at least.
    pub lag: Slot,
}

impl Conflict {
    pub(super) fn new(book: &Book, reason: Reason) -> Self {
        let told = told(book, &reason);
        Self { reason, told }
    }

    pub(super) fn of_cycle(book: &Book, arcs: &[super::plain::Arc], cycle: &[usize]) -> Self {
        let step = |&arc: &usize| {
            let arc = arcs[arc];
            let back = book.links[arc.link].from != arc.from;
            CycleStep { link: arc.link, back, lag: arc.lag }
        };
        let steps: Vec<CycleStep> = cycle.iter().map(step).collect();
        let sum = steps.iter().map(|step| i64::from(step.lag)).sum();
        Self::new(book, Reason::Cycle { steps, sum })
    }
}

impl fmt::Display for Conflict {
    fn fmt(&self, to: &mut fmt::Formatter<'_>) -> fmt::Result {
        to.write_str(&self.told)
    }
}

impl std::error::Error for Conflict {}

/// All contradictions that show before any search.
///
/// Where a book has sittings, mixes, reliefs or optional tasks, they are given all the freedom that
/// they could have, so what is told is always true; what is not told may still be impossible.
pub fn conflicts(book: &Book) -> Vec<Conflict> {
    let mut found = Vec::new();
    for (link, gap) in book.links.iter().enumerate() {
        let (from, to) = (&book.tasks[gap.from], &book.tasks[gap.to]);
        // What is fixed stands, whatever the gap; what is optional may be left out.
        let open = (from.fixed.is_none() || to.fixed.is_none()) && !from.optional && !to.optional;
        if open && gap.relief.is_none() && gap.most.is_some_and(|most| most < gap.least) {
            found.push(Conflict::new(book, Reason::Gap { link }));
        }
    }
    let asked = book.tasks.iter().enumerate();
    for (task, asked) in asked.filter(|(_, task)| task.is_open()) {
        let most = |machine: usize| i32::from(book.machines[machine].capacity);
        let needs = needs::of_machines(asked).into_iter();
        if let Some(need) =
            needs.filter(|need| need.amount > most(need.room)).max_by_key(|need| need.amount)
        {
            let (machine, amount) = (need.room, need.amount);
            found.push(Conflict::new(book, Reason::Capacity { task, machine, amount }));
        }
    }
    if found.is_empty() { reach::conflicts(book) } else { found }
}

fn name(book: &Book, task: usize) -> String {
    format!("“{}”", book.tasks[task].name)
}

/// A link in words: from what to what, and how far apart.
fn gap(book: &Book, link: usize) -> String {
    let gap = &book.links[link];
    let (from, to) = (name(book, gap.from), name(book, gap.to));
    match gap.most {
        Some(most) => format!("{from} to {to}: at least {} and at most {most} slots", gap.least),
        None => format!("{from} to {to}: at least {} slots", gap.least),
    }
}

fn gaps(book: &Book, links: &[usize]) -> String {
    links.iter().map(|&link| gap(book, link)).collect::<Vec<_>>().join("; ")
}

fn told(book: &Book, reason: &Reason) -> String {
    match reason {
        Reason::NotPlainTask { task } => format!(
            "{} cannot be solved exactly: it has sittings, a mix or several hands, or is optional",
            name(book, *task)
        ),
        Reason::NotPlainLink { link } => {
            format!("a gap with a relief cannot be solved exactly: {}", gap(book, *link))
        }
        Reason::Gap { link } => {
            format!("the least gap is above the greatest: {}", gap(book, *link))
        }
        Reason::Cycle { steps, sum } => {
            let links: Vec<usize> = steps.iter().map(|step| step.link).collect();
            let first = steps.first().map_or_else(String::new, |step| {
                let gap = &book.links[step.link];
                name(book, if step.back { gap.to } else { gap.from })
            });
            let gaps = gaps(book, &links);
            format!("these gaps ask for {first} to begin {sum} slots after itself: {gaps}")
        }
        Reason::Capacity { task, machine, amount } => {
            let task = name(book, *task);
            let machine = &book.machines[*machine];
            let (capacity, machine) = (machine.capacity, &machine.name);
            format!("{task} needs {amount} of “{machine}” at a time, of which there are {capacity}")
        }
        Reason::Alone { task, longest } => {
            let asked = &book.tasks[*task];
            let who: Vec<_> =
                asked.hands.iter().map(|&hand| book.people[hand].name.as_str()).collect();
            let who = if who.is_empty() {
                "the longest stretch before the horizon".to_owned()
            } else {
                format!("the longest stretch in which {} can do it", who.join(" or "))
            };
            format!("{} takes {} slots; {who} has {longest}", name(book, *task), asked.work)
        }
        Reason::Horizon { links, task } => format!(
            "{} cannot end before the horizon, slot {}: {}",
            name(book, *task),
            book.horizon,
            gaps(book, links)
        ),
        Reason::Hours { links } => {
            format!("nobody's hours allow these gaps: {}", gaps(book, links))
        }
        Reason::Links { together, loosen } => {
            let together = gaps(book, together);
            let together = format!("there is no plan that keeps these gaps together: {together}");
            if loosen.is_empty() {
                together
            } else {
                format!("{together}; loosen: {}", gaps(book, loosen))
            }
        }
        Reason::Full => {
            "there is no plan, whatever the gaps: too much is to be done before the horizon, or \
             fixed tasks are in the way"
                .to_owned()
        }
    }
}
