//! Replay against closed forms, and against the plan itself.

use crate::studio_books::random_studio;
use crate::{EVENINGS, FOUR, TWO, planned};
use schedule::life::{Sampling, Spread, risk};
use schedule::{Book, Cost, Job, Link, Open, Person, Placed, Plan, Slot, Task};

/// A chain of steps of one person who is there day and night, one after the other from 0 on.
fn chain(works: &[Slot], due: Option<Slot>) -> (Book, Plan) {
    let all: Slot = works.iter().sum();
    let horizon = 100 * all;
    let task = |(at, &work): (usize, &Slot)| Task {
        name: format!("step {at}"),
        job: 0,
        work,
        hands: vec![0],
        sittings: None,
        uses: Vec::new(),
        not_before: 0,
        optional: false,
        mix: None,
        fixed: None,
    };
    let link = |to| Link { from: to - 1, to, least: 0, most: None, relief: None };
    let book = Book {
        horizon,
        people: vec![Person {
            name: "Samphire".into(),
            open: Open::from_stretches(vec![(0, horizon)]),
        }],
        machines: Vec::new(),
        tasks: works.iter().enumerate().map(task).collect(),
        links: (1..works.len()).map(link).collect(),
        jobs: vec![Job { name: "curlew".into(), due, weight: 1, leaves: Vec::new() }],
    };
    let mut at = 0;
    let placed = works.iter().map(|work| {
        at += work;
        Some(Placed { person: Some(0), stretches: vec![(at - work, at)], mix: None })
    });
    let tasks = placed.collect();
    (book, Plan { tasks, cost: Cost::default(), bound: Cost::default() })
}

#[test]
fn the_finish_of_a_chain_has_the_sums_of_means_and_variances() {
    // Sums of independent variables: means and variances add up; a common factor P with mean 1 makes
    // the variance (1 + cv²)(V + M²) − M². Handbooks of probability; from memory.
    let works = [120, 300, 60, 480, 240, 90, 200, 150];
    let variations = [0.1, 0.3, 0.5, 0.2, 0.4, 0.3, 0.25, 0.6];
    let (book, plan) = chain(&works, None);
    let sum: f64 = works.iter().map(|&work| f64::from(work)).sum();
    let own: f64 =
        works.iter().zip(variations).map(|(&work, cv)| f64::from(work * work) * cv * cv).sum();
    for pace in [0.0, 0.2] {
        let spread =
            Spread { tasks: variations.to_vec(), warmth: 0.3, pace, stays: 0, keeps_times: false };
        let samples = 40_000;
        let told = &risk(&book, &plan, &spread, Sampling { samples, seed: 7 })[0];
        let variance = (1.0 + pace * pace) * (own + sum * sum) - sum * sum;
        let deviation = variance.sqrt();
        // Four standard errors of a mean; the deviation of a nearly normal sample errs by
        // deviation / √(2n), of a skew one by somewhat more.
        let error = deviation / f64::from(samples).sqrt();
        println!("pace {pace}: {} ± {} for {sum} ± {deviation}", told.mean, told.deviation);
        assert!((told.mean - sum).abs() < 4.0 * error);
        assert!((told.deviation - deviation).abs() < 5.0 * error);
    }
}

#[test]
fn one_step_is_in_time_as_often_as_its_distribution_says() {
    // Lognormal with mean 1 and coefficient of variation 0.5: σ² = ln 1.25, μ = −σ²/2. In time up to
    // 1.2 times its mean: Φ((ln 1.2 − μ) / σ) = Φ(0.6221535) = 0.7330795; nine in ten at
    // exp(μ + 1.2815516 σ) = 1.6385447 (scipy.stats.lognorm).
    let (book, plan) = chain(&[1000], Some(1200));
    let spread = Spread { tasks: vec![0.5], warmth: 0.0, pace: 0.0, stays: 0, keeps_times: true };
    let told = &risk(&book, &plan, &spread, Sampling { samples: 40_000, seed: 3 })[0];
    let in_time = told.in_time.expect("a due time");
    println!("{in_time} in time, {:?}, buffer {:?}", told.leaves, told.buffer);
    // Standard error √(p(1−p)/n) = 0.0022.
    assert!((in_time - IN_TIME).abs() < 0.009);
    // Standard error of the quantile: √(0.1·0.9/n) / density, 6.6 slots.
    assert!((f64::from(told.leaves[2]) - NINE_IN_TEN).abs() < 27.0);
    assert_eq!(told.buffer, Some(told.leaves[2] - 1200));
}

const IN_TIME: f64 = 0.733_079_5;
const NINE_IN_TEN: f64 = 1_638.544_7;

#[test]
fn without_spread_the_plan_comes_back_and_with_it_no_job_gets_earlier() {
    for (seed, kind) in [(1, EVENINGS), (2, TWO), (3, FOUR)] {
        let book = random_studio(seed, 12, kind);
        let plan = planned(&book, 3);
        let none = Spread {
            tasks: vec![0.0; book.tasks.len()],
            warmth: 0.0,
            pace: 0.0,
            stays: 0,
            keeps_times: true,
        };
        let mut ends = vec![0; book.jobs.len()];
        for (task, placed) in book.tasks.iter().zip(&plan.tasks) {
            ends[task.job] = ends[task.job].max(placed.as_ref().map_or(0, |placed| placed.ends()));
        }
        let told = risk(&book, &plan, &none, Sampling { samples: 2, seed: 1 });
        for (job, told) in told.iter().enumerate() {
            assert_eq!((told.mean, told.deviation), (f64::from(ends[job]), 0.0));
            let late = book.jobs[job].late(ends[job]) > 0;
            assert_eq!(told.in_time, Some(if late { 0.0 } else { 1.0 }));
            assert_eq!(told.leaves, [book.jobs[job].leaves_at(ends[job]); 3]);
            assert_eq!(told.missed, 0.0);
        }
        let some = Spread {
            tasks: vec![0.2; book.tasks.len()],
            warmth: 0.1,
            pace: 0.1,
            stays: 0,
            keeps_times: true,
        };
        let sampling = Sampling { samples: 50, seed: 1 };
        let told = risk(&book, &plan, &some, sampling);
        assert_eq!(told, risk(&book, &plan, &some, sampling), "the same seed, the same answer");
        let later = told.iter().zip(&ends).filter(|(told, ends)| told.mean > f64::from(**ends));
        assert!(later.count() * 10 > 9 * book.jobs.len(), "what goes wrong adds up");
    }
}
