//! Makes tasks of the steps of a group.

use super::clock::{Slots, first_moment, slots_down, slots_up};
use super::crew::{Crew, craft};
use super::mixes::Pot;
use super::unit::{Unit, units};
use super::{Meaning, Ordered, Together, What, post};
use crate::StepKind;
use coats::Matter;
use jiff::Timestamp;
use jiff::civil::Date;
use piece::hours::Hours;
use piece::{Diagnostic, FieldPath, Settings};
use schedule::{Book, Machine, Outage, Person, Sittings, Slot, Task, Use};

/// Index of the spindles among the machines of a book.
pub(crate) const SPINDLES: usize = 0;
/// Index of the racks, where their number is told.
pub(crate) const RACKS: usize = 1;

/// No sitting is opened for less work than this, min (our choice).
const LEAST_MIN: f64 = 15.0;
/// Stones are not laid out for less setting than this, min (our choice).
const LEAST_SETTING_MIN: f64 = 30.0;
/// Rest between two sittings of setting stones, min (eyes, neck and fingers; common practice).
const REST_MIN: f64 = 15.0;

/// A book that grows.
pub(crate) struct Builder<'a> {
    pub hours: &'a Hours,
    pub settings: &'a Settings,
    pub slots: &'a Slots,
    pub crew: &'a Crew,
    pub begins: Timestamp,
    last: Date,
    pub book: Book,
    pub meanings: Vec<Meaning>,
    pub notes: Vec<Diagnostic>,
    pub errors: Vec<Diagnostic>,
}

/// The tasks of one group.
pub(crate) struct Tasks<'o> {
    /// Its units, in the order of its steps.
    pub units: Vec<Unit<'o>>,
    /// The task of each unit.
    pub task: Vec<usize>,
    /// Whether that task was made for this group, and not for an earlier one of the order.
    pub own: Vec<bool>,
    /// The unit of each step.
    pub of_step: Vec<usize>,
}

impl<'a> Builder<'a> {
    pub fn new(
        hours: &'a Hours,
        settings: &'a Settings,
        slots: &'a Slots,
        crew: &'a Crew,
        begins: Timestamp,
        last: Date,
    ) -> Self {
        let people = crew.makers.iter().zip(&crew.open);
        let people =
            people.map(|(maker, open)| Person { name: maker.name.clone(), open: open.clone() });
        let outages = hours.spindle_outs.iter().map(|out| Outage {
            from: slots.holding(slots.at(out.from)),
            to: slots.beginning(slots.at(out.to)),
            amount: out.spindles,
        });
        let machine = |name: &str, capacity: u16, outages: Vec<Outage>| Machine {
            name: name.to_owned(),
            capacity,
            outages,
        };
        let mut machines = vec![machine("spindles", hours.spindles, outages.collect())];
        machines.extend(hours.racks.map(|racks| machine("racks", racks, Vec::new())));
        let end = last.tomorrow().unwrap_or(last).at(0, 0, 0, 0);
        let book = Book {
            horizon: slots.holding(slots.at(end)),
            people: people.collect(),
            machines,
            ..Book::default()
        };
        Self {
            hours,
            settings,
            slots,
            crew,
            begins,
            last,
            book,
            meanings: Vec::new(),
            notes: crew.notes.clone(),
            errors: Vec::new(),
        }
    }

    /// First slot in which anything may be done.
    pub fn first_slot(&self) -> Slot {
        self.slots.beginning(self.begins)
    }

    /// Adds the job of an order; gives the last moment at which it may leave to be there in time.
    pub fn job(&mut self, order: &Ordered) -> Option<Timestamp> {
        let moments = post::Moments {
            hours: self.hours,
            post_days: self.settings.times.post_days,
            slots: self.slots,
            crew: self.crew,
            begins: self.begins,
            last: self.last,
        };
        let (job, leave_by, note) = moments.job(order);
        self.book.jobs.push(job);
        self.notes.extend(note);
        leave_by
    }

    /// Adds the tasks of one group; `first` are those of the order's first group.
    pub fn tasks<'o>(
        &mut self,
        order_index: usize,
        order: &'o Ordered,
        group: usize,
        first: Option<&Tasks<'o>>,
        pot: Option<&Pot>,
    ) -> Tasks<'o> {
        let told = &order.groups[group];
        let units = units(&told.steps, told.pieces);
        let begin = order
            .begin
            .map_or(Slot::MIN, |begin| self.slots.beginning(self.slots.at(first_moment(begin))));
        let not_before = self.first_slot().max(begin);
        let (mut task, mut own) = (Vec::new(), Vec::new());
        let mut of_step = Vec::new();
        for (index, unit) in units.iter().enumerate() {
            of_step.extend(unit.range.clone().map(|_| index));
            if let (true, Some(first)) = (unit.is_once(), first) {
                task.push(first.task[index]);
                own.push(false);
                continue;
            }
            let mut made = self.task(order, order_index, unit, not_before);
            made.mix = pot.and_then(|pot| pot.mix(unit, poured_ml(order, unit)?, made.work));
            task.push(self.push(
                made,
                Meaning {
                    order: order_index,
                    group,
                    steps: unit.range.clone(),
                    what: What::Steps,
                    done_by: None,
                    assumed: false,
                },
            ));
            own.push(true);
        }
        Tasks { units, task, own, of_step }
    }

    /// Adds a task and what it means; gives its index.
    pub fn push(&mut self, task: Task, meaning: Meaning) -> usize {
        self.book.tasks.push(task);
        self.meanings.push(meaning);
        self.book.tasks.len() - 1
    }

    /// Those who may do all of these kinds; a complaint if nobody does.
    pub fn who(&mut self, kinds: &[StepKind]) -> Vec<usize> {
        let who = self.crew.who(kinds);
        if who.is_empty() {
            let words: Vec<String> =
                kinds.iter().map(|kind| format!("`{}`", craft(*kind).word())).collect();
            let message = match words.as_slice() {
                [one] => format!("nobody does {one}"),
                _ => format!("nobody does {} in one go", crate::words::list(&words)),
            };
            let error = Diagnostic::error(FieldPath::root().key("maker"), message)
                .hint("add it to the `does` of a maker, or leave `does` out");
            if !self.errors.contains(&error) {
                self.errors.push(error);
            }
        }
        who
    }

    fn task(&mut self, order: &Ordered, job: usize, unit: &Unit<'_>, not_before: Slot) -> Task {
        let kinds = unit.kinds();
        let longest = self.crew.longest(&kinds);
        Task {
            name: format!("{}: {}", order.name, unit.name()),
            job,
            work: unit.work(),
            hands: self.who(&kinds),
            sittings: sittings(unit, longest),
            uses: self.uses(order, unit),
            not_before,
            optional: false,
            mix: None,
            fixed: None,
        }
    }

    /// What a unit takes up: spindles while it turns, then racks until it can be touched.
    fn uses(&self, order: &Ordered, unit: &Unit<'_>) -> Vec<Use> {
        let amount = unit.pieces as u16;
        let mut uses = Vec::new();
        let work = unit.work();
        let mut dry_from = work;
        let mut dry_until = work;
        if let Some(turning_min) = unit.turning_min() {
            let hard_min = order.coats.waits.sandable_min - unit.watch_min();
            dry_until = work + slots_up(hard_min.max(0.0));
            dry_from = 0;
            if unit.turns(&order.piece) {
                let length = slots_up(turning_min);
                uses.push(Use { machine: SPINDLES, amount, from: 0, length });
                dry_from = length;
            }
        } else if unit.kinds().contains(&StepKind::Paint) {
            dry_until = work + slots_up(self.settings.paint.between_coats_min);
        }
        if self.hours.racks.is_some() && dry_until > dry_from {
            let length = dry_until - dry_from;
            uses.push(Use { machine: RACKS, amount, from: dry_from, length });
        }
        uses
    }

    /// The book, if nothing is wrong with it.
    ///
    /// # Errors
    /// What is.
    pub fn done(self, leave_by: Vec<Option<Timestamp>>) -> Result<Together, Vec<Diagnostic>> {
        if !self.errors.is_empty() {
            return Err(self.errors);
        }
        Ok(Together {
            book: self.book,
            meanings: self.meanings,
            slots: self.slots.clone(),
            begins: self.begins,
            leave_by,
            notes: self.notes,
        })
    }
}

/// What is mixed for one piece, ml.
fn poured_ml(order: &Ordered, unit: &Unit<'_>) -> Option<f64> {
    let coat = unit.steps[0].coat?;
    match &order.coats.coats[coat].matter {
        Matter::Resin(mix) => Some(mix.mixed_ml()),
        Matter::Paint { .. } | Matter::Glitter { .. } => None,
    }
}

/// How a unit is split: stones always, other dry work if no stretch of hours holds all of it.
fn sittings(unit: &Unit<'_>, longest_stretch: Slot) -> Option<Sittings> {
    if let [step] = unit.steps
        && let Some(sitting_min) = step.sitting_min
    {
        let set_up = slots_up(step.set_up_min);
        let longest = slots_down(sitting_min).max(set_up + 1);
        let room = longest.min(longest_stretch) - set_up;
        let least = slots_up(LEAST_SETTING_MIN).min(room).max(1);
        return Some(Sittings { least, longest, set_up, rest: slots_up(REST_MIN) });
    }
    (unit.may_pause() && unit.work() > longest_stretch).then(|| Sittings {
        least: slots_up(LEAST_MIN).min(longest_stretch).max(1),
        longest: longest_stretch.max(1),
        set_up: 0,
        rest: 0,
    })
}
