//! Gaps as a graph: contradictions among them, and how early and late they let each task begin.

use super::plain::{Arc, Plain};
use crate::book::Slot;

/// Raises each value to what the arcs ask: `value[to] ≥ value[from] + lag`.
///
/// Longest paths by Bellman and Ford, with the arc that raised each value last.
///
/// # Errors
/// The indices of arcs along a cycle whose lags add up to more than nothing, in order.
pub(super) fn raise(arcs: &[Arc], values: &mut [i64]) -> Result<Vec<Option<usize>>, Vec<usize>> {
    let mut by = vec![None; values.len()];
    for _ in 0..=values.len() {
        let mut raised = None;
        for (index, arc) in arcs.iter().enumerate() {
            let asked = values[arc.from] + i64::from(arc.lag);
            if asked > values[arc.to] {
                values[arc.to] = asked;
                by[arc.to] = Some(index);
                raised = Some(arc.to);
            }
        }
        let Some(task) = raised else { return Ok(by) };
        if let Some(cycle) = cycle_before(arcs, &by, task) {
            return Err(cycle);
        }
    }
    unreachable!("what is raised more often than there are tasks lies behind a cycle")
}

/// The cycle that is met on the way back from a task, if there is one.
fn cycle_before(arcs: &[Arc], by: &[Option<usize>], task: usize) -> Option<Vec<usize>> {
    let mut seen = vec![false; by.len()];
    let mut at = task;
    while !seen[at] {
        seen[at] = true;
        at = arcs[by[at]?].from;
    }
    let mut cycle = Vec::new();
    let mut back = at;
    loop {
        let arc = by[back]?;
        cycle.push(arc);
        back = arcs[arc].from;
        if back == at {
            cycle.reverse();
            return Some(cycle);
        }
    }
}

/// Earliest slot at which each task can begin for the gaps and for what is closed, were it alone,
/// and latest for the gaps; nothing if they leave some task no slot.
pub(super) fn windows(plain: &Plain) -> Option<(Vec<Slot>, Vec<Slot>)> {
    let late: Vec<i64> = plain.items.iter().map(|item| -i64::from(item.latest)).collect();
    let back = |arc: &Arc| Arc { from: arc.to, to: arc.from, ..*arc };
    let backwards: Vec<Arc> = plain.arcs.iter().map(back).collect();
    let late: Vec<Slot> = raised(&backwards, late)?.iter().map(|late| -late).collect();
    let mut early: Vec<Slot> = plain.items.iter().map(|item| item.earliest).collect();
    loop {
        early = raised(&plain.arcs, early.into_iter().map(i64::from).collect())?;
        if early.iter().zip(&late).any(|(early, late)| early > late) {
            return None;
        }
        let mut put_off = false;
        for (task, early) in early.iter_mut().enumerate() {
            let fits = plain.fits(&plain.rooms, task, *early)?;
            put_off |= fits > *early;
            *early = fits;
        }
        if !put_off {
            return Some((early, late));
        }
    }
}

fn raised(arcs: &[Arc], mut values: Vec<i64>) -> Option<Vec<Slot>> {
    raise(arcs, &mut values).ok()?;
    values.into_iter().map(|value| Slot::try_from(value).ok()).collect()
}
