//! When the post goes, and when pieces are due.

use super::dice::Dice;
use super::hours::{DAY, HOUR, WEEK_DAYS};
use super::{Due, Kind};
use schedule::{Book, Slot};

/// The post goes from Monday to Saturday at this hour.
const POST: Slot = 17 * HOUR;

/// Slots in which the post goes, up to the horizon.
fn posting(horizon: Slot) -> Vec<Slot> {
    let days = (0..horizon / DAY).filter(|day| day % WEEK_DAYS != WEEK_DAYS - 1);
    days.map(|day| day * DAY + POST).collect()
}

/// Sets due days so that the hands fit into the hours before them, as near as the kind says.
///
/// `leads` says how long each piece takes when nothing else is made, slots.
pub fn spread(book: &mut Book, dice: &mut Dice, kind: Kind, leads: &[Slot]) {
    let post = posting(book.horizon);
    // How much of the load the hours up to a due day hold, and of its lead a piece is given, percent.
    let (hours_percent, lead_percent) = match kind.due {
        Due::Tight => (105, 115),
        Due::Loose => (150, 200),
        Due::Overloaded => (60, 80),
    };
    let mut load = vec![0; leads.len()];
    for task in &book.tasks {
        load[task.job] += task.work;
    }
    let mut order: Vec<usize> = (0..leads.len()).collect();
    for last in (1..order.len()).rev() {
        order.swap(last, usize::try_from(dice.between(0, last as i32)).expect("an index"));
    }
    let mut so_far = 0;
    for job in order {
        so_far += load[job];
        let hours = when_open(book, so_far * hours_percent / 100);
        let wanted = hours.max(leads[job] * lead_percent / 100);
        let next = post.partition_point(|&leave| leave < wanted);
        book.jobs[job].due = post.get(next).copied();
        book.jobs[job].leaves.clone_from(&post);
    }
}

/// The slot by which everyone together has had so many open slots.
fn when_open(book: &Book, slots: Slot) -> Slot {
    let mut stretches: Vec<_> =
        book.people.iter().flat_map(|person| person.open.stretches()).collect();
    stretches.sort_unstable();
    let mut open = 0;
    for (from, to) in stretches {
        open += to - from;
        if open >= slots {
            return *to;
        }
    }
    book.horizon
}
