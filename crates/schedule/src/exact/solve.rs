//! The solver at work: the least of one figure after the other, each proved if there is time.

use super::model::{Bounds, Model};
use super::orders::OrdersFirst;
use super::plain::{Arc, Plain};
use crate::book::Slot;
use crate::plan::Cost;
use pumpkin_conflict_resolvers::resolvers::ResolutionResolver;
use pumpkin_core::branching::Brancher;
use pumpkin_core::branching::branchers::alternating::AlternatingBrancher;
use pumpkin_core::branching::branchers::alternating::every_x_restarts::EveryXRestarts;
use pumpkin_core::branching::branchers::dynamic_brancher::DynamicBrancher;
use pumpkin_core::branching::branchers::independent_variable_value_brancher::IndependentVariableValueBrancher;
use pumpkin_core::branching::branchers::warm_start::WarmStart;
use pumpkin_core::branching::value_selection::InDomainMin;
use pumpkin_core::branching::variable_selection::InputOrder;
use pumpkin_core::predicate;
use pumpkin_core::results::{ProblemSolution, SatisfactionResult};
use pumpkin_core::termination::TerminationCondition;
use pumpkin_core::variables::DomainId;

/// Decisions of the solver between two questions whether to go on.
const ASK_EVERY: u64 = 100;

/// Asks now and then whether to go on, and remembers the answer.
pub(super) struct Asking<'g> {
    going: &'g mut dyn FnMut(&Cost) -> bool,
    pub best: Cost,
    count: u64,
    /// It says stop by itself when it has been asked so often.
    until: Option<u64>,
    stopped: bool,
}

impl<'g> Asking<'g> {
    /// Asks `going`, with the cost of the best plan so far.
    pub fn new(going: &'g mut dyn FnMut(&Cost) -> bool, best: Cost) -> Self {
        Self { going, best, count: 0, until: None, stopped: false }
    }

    /// Says stop by itself after so many decisions of the solver; nothing for as many as it takes.
    pub fn for_decisions(&mut self, decisions: Option<u64>) {
        self.until = decisions.map(|decisions| self.count.saturating_add(decisions));
    }
}

impl Asking<'_> {
    /// Whether to go on, after a stretch of work.
    pub fn go_on(&mut self, best: Cost) -> bool {
        self.best = self.best.min(best);
        self.stopped = self.stopped || !(self.going)(&self.best);
        !self.stopped
    }
}

impl TerminationCondition for Asking<'_> {
    fn should_stop(&mut self) -> bool {
        self.count = self.count.saturating_add(1);
        if self.count.is_multiple_of(ASK_EVERY) {
            self.go_on(self.best);
        }
        self.stopped || self.until.is_some_and(|until| self.count >= until)
    }
}

/// What the solver found.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Found {
    /// When tasks begin.
    Begins(Vec<Slot>),
    /// There is nothing to find.
    Nothing,
    /// It was stopped.
    Stopped,
}

fn search(
    model: &Model,
    start: Option<(&[DomainId], &[Slot])>,
    extra: &[DomainId],
) -> DynamicBrancher {
    let orders = OrdersFirst::new(&model.orders, &model.begins);
    let alternating = AlternatingBrancher::new(&model.solver, orders, EveryXRestarts::new(1));
    let mut branchers: Vec<Box<dyn Brancher>> = Vec::new();
    if let Some((variables, values)) = start {
        branchers.push(Box::new(WarmStart::new(variables, values)));
    }
    branchers.push(Box::new(alternating));
    // Once all tasks stand, what is counted about them is no less than it has to be.
    let counted: Vec<DomainId> = model.ends.iter().chain(extra).copied().collect();
    let counted = IndependentVariableValueBrancher::new(InputOrder::new(&counted), InDomainMin);
    branchers.push(Box::new(counted));
    DynamicBrancher::new(branchers)
}

/// Any plan with these gaps.
pub(super) fn any(plain: &Plain, arcs: &[Arc], bounds: &Bounds, asking: &mut Asking) -> Found {
    let Some(mut model) = Model::new(plain, arcs, bounds) else { return Found::Nothing };
    let mut brancher = search(&model, None, &[]);
    match model.solver.satisfy(&mut brancher, asking, &mut ResolutionResolver::default()) {
        SatisfactionResult::Satisfiable(found) => {
            let begins =
                model.begins.iter().map(|&begins| found.solution().get_integer_value(begins));
            Found::Begins(begins.collect())
        }
        SatisfactionResult::Unsatisfiable(..) => Found::Nothing,
        SatisfactionResult::Unknown(..) => Found::Stopped,
    }
}

/// The least of a figure of the model, from a plan that is known.
pub(super) struct Least {
    /// When tasks begin in the best plan.
    pub begins: Vec<Slot>,
    /// The figure is no less than this.
    pub bound: i32,
    /// The plan is proved the best.
    pub proved: bool,
}

/// Makes a figure of the model as small as it can be; `cost` is what a plan costs in the book.
pub(super) fn least(
    mut model: Model,
    figure: DomainId,
    extra: &[DomainId],
    start: &[Slot],
    asking: &mut Asking,
    cost: impl Fn(&[Slot]) -> Cost,
) -> Least {
    let known = model.begins.clone();
    let mut brancher = search(&model, Some((&known, start)), extra);
    let mut resolver = ResolutionResolver::default();
    let mut best =
        Least { begins: start.to_vec(), bound: model.solver.lower_bound(&figure), proved: false };
    let tag = model.solver.new_constraint_tag();
    loop {
        let found = match model.solver.satisfy(&mut brancher, asking, &mut resolver) {
            SatisfactionResult::Satisfiable(found) => {
                let solution = found.solution();
                let begins = known.iter().map(|&begins| solution.get_integer_value(begins));
                Ok((begins.collect::<Vec<_>>(), solution.get_integer_value(figure)))
            }
            SatisfactionResult::Unsatisfiable(..) => Err(true),
            SatisfactionResult::Unknown(..) => Err(false),
        };
        best.bound = best.bound.max(model.solver.lower_bound(&figure));
        match found {
            Ok((begins, value)) => {
                asking.best = asking.best.min(cost(&begins));
                best.begins = begins;
                model.solver.add_clause([predicate![figure <= value - 1]], tag);
            }
            Err(proved) => {
                best.proved = proved;
                return best;
            }
        }
    }
}
