//! What no plan can be better than, and why.
//!
//! Two relaxations: each job alone in the studio, with everyone's whole hours to itself; and the work of
//! all jobs poured into the hours of everyone, as if it could be cut up at will (the preemptive
//! relaxation, in which the jobs with the least work are done first). Each part of a cost is bounded by
//! itself, so the three together bound the cost.

use crate::book::{Book, LONG_AGO, Slot, Task};
use crate::decode::in_order;
use crate::plan::{Cost, Stretch};

/// What a bound rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RestsOn {
    /// Nothing: no plan is below zero.
    Nothing,
    /// How long each job takes by itself: its gaps, and the hours of those who may work on it.
    EachAlone,
    /// All work has to fit into everyone's hours.
    Hands,
    /// How much of it one mix may hold, and how long it stands.
    Mixes,
}

/// What no plan is below.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Bound {
    /// Least cost.
    pub cost: Cost,
    /// What its lateness rests on.
    pub late: RestsOn,
    /// What its extras rest on.
    pub extras: RestsOn,
    /// What its finishes rest on.
    pub finishes: RestsOn,
}

/// What no plan of a book is below.
pub fn bound(book: &Book) -> Bound {
    let alone = alone(book);
    let open = Opened::of_all(book);
    let mut jobs: Vec<(Slot, usize)> = hands_of_jobs(book).into_iter().zip(0..).collect();
    jobs.sort_unstable();

    // The job that is done as the k-th of all is not done before the k with the least work are.
    let mut by_hands: Vec<Slot> = Vec::with_capacity(jobs.len());
    let mut work = 0;
    for (own, _) in &jobs {
        work += own;
        by_hands.push(open.after(work).unwrap_or(book.horizon));
    }
    let mut in_turn = alone.clone();
    in_turn.sort_unstable();
    let together: u64 = in_turn.iter().zip(&by_hands).map(|(&a, &b)| a.max(b).max(0) as u64).sum();
    let apart: u64 = alone.iter().map(|&ends| ends.max(0) as u64).sum();

    let late_alone = late(book, &alone);
    let late_hands = late_by_hands(book, &jobs, &open);
    let extras = mixes(book);
    let rests = |on: RestsOn, value: u64| if value > 0 { on } else { RestsOn::Nothing };
    Bound {
        cost: Cost {
            late: late_alone.max(late_hands),
            extras,
            finishes: together.max(apart),
            moved: 0,
        },
        late: if late_hands > late_alone {
            RestsOn::Hands
        } else {
            rests(RestsOn::EachAlone, late_alone)
        },
        extras: rests(RestsOn::Mixes, u64::from(extras)),
        finishes: if together > apart { RestsOn::Hands } else { rests(RestsOn::EachAlone, apart) },
    }
}

fn late(book: &Book, ends: &[Slot]) -> u64 {
    let each = book.jobs.iter().zip(ends);
    each.map(|(job, &ends)| u64::from(job.weight) * job.late(ends) as u64).sum()
}

/// When each job is done at the earliest if it has the studio to itself.
pub(crate) fn alone(book: &Book) -> Vec<Slot> {
    let open: Vec<Opened> =
        book.people.iter().map(|person| Opened::of(person.open.stretches())).collect();
    let mut gaps: Vec<Vec<(usize, Slot)>> = vec![Vec::new(); book.tasks.len()];
    for link in &book.links {
        gaps[link.to].push((link.from, link.least));
    }
    let mut ends = vec![0; book.tasks.len()];
    let mut done = vec![LONG_AGO; book.jobs.len()];
    for index in in_order(book) {
        let task = &book.tasks[index];
        let from = gaps[index].iter().map(|&(before, least)| ends[before] + least);
        let from = from.fold(task.not_before.max(0), Slot::max);
        ends[index] = match &task.fixed {
            Some(fixed) => fixed.ends(),
            None if task.optional => continue,
            None => earliest_end(book, task, &open, from),
        };
        let done: &mut Slot = &mut done[task.job];
        *done = (*done).max(ends[index]);
    }
    done
}

fn earliest_end(book: &Book, task: &Task, open: &[Opened], from: Slot) -> Slot {
    if task.hands.is_empty() {
        return from + task.work;
    }
    let ends = task.hands.iter().filter_map(|&person| {
        let open = &open[person];
        match task.sittings {
            Some(_) => open.after(open.before(from) + hands(task)),
            None => open.in_one(from, task.work - task.mix.map_or(0, |mix| mix.stir)),
        }
    });
    ends.min().unwrap_or(book.horizon)
}

/// Slots of someone's time that a task takes at least.
fn hands(task: &Task) -> Slot {
    match (task.sittings, task.mix) {
        (Some(sittings), _) => {
            let longest = (sittings.longest - sittings.set_up).max(1);
            task.work + sittings.set_up * ((task.work + longest - 1) / longest).max(1)
        }
        // In a mix it is stirred and watched with others.
        (None, Some(mix)) => (task.work - mix.stir - mix.watch).max(0),
        (None, None) => task.work,
    }
}

fn hands_of_jobs(book: &Book) -> Vec<Slot> {
    let mut all = vec![0; book.jobs.len()];
    let free = |task: &&Task| task.is_open() && !task.hands.is_empty();
    book.tasks.iter().filter(free).for_each(|task| all[task.job] += hands(task));
    all
}

/// Weighted lateness if all work is poured into the hours of everyone: for each weight the jobs that
/// weigh as much or more are late by at least the shortest of them in turn against the due times in turn.
fn late_by_hands(book: &Book, jobs: &[(Slot, usize)], open: &Opened) -> u64 {
    let mut weights: Vec<u32> = book.jobs.iter().map(|job| job.weight).collect();
    weights.sort_unstable();
    weights.dedup();
    let (mut sum, mut lower) = (0, 0);
    for weight in weights {
        let heavy = jobs.iter().filter(|(_, job)| book.jobs[*job].weight >= weight);
        let mut dues: Vec<Slot> =
            heavy.clone().map(|(_, job)| book.jobs[*job].due.unwrap_or(Slot::MAX)).collect();
        dues.sort_unstable();
        let (mut work, mut late) = (0, 0_u64);
        for ((own, _), due) in heavy.zip(dues) {
            work += own;
            let ends = open.after(work).unwrap_or(book.horizon);
            late += (ends.saturating_sub(due)).max(0) as u64;
        }
        sum += late * u64::from(weight - lower);
        lower = weight;
    }
    sum
}

/// Mixes that are made at least.
fn mixes(book: &Book) -> u32 {
    let mut kinds: Vec<u32> =
        book.tasks.iter().filter_map(|task| task.mix).map(|mix| mix.kind).collect();
    kinds.sort_unstable();
    kinds.dedup();
    kinds.into_iter().map(|kind| mixes_of(book, kind)).sum()
}

fn mixes_of(book: &Book, kind: u32) -> u32 {
    let of_kind: Vec<&Task> = book
        .tasks
        .iter()
        .filter(|task| task.fixed.is_none() && task.mix.is_some_and(|mix| mix.kind == kind))
        .collect();
    let rules = || of_kind.iter().filter_map(|task| task.mix);
    let stands = rules().map(|mix| mix.stands + mix.stir).max().unwrap_or(0);
    let most = rules().map(|mix| u64::from(mix.most)).max().unwrap_or(1).max(1);
    let amount: u64 = rules().map(|mix| u64::from(mix.amount)).sum();
    // As many as can be poured while it stands, the quickest first.
    let mut lengths: Vec<Slot> = of_kind
        .iter()
        .filter_map(|task| task.mix.map(|mix| task.work - mix.watch - mix.stir))
        .collect();
    lengths.sort_unstable();
    let stir = rules().map(|mix| mix.stir).min().unwrap_or(0);
    let (mut at_once, mut stood) = (0_u64, stir);
    for length in lengths {
        stood += length;
        if stood > stands && at_once > 0 {
            break;
        }
        at_once += 1;
    }
    let by_time = (of_kind.len() as u64).div_ceil(at_once.max(1));
    by_time.max(amount.div_ceil(most)) as u32
}

/// Open slots, counted.
struct Opened {
    stretches: Vec<Stretch>,
    /// Open slots before each stretch.
    before: Vec<i64>,
    /// How many are there at a time, in each stretch.
    many: Vec<i64>,
}

impl Opened {
    fn of(stretches: &[Stretch]) -> Self {
        Self::counted(stretches.iter().map(|&stretch| (stretch, 1)).collect())
    }

    /// Everyone's together.
    fn of_all(book: &Book) -> Self {
        let mut turns: Vec<(Slot, i64)> = Vec::new();
        for (from, to) in book.people.iter().flat_map(|person| person.open.stretches()) {
            turns.push((*from, 1));
            turns.push((*to, -1));
        }
        turns.sort_unstable();
        let (mut here, mut since, mut all) = (0, 0, Vec::new());
        for (at, more) in turns {
            if here > 0 && at > since {
                all.push(((since, at), here));
            }
            here += more;
            since = at;
        }
        Self::counted(all)
    }

    fn counted(all: Vec<(Stretch, i64)>) -> Self {
        let mut sum = 0;
        let mut before = Vec::with_capacity(all.len());
        for &((from, to), many) in &all {
            before.push(sum);
            sum += i64::from(to - from) * many;
        }
        let (stretches, many) = all.into_iter().unzip();
        Self { stretches, before, many }
    }

    /// Open slots before a slot.
    fn before(&self, slot: Slot) -> Slot {
        let at = self.stretches.partition_point(|&(from, _)| from < slot);
        if at == 0 {
            return 0;
        }
        let (from, to) = self.stretches[at - 1];
        let open = self.before[at - 1] + i64::from(slot.min(to) - from) * self.many[at - 1];
        Slot::try_from(open).unwrap_or(Slot::MAX)
    }

    /// The slot before which there are so many open ones.
    fn after(&self, open: Slot) -> Option<Slot> {
        if open <= 0 {
            return Some(0);
        }
        let open = i64::from(open);
        let at = self.before.partition_point(|&before| before < open).checked_sub(1)?;
        let ((from, to), many) = (self.stretches[at], self.many[at]);
        let ends = i64::from(from) + (open - self.before[at] + many - 1) / many;
        (ends <= i64::from(to)).then_some(ends as Slot)
    }

    /// The end of so many open slots one after the other.
    fn in_one(&self, from: Slot, length: Slot) -> Option<Slot> {
        let first = self.stretches.partition_point(|&(_, to)| to <= from);
        let fits = self.stretches[first..]
            .iter()
            .find(|(begins, ends)| ends - from.max(*begins) >= length);
        fits.map(|(begins, _)| from.max(*begins) + length)
    }
}
