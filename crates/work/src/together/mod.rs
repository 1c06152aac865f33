//! Many pieces together: from orders and hours to a [`schedule::Book`], and from its plan to a
//! [`crate::rota::Rota`].
//!
//! Takes the hours file, the studio's settings and each order's steps; gives a book in slots of five
//! minutes of real time, so that a night in which the clocks change is as long as it is.
//! `clock.rs` knows the slots, `crew.rs` who is there when, `groups.rs` how many pieces are made at a
//! time, `unit.rs` which steps are one task, `tasks.rs` and `links.rs` make the book of them, `mixes.rs`
//! which pours may share a mix, `post.rs` when an order leaves, `happened/` what is done already;
//! `rota.rs` reads a plan back, `reasons.rs` says why it is so, `sure.rs` how sure it is;
//! `in_force.rs` keeps it for the next time, and `moves.rs` says what moved since.
//! Read first: `unit.rs`, then `tasks.rs` and `links.rs`.

mod clock;
mod contradictions;
mod crew;
mod groups;
mod happened;
mod horizon;
mod in_force;
mod links;
mod mixes;
mod moves;
mod post;
mod quality;
mod reasons;
mod rota;
mod spindles;
mod sure;
mod tasks;
mod unit;

pub use clock::{SLOT_MIN, Slots};
pub use contradictions::{contradictions, without_place};
pub use crew::craft;
pub use groups::group_sizes;
pub use in_force::{Kept, KeptTask, carry_on};
pub use moves::{Change, changes};
pub use rota::rota;
pub use sure::{Sureness, sureness};

use crate::how::How;
use crate::steps::steps_with_sanding;
use crate::{Step, StepKind, Steps};
use coats::Coats;
use crew::Crew;
use jiff::Timestamp;
use jiff::civil::Date;
use piece::hours::{Hours, When};
use piece::{Diagnostic, FieldPath, Piece, Settings};
use schedule::Book;
use serde::{Deserialize, Serialize};
use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;
use stones::{Stones, plan_setting};

/// One order and how it is made.
#[derive(Debug, Clone)]
pub struct Ordered {
    /// Short name, unique.
    pub name: String,
    /// Where it stands in the hours file; the root for one that is named elsewhere.
    pub path: FieldPath,
    /// The piece, with the quantity of the order.
    pub piece: Piece,
    /// Its coats.
    pub coats: Coats,
    /// Day on which the customer wants it.
    pub due: Option<Date>,
    /// How much a day late weighs.
    pub weight: u32,
    /// First moment on which it may be begun.
    pub begin: Option<When>,
    /// Handed over in the studio: no post.
    pub hand_over: bool,
    /// The groups in which its pieces are made.
    pub groups: Vec<Group>,
}

/// Pieces that are made together.
#[derive(Debug, Clone)]
pub struct Group {
    /// How many.
    pub pieces: u32,
    /// Their steps, if every recoat window is kept.
    pub steps: Steps,
    /// The sanding before a coat whose window was missed, by part.
    pub sandings: BTreeMap<usize, Step>,
}

impl Group {
    /// The steps of so many pieces as `piece.quantity` says, made together.
    pub fn of(piece: &Piece, settings: &Settings, coats: &Coats, stones: &Stones) -> Self {
        let setting = &plan_setting(piece, settings, stones);
        let how = How { piece, settings, coats, stones, setting };
        let every_coat: BTreeSet<usize> = (0..coats.coats.len()).collect();
        // A sanding that makes up for a window names the zone of the pour after it.
        let sanded = steps_with_sanding(how, &every_coat).steps.into_iter();
        let sandings = sanded
            .filter(|step| step.kind == StepKind::Sand && step.zone.is_some())
            .filter_map(|step| Some((step.part?, step)))
            .collect();
        let steps = steps_with_sanding(how, &BTreeSet::new());
        Self { pieces: piece.quantity.max(1), steps, sandings }
    }
}

/// What a task of the book stands for.
#[derive(Debug, Clone, PartialEq)]
pub struct Meaning {
    /// Index of the order.
    pub order: usize,
    /// Index of its group; the first for what is done once for all of them.
    pub group: usize,
    /// The steps of that group that it does, one right after the other.
    pub steps: Range<usize>,
    /// What of them.
    pub what: What,
    /// Who did it, where it is done already and that was told.
    pub done_by: Option<usize>,
    /// It is taken to be done because something after it is.
    pub assumed: bool,
}

/// What a task does with its steps.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum What {
    /// The steps themselves.
    Steps,
    /// The sanding before them, as their recoat window was missed.
    SandFirst,
    /// The sanding before them, as they failed.
    SandOff,
}

impl What {
    /// What a task that does this with a step is called.
    pub(crate) fn name(self, step: &str) -> String {
        match self {
            Self::Steps => step.to_owned(),
            Self::SandFirst => format!("Sand before: {step}"),
            Self::SandOff => format!("Sand off and repair: {step}"),
        }
    }
}

/// A book of orders, and what its tasks mean.
#[derive(Debug, Clone)]
pub struct Together {
    /// What is to be timed.
    pub book: Book,
    /// For each of its tasks, what it stands for.
    pub meanings: Vec<Meaning>,
    /// Where its slots lie in time.
    pub slots: Slots,
    /// First moment that is planned.
    pub begins: Timestamp,
    /// For each order, the last moment at which it may leave to be there in time.
    pub leave_by: Vec<Option<Timestamp>>,
    /// Warnings about the hours and the orders.
    pub notes: Vec<Diagnostic>,
}

/// The book of these orders.
///
/// # Errors
/// Nobody says when to begin, nobody works or does what is to be done, there is no spindle for what is
/// poured, no stretch of hours is long enough for a step that cannot wait, or something happened that
/// cannot have.
pub fn plan_book(
    hours: &Hours,
    settings: &Settings,
    orders: &[Ordered],
    begin: Option<When>,
) -> Result<Together, Vec<Diagnostic>> {
    let begins = clock::begins(hours, begin).map_err(|error| vec![error])?;
    let slots = Slots::new(&hours.zone, clock::earliest(hours, begins));
    let last = horizon::last_day(hours, settings, &slots, begins, orders);
    let crew = Crew::new(hours, settings, &slots, begins, last);
    let mut builder = tasks::Builder::new(hours, settings, &slots, &crew, begins, last);
    builder.notes.extend(clock::begin_note(hours, begin));
    if let Some(error) = crew.nobody(slots.zone().to_datetime(begins).date()) {
        return Err(vec![error]);
    }
    let pot = orders.iter().find_map(|order| mixes::Pot::of(settings, order.coats.pours.as_ref()?));
    let mut leave_by = Vec::with_capacity(orders.len());
    for (index, order) in orders.iter().enumerate() {
        let mut mapped = Vec::with_capacity(order.groups.len());
        leave_by.push(builder.job(order));
        for group in 0..order.groups.len() {
            let tasks = builder.tasks(index, order, group, mapped.first(), pot.as_ref());
            links::link(&mut builder, order, group, &tasks);
            mapped.push(tasks);
        }
        happened::happened(&mut builder, order, &mapped);
    }
    happened::unknown_orders(&mut builder, orders);
    let mut together = builder.done(leave_by)?;
    in_force::what_has_left(&mut together);
    Ok(together)
}
