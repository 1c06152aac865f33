//! What can happen to a book while a plan is in force.

use crate::book::{Book, Link, Outage, Slot, Task};
use crate::plan::Placed;

/// Someone is away from one slot up to another, not included.
pub fn lose_days(book: &mut Book, person: usize, from: Slot, to: Slot) {
    book.people[person].open = book.people[person].open.without((from, to));
}

/// So much less of a machine from one slot up to another, not included: a spindle is out.
pub fn spindle_out(book: &mut Book, machine: usize, amount: u16, from: Slot, to: Slot) {
    book.machines[machine].outages.push(Outage { from, to, amount });
}

/// A task is done, or under way: it stands there for good.
pub fn done(book: &mut Book, task: usize, placed: Placed) {
    book.tasks[task].fixed = Some(placed);
}

/// How a coat that failed is made good.
#[derive(Debug, Clone, PartialEq)]
pub struct Mending {
    /// The sanding; its job is that of the coat.
    pub sand: Task,
    /// Least gap from the end of the coat to the sanding, slots.
    pub before: Slot,
    /// Least gap from the end of the sanding to the coat again, slots.
    pub after: Slot,
}

/// A coat that is done has failed: it is sanded and poured again, and what was to follow it follows the
/// new one. Gives the indices of the sanding and of the new coat, which come last of all tasks.
pub fn fail(book: &mut Book, task: usize, mending: Mending) -> (usize, usize) {
    let (sand, again) = (book.tasks.len(), book.tasks.len() + 1);
    let coat = &book.tasks[task];
    let coat = Task { name: format!("{} again", coat.name), fixed: None, ..coat.clone() };
    book.tasks.push(Task { job: coat.job, optional: false, fixed: None, ..mending.sand });
    book.tasks.push(coat);
    for link in book.links.iter_mut().filter(|link| link.from == task) {
        link.from = again;
    }
    let link = |from, to, least| Link { from, to, least, most: None, relief: None };
    book.links.push(link(task, sand, mending.before));
    book.links.push(link(sand, again, mending.after));
    (sand, again)
}
