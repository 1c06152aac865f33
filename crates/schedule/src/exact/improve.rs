//! Better and better orders of tasks: late acceptance hill climbing over what the decoder gives.
//!
//! A move takes two tasks that follow each other in a room without a pause, on the way back from
//! the end of a job to what holds it up, and lets one pass the other: the neighbourhood of the job
//! shop (van Laarhoven, Aarts and Lenstra, "Job shop scheduling by simulated annealing", Operations
//! Research 40, 1992, from memory), on orders instead of machines. A result is kept if it is not
//! worse than the present one or than the one of some moves ago (Burke and Bykov, "The late
//! acceptance hill-climbing heuristic", European Journal of Operational Research 258, 2017, from
//! memory).

use super::decode::{Decoder, Outcome};
use super::plain::Plain;
use super::solve::Asking;
use crate::book::Slot;
use crate::plan::Cost;
use rand_core::{Rng, SeedableRng};
use rand_pcg::Pcg64;
use std::cmp::Reverse;

/// How many moves ago the result was with which a new one is compared.
const MEMORY: usize = 400;
/// Moves without a better plan after which the search begins anew from the best.
const PATIENCE: usize = 4000;
/// Moves after which the search gives up if it has no plan at all.
const TRIES: usize = 300;
/// Moves between two questions whether to go on.
const ASK_EVERY: usize = 100;

/// How good an order is; less is better.
type Score = (Reverse<usize>, u64, u64);

/// An order and what came of it.
#[derive(Debug, Clone)]
struct Tried {
    order: Vec<usize>,
    score: Score,
    begins: Option<Vec<Slot>>,
}

/// The search for a good plan.
#[derive(Debug)]
pub(super) struct Improve<'a> {
    plain: &'a Plain<'a>,
    decoder: Decoder<'a>,
    chance: Pcg64,
    rank: Vec<u32>,
}

impl<'a> Improve<'a> {
    /// A search whose moves are dealt out by a fixed seed.
    pub fn new(plain: &'a Plain<'a>, decoder: Decoder<'a>) -> Self {
        let chance = Pcg64::seed_from_u64(1);
        Self { plain, decoder, chance, rank: vec![0; plain.items.len()] }
    }

    /// The best plan after so many moves, or sooner if it costs no more than `least` or `asking`
    /// says stop; nothing if none was found.
    pub fn search(
        &mut self,
        start: Option<&[Slot]>,
        least: Cost,
        moves: usize,
        asking: &mut Asking,
    ) -> Option<Vec<Slot>> {
        let mut best = self.first(start);
        let mut present = best.clone();
        let mut memory = vec![present.score; MEMORY];
        let mut since = 0;
        for step in 0..moves {
            let cost = best.begins.as_deref().map(|begins| self.plain.cost(begins));
            if cost.map_or(step == TRIES, |cost| cost <= least) {
                break;
            }
            if step % ASK_EVERY == 0 && !asking.go_on(cost.unwrap_or(super::NO_PLAN)) {
                break;
            }
            let Some(order) = self.neighbour(&present) else { break };
            let tried = self.try_order(order);
            let slot = step % MEMORY;
            since += 1;
            if tried.score < best.score {
                best = tried.clone();
                since = 0;
            }
            if tried.score <= present.score || tried.score <= memory[slot] {
                present = tried;
            }
            memory[slot] = memory[slot].min(present.score);
            if since == PATIENCE {
                since = 0;
                present = best.clone();
                for _ in 0..4 {
                    let order = self.shifted(&present.order);
                    present = self.try_order(order);
                }
                memory.fill(present.score);
            }
        }
        best.begins
    }

    /// The best of a few simple orders.
    fn first(&mut self, start: Option<&[Slot]>) -> Tried {
        let items = &self.plain.items;
        let job_work = self.work_left();
        let late = self.decoder.late();
        let mut keys: Vec<Vec<i64>> = vec![
            late.iter().map(|&late| i64::from(late)).collect(),
            items.iter().map(|item| i64::from(item.earliest)).collect(),
            job_work.iter().map(|work| -work).collect(),
        ];
        keys.extend(start.map(|begins| begins.iter().map(|&begins| i64::from(begins)).collect()));
        let orders = keys.into_iter().map(|keys| {
            let mut order: Vec<usize> = (0..keys.len()).collect();
            order.sort_by_key(|&task| (keys[task], task));
            order
        });
        let orders: Vec<_> = orders.collect();
        let tried: Vec<_> = orders.into_iter().map(|order| self.try_order(order)).collect();
        tried.into_iter().min_by_key(|tried| tried.score).expect("there are several simple orders")
    }

    /// For each task the work of its job in it and after it: the longer, the sooner.
    fn work_left(&self) -> Vec<i64> {
        let mut left: Vec<i64> =
            self.plain.items.iter().map(|item| i64::from(item.length)).collect();
        // Latest first: whoever comes after a task has a later latest slot.
        let mut order: Vec<usize> = (0..left.len()).collect();
        order.sort_by_key(|&task| (Reverse(self.decoder.late()[task]), task));
        for task in order {
            for arc in self.plain.arcs.iter().filter(|arc| arc.to == task && arc.lag > 0) {
                let through = i64::from(self.plain.items[arc.from].length) + left[task];
                left[arc.from] = left[arc.from].max(through);
            }
        }
        left
    }

    fn try_order(&mut self, order: Vec<usize>) -> Tried {
        for (rank, &task) in order.iter().enumerate() {
            self.rank[task] = rank as u32;
        }
        match self.decoder.place(&self.rank) {
            Outcome::Placed(begins) => {
                let cost = self.plain.cost(&begins);
                let score = (Reverse(order.len()), cost.late, cost.finishes);
                // In order of time, so that what stands beside each other can change places.
                let mut order = order;
                order.sort_by_key(|&task| (begins[task], self.rank[task]));
                Tried { order, score, begins: Some(begins) }
            }
            Outcome::Stuck(placed) => Tried { order, score: (Reverse(placed), 0, 0), begins: None },
        }
    }

    fn one_of(&mut self, count: usize) -> usize {
        (self.chance.next_u64() % count as u64) as usize
    }

    /// A small change to an order: of what holds up the end if that is known, or anywhere.
    fn neighbour(&mut self, of: &Tried) -> Option<Vec<usize>> {
        if of.order.len() < 2 {
            return None;
        }
        let held = match &of.begins {
            Some(begins) if self.one_of(8) > 0 => self.held_up(begins),
            _ => None,
        };
        let Some((before, after)) = held else { return Some(self.shifted(&of.order)) };
        let mut order = of.order.clone();
        let place = |task| order.iter().position(|&other| other == task).expect("it is in there");
        let (from, to) = (place(before), place(after));
        if from > to {
            return Some(self.shifted(&of.order));
        }
        if self.one_of(2) == 0 {
            order[from..=to].rotate_left(1);
        } else {
            order[from..=to].rotate_right(1);
        }
        Some(order)
    }

    /// The order with one task moved anywhere.
    fn shifted(&mut self, order: &[usize]) -> Vec<usize> {
        let mut order = order.to_vec();
        let task = order.remove(self.one_of(order.len()));
        order.insert(self.one_of(order.len() + 1), task);
        order
    }

    /// Two tasks that share a room, the second of which begins when the first lets go of it, on a
    /// way back from the end of a job that was picked at random.
    fn held_up(&mut self, begins: &[Slot]) -> Option<(usize, usize)> {
        let items = &self.plain.items;
        let job = self.one_of(self.plain.book.jobs.len());
        let of_job = (0..items.len()).filter(|&task| items[task].job == job);
        let mut at = of_job.max_by_key(|&task| begins[task] + items[task].length)?;
        let mut pairs = Vec::new();
        // Each step goes back in time or along a gap of nothing: bounded, should it go in circles.
        for _ in 0..begins.len() {
            let rooms = self.behind_in_rooms(begins, at);
            pairs.extend(rooms.iter().map(|&other| (other, at)));
            let gaps = self.plain.arcs.iter().filter(|arc| arc.to == at);
            let tight = gaps.filter(|arc| begins[arc.from] + arc.lag == begins[at]);
            let mut causes: Vec<usize> = tight.map(|arc| arc.from).collect();
            causes.extend(rooms);
            if causes.is_empty() {
                break;
            }
            at = causes[self.one_of(causes.len())];
        }
        if pairs.is_empty() { None } else { Some(pairs[self.one_of(pairs.len())]) }
    }

    /// Tasks that let go of something just when this one takes it.
    fn behind_in_rooms(&self, begins: &[Slot], at: usize) -> Vec<usize> {
        let items = &self.plain.items;
        let lets_go = |other: usize| {
            items[at].needs.iter().any(|need| {
                let from = begins[at] + need.from;
                items[other].needs.iter().any(|given| {
                    given.room == need.room && begins[other] + given.from + given.length == from
                })
            })
        };
        (0..items.len()).filter(|&other| other != at && lets_go(other)).collect()
    }
}
