//! One run of our search.

use crate::checker::faults;
use crate::clock::Clock;
use schedule::{Book, Effort, Plan, Progress, solve};

/// What a run gave.
pub struct Run {
    /// When the first whole plan was there, s.
    pub first_s: f64,
    /// The plan at the end.
    pub plan: Plan,
}

/// Plans a book for so many seconds, by the processor or the clock, and says what is wrong with the plan.
///
/// # Panics
/// If there is no plan.
pub fn run(book: &Book, seed: u64, seconds: f64, processor: bool) -> Run {
    let clock = Clock::begin(processor);
    let mut first_s = None;
    let mut going = |progress: &Progress| {
        if progress.lost == 0 {
            first_s.get_or_insert_with(|| clock.thread_s());
        }
        clock.search_s() / seconds
    };
    let plan = solve(book, &Effort { seed }, &mut going).expect("a plan");
    let end_s = clock.search_s();
    let found = faults(book, &plan);
    for fault in &found {
        eprintln!("FAULT in a plan of {} pieces: {fault}", book.jobs.len());
    }
    Run { first_s: first_s.unwrap_or(end_s), plan }
}
