//! How good the plans of made-up studios are, and how soon: `cargo bench -p schedule --bench studios`.
//!
//! Asked for after `--`: parts (`best`, `proved`, `gain`, `memory`; all if none is named) and
//! `seeds=20`, `pieces=10,30,100,300`, `due=tight,loose,overloaded`, `seconds=2`, `long=30`,
//! `general=60`. With `processor`, seconds of ours are those that the search had both its threads: on a
//! machine that is shared, the clock says little.
//!
//! - `best`: the first plan, and the plan after `seconds`, against the best that this bench has ever
//!   found for the same book; each book is also planned once for `long` seconds, and what was found is
//!   kept under `target/`.
//! - `proved`: books of 3 to 5 pieces against a general solver, which works for `general` seconds.
//! - `gain`: what the general solver gains in `general` seconds when it starts from our plan.
//! - `memory`: the most memory that the process has held, after 300 pieces.

#[path = "../../tests/checker/mod.rs"]
mod checker;
#[path = "../../tests/solver/mod.rs"]
mod solver;
#[path = "../../tests/studio_books/mod.rs"]
mod studio_books;

mod asked;
mod best;
mod clock;
mod general;
mod kept;
mod run;

use asked::Asked;

fn main() {
    let asked = match Asked::read(std::env::args().skip(1)) {
        Ok(asked) => asked,
        Err(why) => {
            eprintln!("{why}");
            std::process::exit(2);
        }
    };
    if asked.part("memory") {
        best::memory(&asked);
    }
    if asked.part("best") {
        best::against_best(&asked);
    }
    if asked.part("proved") {
        general::proved(&asked);
    }
    if asked.part("gain") {
        general::gain(&asked);
    }
}
