//! How to go on when something has happened: as much as can be stays where it is.

use super::blockers::{Reason, blockers};
use super::clock::{Clock, LOST};
use super::forced::forced;
use super::near::{from_now, near};
use super::promise::Later;
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
    /// How many of them cannot stay, whatever else is done.
    pub forced: usize,
    /// Jobs that are late and leave later than by the plan in force.
    pub late: Vec<Later>,
}

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
            + terms.price * f64::from(cost.moved)
    };
    let mut mender = Mender::new(&compiled, &home, terms.seed);
    mender.hot = mender.hot.max(terms.price / 3.0);
    let focus = begin(open, &compiled, &home, terms.now, &mut mender, &measure);
    mender.focus(focus);
    let mut clock = Clock { going, round: 0, share: 0.0 };
    clock.ask(0);
    clock.search(&mut mender, compiled.len(), 1.0, &measure);
    let mut tasks = mender.plan().map_err(Unsolved::NoRoom)?;
    reckon::renumber(&mut tasks);
    let cost = reckon::cost(open, &tasks, &home);
    let plan = Plan { tasks, cost, bound: Cost::default() };
    let moved = moved(open, &home, &plan);
    let forced = forced(open, &home, terms.now).into_iter().filter(|forced| *forced).count();
    Ok(Replanned { moved, forced, late: late(open, in_force, &plan), plan })
}

/// Offers the search some plans to begin with; gives the tasks that it shall try most.
fn begin(
    book: &Book,
    compiled: &Compiled,
    home: &[Option<Placed>],
    now: Slot,
    mender: &mut Mender,
    measure: &dyn Fn(Found) -> f64,
) -> Vec<usize> {
    let free = |task: usize| book.tasks[task].is_open();
    let forced = forced(book, home, now);
    let must_move: Vec<usize> =
        (0..home.len()).filter(|&task| forced[task] && free(task)).collect();
    let sits = |task: usize| free(task) && book.tasks[task].sittings.is_some();
    let sitting: Vec<usize> = (0..home.len()).filter(|&task| sits(task)).collect();
    let last = home.len() as f32;
    let mut choices = standing(compiled, home, now);
    mender.offer(choices.clone(), measure);
    // What can stay first; then what must move; then sittings, which fill in what is left, and of them
    // last the one that makes up for all the time that is lost.
    for &task in &must_move {
        choices.key[task] += last;
    }
    mender.offer(choices.clone(), measure);
    for &task in &sitting {
        choices.key[task] += 2.0 * last;
    }
    for keeps in [None, Some(false), Some(true)] {
        if let Some(keeps) = keeps {
            let held = choices.keep.iter_mut().zip(&book.links);
            held.filter(|(_, link)| forced[link.from]).for_each(|it| *it.0 = keeps);
        }
        mender.offer(choices.clone(), measure);
        for &task in &sitting {
            choices.key[task] += last;
            mender.offer(choices.clone(), measure);
            choices.key[task] -= last;
        }
    }
    must_move.into_iter().chain(sitting).collect()
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
