//! Which task is meant by an order, a part and the name of a step.

use crate::together::tasks::{Builder, Tasks};
use crate::together::{Ordered, What};
use crate::words::count;
use piece::hours::Happened;
use piece::nearest::nearest;
use piece::units::shorten;
use piece::{Diagnostic, FieldPath};

/// Most steps that are listed in a complaint.
const MOST_LISTED: usize = 12;

/// The index of the task that is meant.
///
/// # Errors
/// There is no such group, part or step, or there are several.
pub(super) fn task(
    builder: &Builder<'_>,
    order: &Ordered,
    mapped: &[Tasks<'_>],
    one: &Happened,
    path: &FieldPath,
) -> Result<usize, Diagnostic> {
    let part = part(order, one, path)?;
    let names = named(builder, order, mapped, group(order, one, path)?, part);
    let found: Vec<usize> =
        names.iter().filter(|(name, _)| *name == one.step).map(|(_, task)| *task).collect();
    if let Some(&task) = found.get(one.number as usize - 1) {
        return Ok(task);
    }
    if !found.is_empty() {
        let message = format!("of the steps called `{}` there {} here", one.step, is(found.len()));
        return Err(Diagnostic::error(path.key("number"), message)
            .hint("count them from 1, in the order of the work"));
    }
    let known: Vec<&str> = names.iter().map(|(name, _)| name.as_str()).collect();
    let of_part = one.part.as_ref().map_or(String::new(), |part| format!(" on {part}"));
    let message = format!("`{}` has no step called `{}`{of_part}", order.name, shorten(&one.step));
    let error = Diagnostic::error(path.key("step"), message);
    Err(match nearest(&one.step, &known) {
        Some(meant) => error.hint(format!("did you mean \"{meant}\"?")),
        None => {
            let mut listed: Vec<String> =
                known.iter().take(MOST_LISTED).map(|name| format!("\"{name}\"")).collect();
            if known.len() > MOST_LISTED {
                listed.push(format!("{} more", known.len() - MOST_LISTED));
            }
            error.hint(format!("its steps are {}", crate::words::list(&listed)))
        }
    })
}

fn is(number: usize) -> String {
    match number {
        1 => "is 1".to_owned(),
        number => format!("are {number}"),
    }
}

fn part(order: &Ordered, one: &Happened, path: &FieldPath) -> Result<Option<usize>, Diagnostic> {
    let Some(name) = &one.part else { return Ok(None) };
    let known: Vec<&str> = order.piece.parts.iter().map(|part| part.name.as_str()).collect();
    if let Some(index) = known.iter().position(|part| part == name) {
        return Ok(Some(index));
    }
    let message = format!("`{}` has no part called `{name}`", order.name);
    let error = Diagnostic::error(path.key("part"), message);
    Err(match nearest(name, &known) {
        Some(meant) => error.hint(format!("did you mean \"{meant}\"?")),
        None => error.hint(format!("it has {}", known.join(", "))),
    })
}

fn group(order: &Ordered, one: &Happened, path: &FieldPath) -> Result<usize, Diagnostic> {
    let groups = order.groups.len();
    let made = count(groups, "group");
    match one.group {
        None if groups == 1 => Ok(0),
        None => Err(Diagnostic::error(
            path.clone(),
            format!("`{}` is made in {made}; which of them is meant is not said", order.name),
        )
        .hint(format!("add `group`, from 1 to {groups}"))),
        Some(group) if (1..=groups as u32).contains(&group) => Ok(group as usize - 1),
        Some(group) => Err(Diagnostic::error(
            path.key("group"),
            format!("`{}` is made in {made}; there is no group {group}", order.name),
        )),
    }
}

/// The steps of a group on a part, or on all of it, with their tasks; sandings that may come between
/// stand before the step that they make ready for.
fn named(
    builder: &Builder<'_>,
    order: &Ordered,
    mapped: &[Tasks<'_>],
    group: usize,
    part: Option<usize>,
) -> Vec<(String, usize)> {
    let tasks = &mapped[group];
    let told = &order.groups[group];
    let mut names = Vec::new();
    for (unit, &task) in tasks.units.iter().zip(&tasks.task) {
        let on_part = |of: Option<usize>| part.is_none() || of == part;
        let sanding = builder.book.links.iter().find_map(|link| {
            let relief = link.relief.filter(|_| link.to == task)?;
            (builder.meanings[relief.task].what == What::SandFirst).then_some(relief.task)
        });
        let of_unit = unit.steps[0].part;
        if let (Some(sanding), Some(step)) =
            (sanding, of_unit.and_then(|part| told.sandings.get(&part)))
            && on_part(of_unit)
        {
            names.push((step.name.clone(), sanding));
        }
        let steps = unit.steps.iter().filter(|step| on_part(step.part));
        names.extend(steps.map(|step| (step.name.clone(), task)));
    }
    names
}
