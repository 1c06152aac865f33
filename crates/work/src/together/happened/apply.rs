//! Fixes tasks where they stand, and lets those that failed be done again.

use crate::StepKind;
use crate::together::clock::slots_up;
use crate::together::links::sand;
use crate::together::tasks::Builder;
use crate::together::{Meaning, Ordered, What};
use jiff::civil::DateTime;
use piece::hours::{Happened, State};
use piece::{Diagnostic, FieldPath};
use schedule::{Link, Placed, Slot, Task};
use std::collections::{BTreeMap, BTreeSet};

/// Puts what happened to a task into the book.
///
/// # Errors
/// It cannot have happened so.
pub(super) fn apply(
    builder: &mut Builder<'_>,
    order: &Ordered,
    task: usize,
    one: &Happened,
    path: &FieldPath,
) -> Result<(), Diagnostic> {
    let maker = maker(builder, one, path)?;
    keep_sanding(builder, task);
    match one.state {
        State::Done(began, ended) => done(builder, task, (began, ended), maker, path),
        State::UnderWay(began, left_min) => {
            under_way(builder, task, (began, left_min), maker, path)
        }
        State::Failed(ended) => {
            not_later(builder, ended, &path.key("ended"))?;
            failed(builder, order, task, ended);
            Ok(())
        }
    }
}

fn maker(
    builder: &Builder<'_>,
    one: &Happened,
    path: &FieldPath,
) -> Result<Option<usize>, Diagnostic> {
    let Some(name) = &one.maker else { return Ok(None) };
    let found = builder.crew.makers.iter().position(|maker| maker.name == *name);
    found.map(Some).ok_or_else(|| {
        let known: Vec<&str> =
            builder.crew.makers.iter().map(|maker| maker.name.as_str()).collect();
        Diagnostic::error(path.key("maker"), format!("there is no maker called `{name}`"))
            .hint(format!("there is {}", known.join(", ")))
    })
}

fn not_later(builder: &Builder<'_>, moment: DateTime, path: &FieldPath) -> Result<(), Diagnostic> {
    if builder.slots.at(moment) <= builder.begins {
        return Ok(());
    }
    let begins = builder.slots.zone().to_datetime(builder.begins).strftime("%Y-%m-%d %H:%M");
    let message =
        format!("{} is after the plan begins, on {begins}", moment.strftime("%Y-%m-%d %H:%M"));
    Err(Diagnostic::error(path.clone(), message)
        .hint("let the plan begin later, or write \"under-way\" for what is not done yet"))
}

fn done(
    builder: &mut Builder<'_>,
    task: usize,
    (began, ended): (Option<DateTime>, DateTime),
    maker: Option<usize>,
    path: &FieldPath,
) -> Result<(), Diagnostic> {
    not_later(builder, ended, &path.key("ended"))?;
    let to = builder.slots.holding(builder.slots.at(ended));
    let from = began.map_or(to - builder.book.tasks[task].work, |began| {
        builder.slots.holding(builder.slots.at(began))
    });
    builder.meanings[task].done_by = maker;
    fix_done(builder, task, from.min(to - 1), to);
    Ok(())
}

/// Fixes a task that is over; nobody is needed for it any more, and only what still turns or dries takes
/// up room.
fn fix_done(builder: &mut Builder<'_>, task: usize, from: Slot, to: Slot) {
    let first = builder.first_slot();
    let told = &mut builder.book.tasks[task];
    told.work = to - from;
    told.hands.clear();
    told.sittings = None;
    told.mix = None;
    told.optional = false;
    told.not_before = from;
    told.uses.retain(|used| from + used.from + used.length > first);
    told.fixed = Some(Placed { person: None, stretches: vec![(from, to)], mix: None });
}

fn under_way(
    builder: &mut Builder<'_>,
    task: usize,
    (began, left_min): (DateTime, Option<f64>),
    maker: Option<usize>,
    path: &FieldPath,
) -> Result<(), Diagnostic> {
    not_later(builder, began, &path.key("began"))?;
    let from = builder.slots.holding(builder.slots.at(began));
    let first = builder.first_slot();
    let told = &mut builder.book.tasks[task];
    told.optional = false;
    told.hands.retain(|hand| maker.is_none_or(|maker| maker == *hand));
    let Some(&person) = told.hands.first() else {
        let message = "she does not do this kind of step";
        return Err(Diagnostic::error(path.key("maker"), message)
            .hint("name who does it, or add the kind to her `does`"));
    };
    let to = from + told.work;
    let wet = !told.uses.is_empty() || told.mix.is_some();
    if wet && to > first {
        if told.hands.len() > 1 {
            let message = "who does it is not said, and it cannot be handed over";
            return Err(Diagnostic::error(path.clone(), message).hint("add `maker`"));
        }
        told.mix = None;
        told.sittings = None;
        told.not_before = from;
        told.fixed = Some(Placed { person: Some(person), stretches: vec![(from, to)], mix: None });
    } else if wet {
        fix_done(builder, task, from, to);
    } else {
        // The rest of it is placed as hours allow.
        told.work = match left_min {
            Some(left_min) => slots_up(left_min).max(1),
            None => (told.work - (first - from)).max(1),
        };
        told.not_before = first;
    }
    Ok(())
}

/// Lets a task be done again; after wet work what failed is sanded off first, once it is hard.
fn failed(builder: &mut Builder<'_>, order: &Ordered, task: usize, ended: DateTime) {
    let ended = builder.slots.beginning(builder.slots.at(ended));
    let first = builder.first_slot();
    let group = &order.groups[builder.meanings[task].group];
    let step = &group.steps.steps[builder.meanings[task].steps.start];
    builder.book.tasks[task].optional = false;
    let hard_min = match step.kind {
        StepKind::Pour => order.coats.waits.sandable_min - builder.settings.times.watch_min,
        StepKind::Paint | StepKind::Glitter => builder.settings.paint.before_resin_min,
        _ => {
            let told = &mut builder.book.tasks[task];
            told.not_before = first.max(ended);
            return;
        }
    };
    let part = step.part.unwrap_or(0);
    let mut sanding = group.sandings.get(&part).cloned().unwrap_or_else(|| step.clone());
    sanding.name = What::SandOff.name(&step.name);
    sanding.hands_on_min = builder.settings.times.sand_min;
    sanding.set_up_min = 0.0;
    let hard = (ended + slots_up(hard_min.max(0.0))).max(first);
    let made = Task { not_before: hard, ..sand(builder, order, &sanding, task) };
    let meaning = Meaning { what: What::SandOff, ..builder.meanings[task].clone() };
    let sand = builder.push(made, meaning);
    // It is sanded anyway: no window is left to keep.
    for link in builder.book.links.iter_mut().filter(|link| link.to == task) {
        (link.most, link.relief) = (None, None);
    }
    builder.book.links.push(Link { from: sand, to: task, least: 0, most: None, relief: None });
}

/// A sanding that is told of was called for: it stands between its two pours from now on.
fn keep_sanding(builder: &mut Builder<'_>, task: usize) {
    let links = &mut builder.book.links;
    let called = links.iter_mut().find_map(|link| {
        let relief = link.relief.filter(|relief| relief.task == task)?;
        (link.most, link.relief) = (None, None);
        Some((link.from, link.to, relief))
    });
    if let Some((from, to, relief)) = called {
        let gap = |from, to, least| Link { from, to, least, most: None, relief: None };
        links.push(gap(from, task, relief.before));
        links.push(gap(task, to, relief.after));
        builder.book.tasks[task].optional = false;
    }
}

/// Takes what comes before the steps told of to be done, each as late as it can have been.
pub(super) fn before(builder: &mut Builder<'_>, touched: &BTreeSet<usize>) {
    let begins_of = |builder: &Builder<'_>, task: usize| {
        let told = &builder.book.tasks[task];
        told.fixed.as_ref().map_or(builder.first_slot(), Placed::begins)
    };
    let mut open: Vec<usize> = touched.iter().copied().collect();
    let mut latest: BTreeMap<usize, Slot> = BTreeMap::new();
    while let Some(task) = open.pop() {
        let begins = match latest.get(&task) {
            Some(to) => to - builder.book.tasks[task].work,
            None => begins_of(builder, task),
        };
        for link in builder.book.links.iter().filter(|link| link.to == task) {
            let optional = builder.book.tasks[link.from].optional;
            // What failed is yet to be sanded off.
            let to_come = builder.meanings[link.from].what == What::SandOff;
            if touched.contains(&link.from) || optional || to_come {
                continue;
            }
            let to = begins - link.least.max(0);
            let known = latest.get(&link.from).copied();
            if known.is_none_or(|known| to < known) {
                latest.insert(link.from, to);
                open.push(link.from);
            }
        }
    }
    for (task, to) in latest {
        let work = builder.book.tasks[task].work.max(1);
        // The book holds a month before the first that is told of; longer ago is as good.
        fix_done(builder, task, (to - work).max(0), to.max(1));
        builder.meanings[task].assumed = true;
    }
    let fixed: Vec<bool> = builder.book.tasks.iter().map(|task| task.fixed.is_some()).collect();
    builder.book.links.retain(|link| !(fixed[link.from] && fixed[link.to]));
}
