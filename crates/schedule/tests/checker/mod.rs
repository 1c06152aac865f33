//! Says what is wrong with a plan, by replaying it slot by slot against its book.
//!
//! Shares no code with what makes plans: it reads the book anew, rule by rule. Tasks that are fixed
//! are history: where only fixed tasks break a rule, nobody can help it, and nothing is said.
//! `Cost::moved` is not looked at, for the plan in force is not known here.

// Each test and bench uses a part of it.
#![allow(dead_code)]

mod cost;
mod gaps;
mod hands;
mod machines;
mod mixes;
mod shape;

use schedule::{Book, Cost, Placed, Plan, Task};

/// A book and a plan for it, with as many places as the book has tasks.
#[derive(Clone, Copy)]
struct Case<'a> {
    book: &'a Book,
    plan: &'a Plan,
}

impl<'a> Case<'a> {
    /// What is done, by index.
    fn placed(self) -> impl Iterator<Item = (usize, &'a Task, &'a Placed)> {
        let both = self.book.tasks.iter().zip(&self.plan.tasks).enumerate();
        both.filter_map(|(index, (task, placed))| Some((index, task, placed.as_ref()?)))
    }

    fn task(self, index: usize) -> &'a Task {
        &self.book.tasks[index]
    }

    fn place(self, index: usize) -> Option<&'a Placed> {
        self.plan.tasks[index].as_ref()
    }

    fn is_fixed(self, index: usize) -> bool {
        self.book.tasks[index].fixed.is_some()
    }

    fn name(self, index: usize) -> &'a str {
        &self.book.tasks[index].name
    }
}

/// What a plan costs, reckoned anew; `moved` is taken from the plan.
pub fn cost(book: &Book, plan: &Plan) -> Cost {
    cost::cost(Case { book, plan })
}

/// Everything that is wrong with a plan, in words; nothing if it keeps to the book.
pub fn faults(book: &Book, plan: &Plan) -> Vec<String> {
    if plan.tasks.len() != book.tasks.len() {
        return vec![format!("{} places for {} tasks", plan.tasks.len(), book.tasks.len())];
    }
    let case = Case { book, plan };
    let mut faults = shape::faults(case);
    if faults.is_empty() {
        // The other rules can only be looked at if every task is a row of stretches of somebody.
        for rule in [gaps::faults, hands::faults, machines::faults, mixes::faults, cost::faults] {
            faults.extend(rule(case));
        }
    }
    faults
}
