//! Small studios whose least cost a general solver proves: OR-Tools CP-SAT, with its own reading of
//! the rules.

mod checker;
mod solver;
mod studio_books;

use schedule::{Book, Cost, Effort, Plan, solve};
use solver::{Answer, ask, weighed};
use studio_books::{Due, Kind, Makers, random_studio};

/// Rounds of our search.
const ROUNDS: u32 = 40;
/// Most time that the general solver is given, s; it needs a few, more on a busy machine.
const PATIENCE_S: f64 = 240.0;

fn ours(book: &Book) -> Plan {
    let going = &mut |progress: &schedule::Progress| f64::from(progress.round) / f64::from(ROUNDS);
    solve(book, &Effort::default(), going).expect("a plan")
}

fn proved(book: &Book, start: Option<&Plan>) -> Plan {
    let Answer { plan, proved } = ask(book, start, PATIENCE_S);
    let plan = plan.expect("a plan");
    assert!(proved, "not proved in {PATIENCE_S} s: {:?}", plan.cost);
    assert_eq!(plan.cost, plan.bound);
    plan
}

/// Our plan is right, and above what is proved by no more than so many percent.
fn compare(seed: u64, kind: Kind, percent: f64) {
    let book = random_studio(seed, 3, kind);
    let best = proved(&book, None);
    assert_eq!(checker::faults(&book, &best), Vec::<String>::new());
    let plan = ours(&book);
    assert_eq!(checker::faults(&book, &plan), Vec::<String>::new());
    assert!(plan.cost >= best.bound, "{:?} is below the bound {:?}", plan.cost, best.bound);
    let above = 100.0 * (weighed(&plan) / weighed(&best) - 1.0);
    assert!(
        plan.cost.late == best.cost.late && above <= percent,
        "{:?}, {:?}, {above} %",
        plan.cost,
        best.cost
    );
}

#[test]
fn three_pieces_in_the_evenings_are_near_the_least_cost() {
    compare(4, Kind::short(Makers::Evenings, Due::Tight), 2.0);
}

#[test]
fn three_pieces_in_whole_days_are_near_the_least_cost() {
    compare(3, Kind::short(Makers::WholeDays, Due::Overloaded), 2.0);
}

#[test]
fn three_pieces_of_two_people_are_near_the_least_cost() {
    compare(4, Kind::short(Makers::Two, Due::Loose), 2.0);
}

#[test]
fn the_general_solver_takes_our_plans_as_they_are() {
    let book = random_studio(3, 3, Kind::short(Makers::Two, Due::Overloaded));
    let plan = ours(&book);
    // It begins by reading our plan into its own rules, and gives up if they are broken.
    let better = proved(&book, Some(&plan));
    assert!(better.cost <= plan.cost, "{:?}, {:?}", better.cost, plan.cost);
    assert_ne!(better.bound, Cost::default());
}
