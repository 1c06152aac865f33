//! What no plan gets below, from the room that there is.

use super::needs::Need;
use super::plain::Plain;
use crate::book::Slot;

/// Least slot at which all tasks have ended; nothing if some room never holds what is asked of it.
///
/// Each room has to hold all that is asked, from the first slot at which anything can ask for it,
/// and something follows what is last.
pub(super) fn least_end(plain: &Plain, early: &[Slot], late: &[Slot]) -> Option<Slot> {
    let stands = plain.items.iter().any(|item| item.fixed);
    // From a task's begin to the end of all, at least. Where tasks are fixed, latest begins follow
    // from them and say nothing about the end.
    let follows = |task: usize| {
        let alone = plain.items[task].length;
        if stands { alone } else { alone.max(plain.book.horizon - late[task]) }
    };
    let ends = early.iter().enumerate().map(|(task, early)| early + follows(task));
    let mut least = ends.max().unwrap_or(0);
    for room in 0..plain.rooms.len() {
        let all = plain.items.iter().enumerate();
        let needs: Vec<(usize, Need)> = all
            .flat_map(|(task, item)| item.needs.iter().map(move |need| (task, *need)))
            .filter(|(_, need)| need.room == room)
            .collect();
        let Some(from) = needs.iter().map(|(task, need)| early[*task] + need.from).min() else {
            continue;
        };
        let asked = needs.iter().map(|(_, need)| i64::from(need.amount) * i64::from(need.length));
        let full = plain.rooms[room].holds_by(from, asked.sum())?;
        // Nothing is taken of a room after the last begin, but for what that task takes then.
        let last = needs.iter().map(|(task, need)| late[*task] + need.from + need.length).max();
        if last.is_some_and(|last| full > last) {
            return None;
        }
        let rests = needs.iter().map(|(task, need)| follows(*task) - need.from - need.length);
        least = least.max(full + rests.min().unwrap_or(0));
    }
    Some(least)
}
