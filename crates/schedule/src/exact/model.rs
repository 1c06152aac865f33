//! A plain book as constraints on whole numbers, for the solver.
//!
//! A begin for each task; gaps as differences; rooms for one as `disjunctive` (edge finding), others
//! as `cumulative` (time table), and for each two tasks that never run together a choice which is
//! first, so that the solver can learn about orders.

use super::needs::Need;
use super::plain::{Arc, Plain};
use crate::book::Slot;
use pumpkin_constraints as constraints;
use pumpkin_core::Solver;
use pumpkin_core::options::{RestartOptions, SequenceGeneratorType, SolverOptions};
use pumpkin_core::predicate;
use pumpkin_core::proof::ConstraintTag;
use pumpkin_core::variables::{AffineView, DomainId, TransformableVariable};
use pumpkin_propagators::disjunctive::ArgDisjunctiveTask;
use std::collections::BTreeSet;

/// Conflicts between two restarts are this many times the terms of the sequence 1, 1, 2, 1, 1, 2, 4…
const RESTART_EVERY: u64 = 20;

/// More choices of order than this are left to the constraints of the rooms: they would take more
/// memory than they are worth.
const MOST_ORDERS: usize = 20_000;

/// A book in the solver.
#[derive(Debug)]
pub(super) struct Model {
    pub solver: Solver,
    /// When each task begins.
    pub begins: Vec<DomainId>,
    /// When each job ends, or later.
    pub ends: Vec<DomainId>,
    /// For each two tasks that never run together, which is first.
    pub orders: Vec<DomainId>,
}

/// First and last slot at which each task may begin, and last at which each job may end.
#[derive(Debug, Clone)]
pub(super) struct Bounds {
    pub early: Vec<Slot>,
    pub late: Vec<Slot>,
    pub ends: Vec<Slot>,
}

impl Model {
    /// The book with these gaps; nothing if it is plain at once that there is no plan.
    pub fn new(plain: &Plain, arcs: &[Arc], bounds: &Bounds) -> Option<Self> {
        let restart_options = RestartOptions {
            sequence_generator_type: SequenceGeneratorType::Luby,
            base_interval: RESTART_EVERY,
            min_num_conflicts_before_first_restart: RESTART_EVERY,
            ..RestartOptions::default()
        };
        let mut solver =
            Solver::with_options(SolverOptions { restart_options, ..SolverOptions::default() });
        let windows = || bounds.early.iter().zip(&bounds.late);
        if windows().any(|(early, late)| early > late) {
            return None;
        }
        let begins: Vec<_> =
            windows().map(|(&early, &late)| solver.new_bounded_integer(early, late)).collect();
        let first = plain.ends(&bounds.early);
        if first.iter().zip(&bounds.ends).any(|(first, last)| first > last) {
            return None;
        }
        let ends = first.iter().zip(&bounds.ends);
        let ends: Vec<_> =
            ends.map(|(&first, &last)| solver.new_bounded_integer(first, last)).collect();
        let tag = solver.new_constraint_tag();
        let mut model = Self { solver, begins, ends, orders: Vec::new() };
        model.add_rooms(plain, bounds, tag);
        model.add_gaps(plain, arcs, tag);
        (!model.solver.is_inconsistent()).then_some(model)
    }

    fn add_gaps(&mut self, plain: &Plain, arcs: &[Arc], tag: ConstraintTag) {
        for arc in arcs {
            self.after(self.begins[arc.from], self.begins[arc.to], arc.lag, tag);
        }
        for (task, item) in plain.items.iter().enumerate() {
            // Another task of the job ends no sooner: `lag > 0` keeps two from excusing each other.
            let outlived = arcs.iter().any(|arc| {
                let other = &plain.items[arc.to];
                arc.from == task
                    && arc.lag > 0
                    && other.job == item.job
                    && arc.lag.saturating_add(other.length) >= item.length
            });
            if !outlived {
                self.after(self.begins[task], self.ends[item.job], item.length, tag);
            }
        }
    }

    /// `later ≥ sooner + lag`.
    fn after(&mut self, sooner: DomainId, later: DomainId, lag: Slot, tag: ConstraintTag) {
        if self.solver.is_inconsistent()
            || self.solver.upper_bound(&sooner).saturating_add(lag)
                <= self.solver.lower_bound(&later)
        {
            return;
        }
        let terms = [sooner.scaled(1), later.scaled(-1)];
        self.solver.add_constraint(constraints::less_than_or_equals(terms, -lag, tag)).post();
    }

    fn add_rooms(&mut self, plain: &Plain, bounds: &Bounds, tag: ConstraintTag) {
        self.add_closed(plain, bounds, tag);
        let mut pairs = BTreeSet::new();
        for (room, &capacity) in plain.capacity.iter().enumerate() {
            let needs: Vec<(usize, Need)> = (plain.items.iter().enumerate())
                .flat_map(|(task, item)| item.needs.iter().map(move |need| (task, *need)))
                .filter(|(_, need)| need.room == room)
                .collect();
            if needs.len() < 2 || self.solver.is_inconsistent() {
                continue;
            }
            let blocks: Vec<_> =
                plain.rooms[room].short_of(capacity).filter(|block| block.1 > 0).collect();
            let mut amounts: Vec<i32> = needs.iter().map(|(_, need)| need.amount).collect();
            amounts.sort_unstable();
            if blocks.is_empty() && amounts[0] + amounts[1] > capacity {
                self.one_at_a_time(&needs, tag);
            } else {
                self.some_at_a_time(&needs, capacity, &blocks, tag);
            }
            for (at, (task, need)) in needs.iter().enumerate() {
                for (other, rival) in &needs[at + 1..] {
                    if task != other && need.amount + rival.amount > capacity {
                        let first = need.from + need.length - rival.from;
                        let second = rival.from + rival.length - need.from;
                        pairs.insert((*task, *other, first, second));
                    }
                }
            }
        }
        for (task, other, first, second) in pairs.into_iter().take(MOST_ORDERS) {
            self.either_first(task, other, first, second, tag);
        }
    }

    /// Tasks begin in no slot in which a room would be closed or too small for them alone.
    fn add_closed(&mut self, plain: &Plain, bounds: &Bounds, tag: ConstraintTag) {
        for (task, (from, to)) in closed(plain, bounds) {
            if self.solver.is_inconsistent() {
                return;
            }
            let begins = self.begins[task];
            self.solver.add_clause([predicate![begins <= from], predicate![begins >= to]], tag);
        }
    }

    fn one_at_a_time(&mut self, needs: &[(usize, Need)], tag: ConstraintTag) {
        let tasks: Vec<_> = (needs.iter())
            .map(|&(task, need)| ArgDisjunctiveTask {
                start_time: self.begins[task].offset(need.from),
                processing_time: need.length,
            })
            .collect();
        self.solver.add_constraint(constraints::disjunctive_strict(tasks, tag)).post();
    }

    fn some_at_a_time(
        &mut self,
        needs: &[(usize, Need)],
        capacity: i32,
        blocks: &[((Slot, Slot), i32)],
        tag: ConstraintTag,
    ) {
        // The library takes -1 for "no profile begun", so nothing may begin before 0.
        let begin = |&(task, need): &(usize, Need)| {
            self.solver.lower_bound(&self.begins[task].offset(need.from))
        };
        let first = needs.iter().map(begin).chain(blocks.iter().map(|block| block.0.0)).min();
        let shift = first.map_or(0, |first| (-first).max(0));
        let mut starts: Vec<AffineView<DomainId>> =
            needs.iter().map(|&(task, need)| self.begins[task].offset(need.from + shift)).collect();
        let mut lengths: Vec<i32> = needs.iter().map(|(_, need)| need.length).collect();
        let mut amounts: Vec<i32> = needs.iter().map(|(_, need)| need.amount).collect();
        for &((from, to), free) in blocks {
            let from = from + shift;
            starts.push(self.solver.new_bounded_integer(from, from).scaled(1));
            lengths.push(to + shift - from);
            amounts.push(capacity - free);
        }
        let room = constraints::cumulative(starts, lengths, amounts, capacity, tag);
        self.solver.add_constraint(room).post();
    }

    /// Either `other ≥ task + first` or `task ≥ other + second`.
    fn either_first(
        &mut self,
        task: usize,
        other: usize,
        first: Slot,
        second: Slot,
        tag: ConstraintTag,
    ) {
        let (one, two) = (self.begins[task], self.begins[other]);
        let solver = &mut self.solver;
        if solver.is_inconsistent() {
            return;
        }
        let never = |solver: &Solver, sooner: DomainId, later: DomainId, lag: Slot| {
            solver.lower_bound(&sooner).saturating_add(lag) > solver.upper_bound(&later)
        };
        if never(solver, one, two, first) {
            return self.after(two, one, second, tag);
        }
        if never(solver, two, one, second) {
            return self.after(one, two, first, tag);
        }
        let order = solver.new_literal();
        self.orders.push(order.get_true_predicate().get_domain());
        for (sooner, later, lag, chosen) in [(one, two, first, order), (two, one, second, !order)] {
            let terms = [sooner.scaled(1), later.scaled(-1)];
            let gap = constraints::less_than_or_equals(terms, -lag, tag);
            self.solver.add_constraint(gap).implied_by(chosen);
        }
    }
}

/// For each task the slots between which it cannot begin, the two not included, for what is closed:
/// in order, those that touch united, none outside its window.
fn closed(plain: &Plain, bounds: &Bounds) -> Vec<(usize, (Slot, Slot))> {
    let mut all = Vec::new();
    for (task, item) in plain.items.iter().enumerate() {
        let mut shut: Vec<(Slot, Slot)> = Vec::new();
        for need in &item.needs {
            shut.extend(plain.rooms[need.room].short_of(need.amount).map(|((from, to), _)| {
                let last = from.saturating_sub(need.from).saturating_sub(need.length);
                (last, to.saturating_sub(need.from))
            }));
        }
        shut.sort_unstable();
        let mut united: Vec<(Slot, Slot)> = Vec::new();
        for (from, to) in shut {
            match united.last_mut() {
                Some(last) if from < last.1 => last.1 = last.1.max(to),
                _ => united.push((from, to)),
            }
        }
        united.retain(|&(from, to)| from < bounds.late[task] && to > bounds.early[task]);
        all.extend(united.into_iter().map(|stretch| (task, stretch)));
    }
    all
}
