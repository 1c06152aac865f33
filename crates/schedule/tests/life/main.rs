//! What becomes of a plan in force: why, promise, replan, risk.

#[path = "../checker/mod.rs"]
mod checker;
#[path = "../studio_books/mod.rs"]
mod studio_books;

mod changes;
mod promise;
mod replan;
mod risk;
mod why;

use schedule::{Book, Cost, Effort, Plan, Slot, solve};
use studio_books::{Due, Kind, Makers};

const EVENINGS: Kind = Kind::new(Makers::Evenings, Due::Tight);
const TWO: Kind = Kind::new(Makers::Two, Due::Tight);
const FOUR: Kind = Kind::new(Makers::Four, Due::Loose);

/// A plan after some rounds.
fn planned(book: &Book, rounds: u32) -> Plan {
    let plan = solve(book, &Effort::default(), &mut |progress| {
        f64::from(progress.round) / f64::from(rounds)
    });
    plan.expect("a plan")
}

/// The same plan with its mixes numbered anew and its cost reckoned anew.
fn told_anew(book: &Book, mut plan: Plan) -> Plan {
    let mut firsts: Vec<(Slot, u32)> = plan
        .tasks
        .iter()
        .flatten()
        .filter_map(|placed| Some((placed.begins(), placed.mix?)))
        .collect();
    firsts.sort_unstable();
    let mut order: Vec<u32> = Vec::new();
    for (_, mix) in firsts {
        if !order.contains(&mix) {
            order.push(mix);
        }
    }
    for placed in plan.tasks.iter_mut().flatten() {
        let at = placed.mix.and_then(|mix| order.iter().position(|&other| other == mix));
        placed.mix = at.map(|at| at as u32);
    }
    plan.bound = Cost::default();
    plan.cost = checker::cost(book, &plan);
    plan
}

fn without_faults(book: &Book, plan: &Plan) {
    assert_eq!(checker::faults(book, plan), Vec::<String>::new());
}
