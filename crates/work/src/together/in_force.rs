//! The plan in force: written down by what its tasks mean, so that it is found again when hours, orders
//! or steps have changed since.

use super::clock::SLOT_MIN;
use super::{Ordered, Together, What};
use jiff::Timestamp;
use piece::hours::{Days, Hours};
use piece::{Diagnostic, FieldPath};
use schedule::{Cost, Placed, Plan, Slot};
use serde::{Deserialize, Serialize};
use std::collections::{BTreeMap, BTreeSet};

/// Version of this form.
const VERSION: u32 = 1;

/// A plan as it is kept in a file.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Kept {
    /// Version of this form.
    pub cupwright_timetable: u32,
    /// Its tasks.
    pub tasks: Vec<KeptTask>,
}

/// Where one task stands.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct KeptTask {
    /// Short name of the order.
    pub order: String,
    /// Which group of its pieces, from 1.
    pub group: u32,
    /// Name of its first step.
    pub step: String,
    /// What of it is done: the step itself, or a sanding before it.
    pub what: What,
    /// Which of the tasks that are called so, from 1.
    pub number: u32,
    /// Who does it.
    pub maker: Option<String>,
    /// From when to when.
    pub sittings: Vec<(Timestamp, Timestamp)>,
    /// Number of its mix, from 0.
    pub mix: Option<u32>,
}

/// Slots of a day.
const DAY: Slot = 24 * 60 / SLOT_MIN as Slot;

/// What a task is called: order, group, first step, what of it, and which of those.
type Called = (String, u32, String, What, u32);

impl Kept {
    /// Whether this program reads such a file.
    pub fn is_known(&self) -> bool {
        self.cupwright_timetable == VERSION
    }

    /// Orders and makers that this plan names and that are not there any more: nothing of theirs is kept.
    pub fn unknown(&self, together: &Together, orders: &[Ordered]) -> Vec<Diagnostic> {
        let mut gone = BTreeSet::new();
        for task in &self.tasks {
            if !orders.iter().any(|order| order.name == task.order) {
                gone.insert(("order", task.order.as_str()));
            }
            if let Some(maker) = &task.maker
                && !together.book.people.iter().any(|person| person.name == *maker)
            {
                gone.insert(("maker", maker.as_str()));
            }
        }
        let told = gone.into_iter().map(|(what, name)| {
            Diagnostic::warning(
                FieldPath::root().key(what),
                format!("the timetable in force names the {what} `{name}`, which is not in the hours file: what it has of that is planned anew, even what is done"),
            )
            .hint("give the old name back, or tell what is done by [[happened]]; what is told to have moved leaves that out")
        });
        told.collect()
    }

    /// A plan to be kept.
    pub fn of(together: &Together, orders: &[Ordered], plan: &Plan) -> Self {
        let called = called(together, orders);
        let tasks = called.into_iter().zip(&plan.tasks).filter_map(|(called, placed)| {
            let placed = placed.as_ref()?;
            let (order, group, step, what, number) = called;
            let moment = |&(from, to): &(Slot, Slot)| {
                (together.slots.moment(from), together.slots.moment(to))
            };
            Some(KeptTask {
                order,
                group,
                step,
                what,
                number,
                maker: placed.person.map(|person| together.book.people[person].name.clone()),
                sittings: placed.stretches.iter().map(moment).collect(),
                mix: placed.mix,
            })
        });
        Self { cupwright_timetable: VERSION, tasks: tasks.collect() }
    }

    /// Where the tasks of a book stand by this plan: those that it knows by the same names.
    pub fn in_force(&self, together: &Together, orders: &[Ordered]) -> Plan {
        let mut known: BTreeMap<Called, &KeptTask> = BTreeMap::new();
        for task in &self.tasks {
            let called =
                (task.order.clone(), task.group, task.step.clone(), task.what, task.number);
            known.insert(called, task);
        }
        let people = &together.book.people;
        let slot = |moment: Timestamp| together.slots.holding(moment);
        let placed = called(together, orders).into_iter().enumerate().map(|(index, called)| {
            let task = known.get(&called)?;
            let person = task
                .maker
                .as_ref()
                .and_then(|name| people.iter().position(|person| person.name == *name));
            let needs_hands = !together.book.tasks[index].hands.is_empty();
            // Whoever did it does not work here any more: it must be planned anew.
            (person.is_some() || !needs_hands).then(|| Placed {
                person,
                stretches: task.sittings.iter().map(|&(from, to)| (slot(from), slot(to))).collect(),
                mix: task.mix,
            })
        });
        Plan { tasks: placed.collect(), cost: Cost::default(), bound: Cost::default() }
    }
}

/// What the tasks of a book are called.
fn called(together: &Together, orders: &[Ordered]) -> Vec<Called> {
    let mut times: BTreeMap<(usize, usize, String, What), u32> = BTreeMap::new();
    let meanings = together.meanings.iter().map(|meaning| {
        let order = &orders[meaning.order];
        let step = &order.groups[meaning.group].steps.steps[meaning.steps.start].name;
        let alike = (meaning.order, meaning.group, step.clone(), meaning.what);
        let number = times.entry(alike).or_insert(0);
        *number += 1;
        (order.name.clone(), meaning.group as u32 + 1, step.clone(), meaning.what, *number)
    });
    meanings.collect()
}

/// Takes as done what the plan in force puts before the first moment that is planned now, and what is
/// under way then; not what its maker was away for, nor what waits for something that is not done. What
/// was told of a step goes before.
pub fn carry_on(together: &mut Together, hours: &Hours, in_force: &mut Plan) {
    let first = together.slots.beginning(together.begins);
    let mut done: Vec<bool> = together.book.tasks.iter().map(|task| task.fixed.is_some()).collect();
    // Of what is only taken to be done, the plan in force knows better when and by whom.
    for task in 0..done.len() {
        let planned = in_force.tasks[task].as_ref().filter(|placed| placed.ends() <= first);
        if let (true, Some(placed)) = (together.meanings[task].assumed, planned) {
            together.meanings[task].done_by = placed.person;
            let told = &mut together.book.tasks[task];
            told.fixed = Some(Placed { person: None, mix: None, ..placed.clone() });
        }
    }
    let mut order: Vec<usize> = (0..done.len()).collect();
    order.sort_by_key(|&task| in_force.tasks[task].as_ref().map(Placed::begins));
    for task in order {
        let Some(placed) = in_force.tasks[task].clone() else { continue };
        if done[task] || placed.begins() >= first {
            continue;
        }
        let waits = together.book.links.iter().filter(|link| link.to == task);
        let ready = waits.into_iter().all(|link| done[link.from]);
        let away = placed.person.is_some_and(|person| {
            let who = &together.book.people[person].name;
            placed.stretches.iter().any(|&(from, _)| was_away(together, hours, who, from))
        });
        if ready && !away {
            // Sittings that are still to come stay where they are.
            together.book.tasks[task].fixed = Some(placed);
            done[task] = true;
        } else {
            in_force.tasks[task] = None;
        }
    }
    what_has_left(together);
}

/// An order that was done a day or more before the first moment that is planned has left.
pub(crate) fn what_has_left(together: &mut Together) {
    let first = together.slots.beginning(together.begins);
    for (index, job) in together.book.jobs.iter_mut().enumerate() {
        let own = together.book.tasks.iter().filter(|task| task.job == index && !task.optional);
        let ends = own.map(|task| task.fixed.as_ref().map(Placed::ends));
        let done = ends.reduce(|last, ends| Some(last?.max(ends?))).flatten();
        if let Some(done) = done.filter(|done| done + DAY <= first) {
            job.leaves.retain(|&leave| leave > done);
            job.leaves.insert(0, done);
        }
    }
}

fn was_away(together: &Together, hours: &Hours, who: &str, slot: Slot) -> bool {
    let day = together.slots.zone().to_datetime(together.slots.moment(slot)).date();
    let holds = |days: &[Days]| days.iter().any(|(first, last)| *first <= day && day <= *last);
    let maker = hours.makers.iter().find(|maker| maker.name == who);
    holds(&hours.closed) || maker.is_some_and(|maker| holds(&maker.away))
}
