//! The search for a plan of many pieces: anew, from the plan in force, or for one piece more.

use crate::progress::Progress;
use crate::stop::Stop;
use crate::timetable_words as words;
use schedule::life::{Asked, Early, Promise, Replanned, Terms, promise, replan};
use schedule::{Effort, Plan, Slot, Unsolved, solve};
use std::time::Instant;
use work::together::Together;

/// Share of the work that is behind when the orders are read and the search begins.
pub const READ_SHARE: f64 = 0.4;
/// What a step that moves measures, in slots by which one order is done later: a day.
const MOVED: f64 = 288.0;
/// How many earlier leaves are looked at for a promise.
const EARLIER: [usize; 3] = [1, 2, 4];

/// How long is searched, and who is told.
pub struct Search<'a> {
    /// Rounds, unless it is for so many seconds.
    pub rounds: u32,
    pub seconds: Option<u32>,
    pub stop: &'a Stop,
    pub progress: &'a Progress,
}

impl Search<'_> {
    /// Says after each round how much of the effort is behind. Whoever stops wants what there is; without
    /// a whole plan there is nothing yet.
    fn going(&self) -> impl FnMut(&schedule::Progress) -> f64 {
        let began = Instant::now();
        move |so_far| {
            let share = match self.seconds {
                Some(seconds) => began.elapsed().as_secs_f64() / f64::from(seconds),
                None => f64::from(so_far.round) / f64::from(self.rounds.max(1)),
            };
            let shown = READ_SHARE + (1.0 - READ_SHARE) * share.min(1.0);
            self.progress.show(shown, &words::so_far(so_far));
            let enough = self.rounds == 0 && self.seconds.is_none();
            if (self.stop.asked() || enough) && so_far.lost == 0 { 1.0 } else { share.min(1.0) }
        }
    }

    /// The best plan that is found.
    pub fn anew(&self, together: &Together) -> Result<Plan, Unsolved> {
        solve(&together.book, &Effort::default(), &mut self.going())
    }

    /// The best plan that moves little against the one in force.
    pub fn on(&self, together: &Together, in_force: &Plan) -> Result<Replanned, Unsolved> {
        let terms = Terms { now: first_slot(together), price: MOVED, seed: 0 };
        replan(&together.book, in_force, terms, &mut self.going())
    }

    /// When the last order of a book can leave, and what would get late if it were wanted earlier.
    pub fn promise(&self, together: &Together, in_force: &Plan) -> Promise {
        let job = together.book.jobs.len() - 1;
        let asked = Asked { job, now: first_slot(together), dues: &[], seed: 0 };
        let first = promise(&together.book, in_force, asked, &mut self.going());
        let best = [&first.making_room, &first.as_it_is].into_iter().flatten().map(|it| it.leaves);
        let Some(best) = best.min() else { return first };
        let leaves = &together.book.jobs[job].leaves;
        let at = leaves.partition_point(|&leave| leave < best);
        let dues: Vec<Slot> = EARLIER
            .iter()
            .filter_map(|&back| leaves.get(at.checked_sub(back)?).copied())
            .filter(|&due| due > asked.now)
            .collect();
        if dues.is_empty() {
            return first;
        }
        let wanted = Asked { dues: &dues, ..asked };
        let mut second = promise(&together.book, in_force, wanted, &mut self.going());
        serve_later_days(&mut second.early);
        // What makes nobody later is no price.
        let free = |early: &&Early| early.later.is_empty() && early.promised.leaves < best;
        let better = second.early.iter().filter(free).min_by_key(|early| early.promised.leaves);
        let making_room = better.map(|early| early.promised.clone()).or(first.making_room);
        let early = second.early.into_iter().filter(|early| !early.later.is_empty()).collect();
        Promise { early, making_room, ..first }
    }
}

/// What serves an earlier day serves a later one too: there it is told if it hurts less than what was found
/// for that day.
fn serve_later_days(early: &mut [Early]) {
    early.sort_by_key(|early| std::cmp::Reverse(early.due));
    for at in (1..early.len()).rev() {
        let (later, earlier) = early.split_at_mut(at);
        let (later, earlier) = (&mut later[at - 1], &earlier[0]);
        if earlier.promised.leaves <= later.due && earlier.weighted < later.weighted {
            *later = Early { due: later.due, ..earlier.clone() };
        }
    }
}

fn first_slot(together: &Together) -> Slot {
    together.slots.beginning(together.begins)
}
