//! How to go on when something has happened: as much as can be stays where it is.

use super::blockers::{Reason, blockers};
use super::promise::{Later, from_now, near};
use super::reckon;
use crate::book::{Book, Slot};
use crate::decode::Compiled;
use crate::plan::{Cost, Placed, Plan};
use crate::search::{Found, Mender, standing};
use crate::solve::{Progress, Unsolved};

/// On which terms a plan is changed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Terms {
    /// Nothing that is not fixed begins before this slot.
    pub now: Slot,
    /// What a moved step measures, in slots by which one job is done later. A slot late measures 10, an
    /// optional task or a mix 12.
    pub price: f64,
    /// Seed of chance.
    pub seed: u64,
}

/// A task that moved.
#[derive(Debug, Clone, PartialEq)]
pub struct Moved {
    /// Index of the task.
    pub task: usize,
    /// Where it stood.
    pub from: Placed,
    /// Where it stands; `None` if it is not needed any more.
    pub to: Option<Placed>,
    /// What keeps it from where it stood, in the new plan; if nothing does, the plan gains by it.
    pub reasons: Vec<Reason>,
}

/// The new plan, and what is different.
#[derive(Debug, Clone, PartialEq)]
pub struct Replanned {
    /// The plan.
    pub plan: Plan,
    /// Tasks that stand elsewhere or are done by someone else, in order of their new time.
    pub moved: Vec<Moved>,
    /// Jobs that are late and leave later than by the plan in force.
    pub late: Vec<Later>,
}

/// Placings of one task in a round, about.
const PLACINGS: usize = 20_000;
/// What a lost task measures.
const LOST: f64 = 1e9;

/// Plans anew after something has happened, which the book holds already: fixed tasks, tasks added at
/// the end, outages, other hours. What still stands is left where it is at first, the rest is placed
/// around it; then a search weighs what the plan would gain against the steps that move.
/// `going` is told after each round how it stands and says how much of the effort is behind, 0 to 1.
///
/// # Errors
/// Tasks without a place before the horizon.
pub fn replan(
    book: &Book,
    in_force: &Plan,
    terms: Terms,
    going: &mut dyn FnMut(&Progress) -> f64,
) -> Result<Replanned, Unsolved> {
    match within(&near(book, in_force, terms.now), in_force, terms, going) {
        Err(Unsolved::NoRoom(_)) => within(&from_now(book, terms.now), in_force, terms, going),
        found => found,
    }
}

/// The same within the horizon of a book, in which nothing begins before now.
fn within(
    open: &Book,
    in_force: &Plan,
    terms: Terms,
    going: &mut dyn FnMut(&Progress) -> f64,
) -> Result<Replanned, Unsolved> {
    let compiled = Compiled::new(open);
    let mut home = in_force.tasks.clone();
    home.resize(open.tasks.len(), None);
    let measure = |found: Found| {
        let cost = found.score.cost;
        LOST * f64::from(found.score.lost)
            + 10.0 * cost.late as f64
            + 12.0 * f64::from(cost.extras)
            + cost.finishes as f64
            + terms.price * f64::from(found.moved)
    };
    let mut mender = Mender::new(&compiled, &home, terms.seed);
    mender.focus = begin(open, &compiled, &home, terms.now, &mut mender, &measure);
    let changes = (PLACINGS / compiled.len().max(1)).clamp(4, 400) as u32;
    let mut progress =
        Progress { round: 0, cost: Cost::default(), bound: Cost::default(), lost: 0 };
    let mut share = going(&progress);
    while share < 1.0 && mender.can_move() {
        mender.round(changes, share, &measure);
        progress.round += 1;
        progress.lost = u32::from(mender.least >= LOST);
        share = going(&progress);
    }
    let Some(mut tasks) = mender.plan() else {
        return Err(Unsolved::NoRoom((mender.least / LOST) as u32));
    };
    reckon::renumber(&mut tasks);
    let cost = reckon::cost(open, &tasks, &home);
    let plan = Plan { tasks, cost, bound: Cost::default() };
    Ok(Replanned { moved: moved(open, &home, &plan), late: late(open, in_force, &plan), plan })
}

/// Offers the search some plans to begin with; gives the tasks that cannot stay.
fn begin(
    book: &Book,
    compiled: &Compiled,
    home: &[Option<Placed>],
    now: Slot,
    mender: &mut Mender,
    measure: &dyn Fn(Found) -> f64,
) -> Vec<usize> {
    let free = |task: &usize| book.tasks[*task].fixed.is_none() && !book.tasks[*task].optional;
    let stays = stays(book, home);
    let broken: Vec<usize> = (0..home.len()).filter(|&task| !stays[task]).filter(free).collect();
    let mut all = broken.clone();
    let mut at = 0;
    while at < all.len() {
        for &(after, _) in compiled.after(all[at]) {
            if !all.contains(&(after as usize)) && free(&(after as usize)) {
                all.push(after as usize);
            }
        }
        at += 1;
    }
    // In order of time; what cannot stay after all that can, alone or with all that comes after it.
    let last = home.len() as f32;
    for put_off in [&[][..], &broken, &all] {
        for keeps in [None, Some(true), Some(false)] {
            let mut choices = standing(compiled, home, now);
            for &task in put_off {
                choices.key[task] += last;
            }
            if let Some(keeps) = keeps {
                let held = choices.keep.iter_mut().zip(&book.links);
                held.filter(|(_, link)| put_off.contains(&link.from)).for_each(|it| *it.0 = keeps);
            }
            mender.offer(choices, measure);
        }
    }
    all
}

/// Whether each task can stay, as far as the fixed ones, hours and machines go.
fn stays(book: &Book, home: &[Option<Placed>]) -> Vec<bool> {
    let fixed = book.tasks.iter().map(|task| task.fixed.clone());
    let tasks: Vec<Option<Placed>> =
        fixed.zip(home).map(|(fixed, home)| fixed.or_else(|| home.clone())).collect();
    (0..tasks.len())
        .map(|task| match &tasks[task] {
            Some(at) => blockers(book, &tasks, task, at).is_empty(),
            None => book.tasks[task].optional,
        })
        .collect()
}

fn moved(book: &Book, home: &[Option<Placed>], plan: &Plan) -> Vec<Moved> {
    let mut moved: Vec<Moved> = (0..home.len())
        .filter_map(|task| {
            let (from, to) = (home[task].as_ref()?, plan.tasks[task].as_ref());
            reckon::has_moved(Some(from), to).then(|| Moved {
                task,
                from: from.clone(),
                to: to.cloned(),
                reasons: match to {
                    Some(_) => blockers(book, &plan.tasks, task, from),
                    None => Vec::new(),
                },
            })
        })
        .collect();
    moved.sort_by_key(|it| (it.to.as_ref().map(Placed::begins), it.task));
    moved
}

fn late(book: &Book, in_force: &Plan, plan: &Plan) -> Vec<Later> {
    let before = reckon::leaves(book, &in_force.tasks);
    let after = reckon::leaves(book, &plan.tasks);
    let jobs = (0..book.jobs.len()).filter_map(|job| {
        let may = book.jobs[job].due?.max(before[job]);
        let leaves = after[job];
        (leaves > may).then(|| Later { job, leaves, by: leaves - may })
    });
    jobs.collect()
}
