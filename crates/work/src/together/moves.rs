//! What moved against the plan in force, and why.

use super::reasons::sentence;
use super::{Ordered, Together};
use crate::rota::Span;
use schedule::life::Replanned;
use schedule::{Placed, Slot};

/// A step that moved.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Change {
    /// Index of the order.
    pub order: usize,
    /// Name of the step.
    pub step: String,
    /// When it was to be begun and done.
    pub was: Span,
    /// When it is now; `None` if it is not needed any more.
    pub is: Option<Span>,
    /// Who was to do it and who is, if that is someone else.
    pub hands: Option<(String, String)>,
    /// Why, in one sentence.
    pub why: String,
}

/// Everything that moved, in order of its new time.
pub fn changes(together: &Together, orders: &[Ordered], replanned: &Replanned) -> Vec<Change> {
    let span = |placed: &Placed| {
        let moment = |slot: Slot| together.slots.moment(slot);
        (moment(placed.begins()), moment(placed.ends()))
    };
    let name = |person: Option<usize>| {
        person.map_or("nobody", |person| together.book.people[person].name.as_str()).to_owned()
    };
    // What is done has not moved, even where it was told otherwise.
    let open = replanned.moved.iter().filter(|it| together.book.tasks[it.task].fixed.is_none());
    let moved = open.map(|moved| {
        let meaning = &together.meanings[moved.task];
        let step = &orders[meaning.order].groups[meaning.group].steps.steps[meaning.steps.start];
        let to = moved.to.as_ref();
        let person = to.and_then(|placed| placed.person);
        let other = to.is_some() && person != moved.from.person;
        let step = meaning.what.name(&step.name);
        Change {
            order: meaning.order,
            step,
            was: span(&moved.from),
            is: to.map(span),
            hands: other.then(|| (name(moved.from.person), name(person))),
            why: match (moved.reasons.first(), to) {
                (_, None) => "It is not needed any more.".to_owned(),
                (Some(reason), _) => sentence(together, reason),
                (None, _) => "The plan gains by it.".to_owned(),
            },
        }
    });
    moved.collect()
}
