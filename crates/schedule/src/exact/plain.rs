//! A plain book as bare figures: what the search and the solver work on.
//!
//! People are rooms for one; what is fixed, closed or out of order is taken out of the rooms, so
//! that only tasks which may move compete for what is left.

use super::conflict::{Conflict, Reason};
use super::needs::{self, Need};
use super::room::Room;
use crate::book::{Book, Job, Slot, Task};
use crate::plan::{Cost, Placed, Plan};

/// A task: when it may begin and what it needs.
#[derive(Debug, Clone)]
pub(super) struct Item {
    pub job: usize,
    pub length: Slot,
    pub earliest: Slot,
    pub latest: Slot,
    pub fixed: bool,
    pub needs: Vec<Need>,
}

/// `to` begins at least `lag` slots after `from` begins; a greatest gap points backwards.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Arc {
    pub from: usize,
    pub to: usize,
    pub lag: Slot,
    pub link: usize,
}

/// The figures of a plain book. Tasks, links and jobs keep their indices.
#[derive(Debug, Clone)]
pub(super) struct Plain<'a> {
    pub book: &'a Book,
    pub items: Vec<Item>,
    pub arcs: Vec<Arc>,
    /// How much there is of each room when nothing is taken.
    pub capacity: Vec<i32>,
    /// People, then machines.
    pub rooms: Vec<Room>,
}

/// The first thing that makes a book not plain.
fn not_plain(book: &Book) -> Option<Reason> {
    let odd = |task: &Task| {
        task.sittings.is_some() || task.optional || task.mix.is_some() || task.hands.len() > 1
    };
    let task = book.tasks.iter().position(odd).map(|task| Reason::NotPlainTask { task });
    let relief = || book.links.iter().position(|link| link.relief.is_some());
    task.or_else(|| relief().map(|link| Reason::NotPlainLink { link }))
}

impl<'a> Plain<'a> {
    /// The figures of a book.
    ///
    /// # Errors
    /// The task or the link that makes it not plain.
    pub fn new(book: &'a Book) -> Result<Self, Conflict> {
        if let Some(reason) = not_plain(book) {
            return Err(Conflict::new(book, reason));
        }
        let mut rooms: Vec<Room> =
            book.people.iter().map(|person| Room::within(person.open.stretches())).collect();
        let mut capacity = vec![1; rooms.len()];
        for machine in &book.machines {
            let most = i32::from(machine.capacity);
            let mut room = Room::always(most);
            for outage in &machine.outages {
                room.take((outage.from, outage.to), i32::from(outage.amount));
            }
            rooms.push(room);
            capacity.push(most);
        }
        let people = book.people.len();
        for (task, placed) in fixed(book) {
            for &stretch in &placed.stretches {
                if let Some(person) = placed.person {
                    rooms[person].take(stretch, 1);
                }
            }
            for need in needs::of_machines(task) {
                let from = placed.begins().saturating_add(need.from);
                rooms[people + need.room]
                    .take((from, from.saturating_add(need.length)), need.amount);
            }
        }
        rooms.iter_mut().for_each(Room::tidy);
        let items = book.tasks.iter().map(|task| item(book, task)).collect();
        let mut plain = Self { book, items, arcs: Vec::new(), capacity, rooms };
        plain.arcs = plain.arcs_of(|_| true);
        Ok(plain)
    }

    /// The gaps of the links that are kept. What is fixed stands, whatever the gaps between it.
    pub fn arcs_of(&self, kept: impl Fn(usize) -> bool) -> Vec<Arc> {
        let mut arcs = Vec::new();
        for (link, gap) in self.book.links.iter().enumerate() {
            let (from, to) = (&self.items[gap.from], &self.items[gap.to]);
            if !kept(link) || (from.fixed && to.fixed) {
                continue;
            }
            let lag = from.length.saturating_add(gap.least);
            arcs.push(Arc { from: gap.from, to: gap.to, lag, link });
            if let Some(most) = gap.most {
                let lag = -from.length.saturating_add(most);
                arcs.push(Arc { from: gap.to, to: gap.from, lag, link });
            }
        }
        arcs
    }

    /// First slot at or after `from` at which a task can begin in these rooms.
    pub fn fits(&self, rooms: &[Room], task: usize, from: Slot) -> Option<Slot> {
        let mut begins = from;
        loop {
            let mut later = begins;
            for need in &self.items[task].needs {
                let at = later.saturating_add(need.from);
                later = rooms[need.room].earliest(at, need.length, need.amount)? - need.from;
            }
            if later == begins {
                return Some(begins);
            }
            begins = later;
        }
    }

    /// It is a plan: all gaps are kept and nothing is taken that is not there.
    pub fn holds(&self, begins: &[Slot]) -> bool {
        let within = |(item, &begins): (&Item, &Slot)| {
            (i64::from(item.earliest)..=i64::from(item.latest)).contains(&i64::from(begins))
        };
        let apart = |arc: &Arc| {
            i64::from(begins[arc.to]) - i64::from(begins[arc.from]) >= i64::from(arc.lag)
        };
        if !self.items.iter().zip(begins).all(within) || !self.arcs.iter().all(apart) {
            return false;
        }
        let mut rooms = self.rooms.clone();
        (0..begins.len()).all(|task| {
            let free = self.fits(&rooms, task, begins[task]) == Some(begins[task]);
            self.take(&mut rooms, task, begins[task]);
            free
        })
    }

    /// Takes what a task needs if it begins then.
    pub fn take(&self, rooms: &mut [Room], task: usize, begins: Slot) {
        for need in &self.items[task].needs {
            let from = begins + need.from;
            rooms[need.room].take((from, from + need.length), need.amount);
        }
    }

    /// When each job ends.
    pub fn ends(&self, begins: &[Slot]) -> Vec<Slot> {
        let mut ends = vec![0; self.book.jobs.len()];
        for (item, begins) in self.items.iter().zip(begins) {
            ends[item.job] = ends[item.job].max(begins + item.length);
        }
        ends
    }

    /// What it costs if tasks begin then.
    pub fn cost(&self, begins: &[Slot]) -> Cost {
        self.cost_of_ends(&self.ends(begins))
    }

    /// What it costs if jobs end then.
    pub fn cost_of_ends(&self, ends: &[Slot]) -> Cost {
        let late = |(job, &ends): (&Job, &Slot)| u64::from(job.weight) * job.late(ends) as u64;
        Cost {
            late: self.book.jobs.iter().zip(ends).map(late).sum(),
            finishes: ends.iter().map(|&ends| ends.max(0) as u64).sum(),
            ..Cost::default()
        }
    }

    /// The plan in which tasks begin then.
    pub fn plan(&self, begins: &[Slot], bound: Cost) -> Plan {
        let place = |((task, item), &begins): ((&Task, &Item), &Slot)| {
            task.fixed.clone().unwrap_or_else(|| Placed {
                person: task.hands.first().copied(),
                stretches: vec![(begins, begins + item.length)],
                mix: None,
            })
        };
        let tasks = self.book.tasks.iter().zip(&self.items).zip(begins);
        Plan { tasks: tasks.map(place).map(Some).collect(), cost: self.cost(begins), bound }
    }
}

fn fixed(book: &Book) -> impl Iterator<Item = (&Task, &Placed)> {
    book.tasks.iter().filter_map(|task| task.fixed.as_ref().map(|placed| (task, placed)))
}

fn item(book: &Book, task: &Task) -> Item {
    match &task.fixed {
        Some(placed) => Item {
            job: task.job,
            length: placed.ends() - placed.begins(),
            earliest: placed.begins(),
            latest: placed.begins(),
            fixed: true,
            needs: Vec::new(),
        },
        None => Item {
            job: task.job,
            length: task.work,
            earliest: task.not_before.max(0),
            latest: book.horizon.saturating_sub(task.work),
            fixed: false,
            needs: needs::of_rooms(task, book.people.len()),
        },
    }
}
