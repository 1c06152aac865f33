//! One run of our search.

use crate::checker::faults;
use schedule::{Book, Effort, Plan, Progress, solve};
use std::time::Instant;

/// What a run gave.
pub struct Run {
    /// When the first whole plan was there, s.
    pub first_s: f64,
    /// The plan at the end.
    pub plan: Plan,
}

/// Plans a book for so many seconds, and says what is wrong with the plan.
///
/// # Panics
/// If there is no plan.
pub fn run(book: &Book, seed: u64, seconds: f64) -> Run {
    let begun = Instant::now();
    let mut first_s = None;
    let mut going = |progress: &Progress| {
        let now = begun.elapsed().as_secs_f64();
        if progress.lost == 0 {
            first_s.get_or_insert(now);
        }
        now / seconds
    };
    let plan = solve(book, &Effort { seed, ..Effort::default() }, &mut going).expect("a plan");
    let end_s = begun.elapsed().as_secs_f64();
    let found = faults(book, &plan);
    for fault in &found {
        eprintln!("FAULT in a plan of {} pieces: {fault}", book.jobs.len());
    }
    Run { first_s: first_s.unwrap_or(end_s), plan }
}
