//! Gaps between the tasks of a group.

use super::clock::{slots_down, slots_up};
use super::tasks::{Builder, Tasks};
use super::{Group, Meaning, Ordered, What};
use crate::place::whole_min;
use crate::{Step, StepKind};
use schedule::{Link, Relief, Slot, Task};

/// Adds the gaps between the tasks of a group, and the sandings where a recoat window may be missed.
pub(crate) fn link(builder: &mut Builder<'_>, order: &Ordered, group: usize, tasks: &Tasks<'_>) {
    let told = &order.groups[group];
    for (unit, own) in tasks.units.iter().zip(&tasks.own) {
        // What is done once for the order waits for its first group alone.
        if !own {
            continue;
        }
        for step in unit.range.clone() {
            for &before in &told.steps.steps[step].after {
                let (from, to) =
                    (tasks.task[tasks.of_step[before]], tasks.task[tasks.of_step[step]]);
                if from == to {
                    continue;
                }
                let least = slots_up(told.steps.wait_between_min(before, step));
                let window =
                    (step == unit.range.start).then(|| window(told, before, step, least)).flatten();
                let relief = window.and_then(|_| relief(builder, order, group, to, step));
                add(&mut builder.book.links, Link { from, to, least, most: window, relief });
            }
        }
    }
}

/// Adds a gap, or widens the one that is there.
fn add(links: &mut Vec<Link>, link: Link) {
    match links.iter_mut().find(|other| (other.from, other.to) == (link.from, link.to)) {
        Some(other) => {
            other.least = other.least.max(link.least);
            if link.most.is_some() {
                (other.most, other.relief) = (link.most, link.relief);
            }
        }
        None => links.push(link),
    }
}

/// How long after the end of a pour the next one must begin at the latest, or what lies between must be
/// sanded, slots. The window of the piece that was poured first closes first.
fn window(told: &Group, before: usize, step: usize, least: Slot) -> Option<Slot> {
    let steps = &told.steps.steps;
    if steps[step].kind != StepKind::Pour {
        return None;
    }
    let earlier = &steps[before];
    let after_first_min = f64::from(told.pieces - 1) * earlier.work_min();
    Some(slots_down(earlier.sand_after_min? - after_first_min).max(least))
}

/// The sanding before a pour whose window was missed; `None` if nobody sands, so that it must be kept.
fn relief(
    builder: &mut Builder<'_>,
    order: &Ordered,
    group: usize,
    to: usize,
    step: usize,
) -> Option<Relief> {
    let part = order.groups[group].steps.steps[step].part?;
    let sanding = order.groups[group].sandings.get(&part)?;
    if builder.crew.who(&[StepKind::Sand]).is_empty() {
        return None;
    }
    let meaning = Meaning { what: What::SandFirst, ..builder.meanings[to].clone() };
    let task = Task { optional: true, ..sand(builder, order, sanding, to) };
    let task = builder.push(task, meaning);
    let watch_min = builder.settings.times.watch_min;
    let hard_min = (order.coats.waits.sandable_min - watch_min).max(0.0);
    Some(Relief { task, before: slots_up(hard_min), after: slots_up(sanding.wait_min) })
}

/// A sanding before a task.
pub(crate) fn sand(
    builder: &mut Builder<'_>,
    order: &Ordered,
    sanding: &Step,
    before: usize,
) -> Task {
    let next = &builder.book.tasks[before];
    let (job, not_before) = (next.job, next.not_before);
    let pieces = order.groups[builder.meanings[before].group].pieces;
    let min = whole_min(sanding.work_min() * f64::from(pieces) + sanding.set_up_min);
    Task {
        name: format!("{}: {}", order.name, sanding.name),
        job,
        work: slots_up(min as f64).max(1),
        hands: builder.who(&[StepKind::Sand]),
        sittings: None,
        uses: Vec::new(),
        not_before,
        optional: false,
        mix: None,
        fixed: None,
    }
}
