//! How long a resin takes to be fitted to its sheet and followed for a week: `cargo bench -p coats`.
//!
//! Prints the least and the median of several rounds in ms.

use coats::cure::{calibrate, course, plan};
use coats::pot::{Filling, greatest_mass_g, pot, runaway_mass_g};
use piece::Settings;
use std::hint::black_box;
use std::time::Instant;

const ROUNDS: usize = 51;

fn timed<T>(what: &str, mut job: impl FnMut() -> T) {
    let mut rounds: Vec<f64> = (0..ROUNDS)
        .map(|_| {
            let begun = Instant::now();
            black_box(job());
            begun.elapsed().as_secs_f64() * 1e3
        })
        .collect();
    rounds.sort_by(f64::total_cmp);
    println!("{what:44} {:7.3} {:7.3}", rounds[0], rounds[ROUNDS / 2]);
}

fn main() {
    let resin = Settings::demo().resin;
    let room_c = |min: f64| 21.0 + 3.0 * libm::cos(min * std::f64::consts::TAU / 1440.0);
    let fitted = calibrate(&resin).expect("the demo resin");
    println!("{:44} {:>7} {:>7}", "ms", "least", "median");
    timed("fit to the sheet, three activation energies", || calibrate(&resin));
    timed("a film for a week", || course(&fitted.likely, &room_c, 10_080.0));
    timed("100 g in a cup", || pot(&fitted.likely, &fitted.sheet, Filling::usual(100.0), &room_c));
    timed("all durations of one pour", || plan(&fitted, &room_c, 20.0));
    timed("greatest mass for 30 min", || greatest_mass_g(&fitted, 70.0, 30.0, &room_c));
    timed("mass that runs away", || runaway_mass_g(&fitted, 70.0, &room_c));
}
