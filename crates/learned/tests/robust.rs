//! The regression against other people's code: scipy, statsmodels and scikit-learn (`reference/learned.py`).

use learned::robust::{Fit, Prior, Seen, Spread, fit, upper_tenth};
use std::collections::BTreeMap;

const DATA: &str = include_str!("reference/data.csv");
const FITS: &str = include_str!("reference/fits.csv");
const QUANTILES: &str = include_str!("reference/quantiles.csv");

fn rows(text: &str) -> Vec<csv::StringRecord> {
    let mut table = csv::Reader::from_reader(text.as_bytes());
    table.records().map(|row| row.expect("a row")).collect()
}

fn number(row: &csv::StringRecord, at: usize) -> f64 {
    row[at].parse().expect("a number")
}

/// What the reference found of a case.
fn reference(case: &str) -> BTreeMap<String, f64> {
    let of_it = rows(FITS).into_iter().filter(|row| &row[0] == case);
    of_it.map(|row| (row[1].to_owned(), number(&row, 2))).collect()
}

fn lines(case: &str) -> Vec<Seen> {
    let of_it = rows(DATA).into_iter().filter(|row| &row[0] == case);
    of_it
        .map(|row| Seen { y: number(&row, 1), x: vec![number(&row, 2), number(&row, 3)] })
        .collect()
}

fn fitted(case: &str) -> Fit {
    let about = |sd: f64| Prior { mean: 1.0, sd };
    let (priors, worth) = match case {
        "many" => ([about(100.0), about(100.0)], 0.001),
        "some" => ([about(0.5), about(0.35)], 6.0),
        _ => ([about(0.4), about(0.4)], 6.0),
    };
    fit(&lines(case), &priors, Spread { sd: 0.2, worth })
}

#[test]
fn the_mode_is_that_of_scipy() {
    for case in ["few", "odd", "some", "many"] {
        let (fit, told) = (fitted(case), reference(case));
        for (at, name) in ["map0", "map1"].iter().enumerate() {
            assert!((fit.mean[at] - told[*name]).abs() < 2e-6, "{case} {name}: {}", fit.mean[at]);
        }
        assert!((fit.spread - told["scale"]).abs() < 2e-6, "{case}: {}", fit.spread);
    }
}

#[test]
fn intervals_are_near_those_of_the_whole_posterior() {
    // The reference sums up the whole posterior on a grid; ours is a t about its mode. Each end lies
    // within a fifth of the interval's width, and the width within a fifth of it.
    for case in ["few", "odd", "some"] {
        let (fit, told) = (fitted(case), reference(case));
        for at in 0..2 {
            let mut factors = [0.0; 2];
            factors[at] = 1.0;
            let (mean, sd) = fit.of(&factors);
            let half = fit.half_width(sd);
            let (low, high) = (told[&format!("low{at}")], told[&format!("high{at}")]);
            let width = high - low;
            assert!((2.0 * half / width - 1.0).abs() < 0.2, "{case} {at}: {half} {width}");
            assert!((mean - half - low).abs() < 0.2 * width, "{case} {at}: {}", mean - half);
            assert!((mean + half - high).abs() < 0.2 * width, "{case} {at}: {}", mean + half);
        }
    }
}

#[test]
fn with_many_lines_and_no_prior_it_is_what_other_robust_regressions_find() {
    let (fit, told) = (fitted("many"), reference("many"));
    for at in 0..2 {
        let near = |name: &str, most: f64| {
            let off = (fit.mean[at] - told[&format!("{name}{at}")]).abs();
            assert!(off < most, "{name}{at}: {off}");
        };
        // The same model by another method; then Huber's of statsmodels and scikit-learn, whose weights
        // fall off more slowly, within two percent.
        near("ml", 1e-5);
        near("rlm", 0.02);
        near("skl", 0.02);
    }
}

#[test]
fn quantiles_are_those_of_scipy() {
    let mut seen = 0;
    for row in rows(QUANTILES) {
        if &row[0] != "t" {
            continue;
        }
        seen += 1;
        let found = upper_tenth(number(&row, 1));
        assert!((found - number(&row, 3)).abs() < 1e-6, "{row:?}: {found}");
    }
    assert_eq!(seen, 5);
}

#[test]
fn one_forgotten_clock_moves_little_and_no_lines_leave_what_was_believed() {
    let line = |y: f64| Seen { y, x: vec![1.0] };
    let prior = [Prior { mean: 1.0, sd: 0.4 }];
    let spread = Spread { sd: 0.2, worth: 6.0 };
    let usual: Vec<Seen> = [1.2, 1.15, 1.25, 1.22, 1.18, 1.21].map(line).to_vec();
    let mut odd = usual.clone();
    odd.push(line(6.0));
    let (plain, robust) = (fit(&usual, &prior, spread), fit(&odd, &prior, spread));
    assert!((plain.mean[0] - robust.mean[0]).abs() < 0.06, "{} {}", plain.mean[0], robust.mean[0]);
    // The plain mean would have moved by 0.69.
    let nothing = fit(&[], &prior, spread);
    assert!((nothing.mean[0] - 1.0).abs() < 1e-12);
    assert!((nothing.of(&[1.0]).1 - 0.4).abs() < 1e-9);
}
