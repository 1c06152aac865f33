//! How long it takes to prove an order best. `cargo bench -p buying --bench books`.

#[path = "../tests/made_up/mod.rs"]
mod made_up;

use buying::solve;
use made_up::{Size, studio};
use std::time::Instant;

/// Seconds after which a book counts as not proven.
const PATIENCE_S: f64 = 60.0;

fn main() {
    let sizes = [
        (
            "10 items, 3 packs, 3 sellers",
            Size { items: 10, packs: 3, sellers: 3, one_lot: 50, most: 2000 },
        ),
        (
            "30 items, 5 packs, 4 sellers",
            Size { items: 30, packs: 5, sellers: 4, one_lot: 50, most: 2000 },
        ),
        (
            "60 items, 8 packs, 4 sellers, any lot",
            Size { items: 60, packs: 8, sellers: 4, one_lot: 0, most: 2000 },
        ),
        (
            "60 items, 8 packs, 4 sellers, half in lots",
            Size { items: 60, packs: 8, sellers: 4, one_lot: 50, most: 2000 },
        ),
        (
            "60 items, 8 packs, 4 sellers, all in lots",
            Size { items: 60, packs: 8, sellers: 4, one_lot: 100, most: 2000 },
        ),
    ];
    for (name, size) in sizes {
        println!("{name}");
        for seed in 1..=8 {
            let book = studio(seed, size);
            let begun = Instant::now();
            match solve(&book, PATIENCE_S) {
                Ok(order) => println!(
                    "  book {seed}: {:6.3} s, {} offers, net {}, bound {}, {}",
                    begun.elapsed().as_secs_f64(),
                    book.offers.len(),
                    order.net(),
                    order.bound,
                    if order.proven { "proven" } else { "not proven" },
                ),
                Err(refusal) => println!("  book {seed}: {refusal}"),
            }
        }
    }
}
