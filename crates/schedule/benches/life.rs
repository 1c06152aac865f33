//! How many steps move after two lost days and what that costs, and how long promises take.
//!
//! `cargo bench -p schedule --bench life -- replan PIECES SEEDS PRICES…` or `-- promise PIECES SEEDS SECONDS`.

#[path = "../tests/checker/mod.rs"]
mod checker;
#[path = "../tests/studio_books/mod.rs"]
mod studio_books;

use schedule::life::{Asked, Terms, done, lose_days, promise, replan};
use schedule::{Book, Cost, Effort, Plan, Slot, solve};
use std::time::Instant;
use studio_books::{Due, Kind, Makers, random_studio};

const DAY: Slot = 288;
/// Rounds for a plan from nothing, and for one from the plan in force.
const ROUNDS: u32 = 12;
const MENDING_ROUNDS: u32 = 150;

fn scalar(cost: Cost) -> f64 {
    10.0 * cost.late as f64 + 12.0 * f64::from(cost.extras) + cost.finishes as f64
}

fn planned(book: &Book, rounds: u32) -> Option<Plan> {
    solve(book, &Effort::default(), &mut |it| f64::from(it.round) / f64::from(rounds)).ok()
}

/// The only maker away on the second and third day; what began before is done.
fn two_days_lost(book: &Book, plan: &Plan) -> (Book, Slot, usize) {
    let mut book = book.clone();
    let mut open = 0;
    for (task, placed) in plan.tasks.iter().enumerate() {
        let Some(placed) = placed else { continue };
        if placed.begins() < DAY && (placed.ends() <= DAY || book.tasks[task].sittings.is_none()) {
            done(&mut book, task, placed.clone());
        } else {
            open += 1;
        }
    }
    lose_days(&mut book, 0, DAY, 3 * DAY);
    (book, DAY, open)
}

fn replans(pieces: usize, seeds: u64, prices: &[f64]) {
    for makers in [Makers::Evenings, Makers::WholeDays] {
        for due in [Due::Tight, Due::Loose] {
            let mut sums = vec![(0.0, 0.0, 0.0_f64, 0); prices.len()];
            let (mut seconds, mut mends) = (0.0, 0.0);
            for seed in 0..seeds {
                let book = random_studio(seed, pieces, Kind::new(makers, due));
                let Some(plan) = planned(&book, ROUNDS) else { continue };
                let (changed, now, open) = two_days_lost(&book, &plan);
                let mut floored = changed.clone();
                floored
                    .tasks
                    .iter_mut()
                    .for_each(|task| task.not_before = task.not_before.max(now));
                let begun = Instant::now();
                let Some(afresh) = planned(&floored, ROUNDS) else { continue };
                seconds += begun.elapsed().as_secs_f64();
                for (sum, &price) in sums.iter_mut().zip(prices) {
                    let begun = Instant::now();
                    let terms = Terms { now, price, seed };
                    let new = replan(&changed, &plan, terms, &mut |it| {
                        f64::from(it.round) / f64::from(MENDING_ROUNDS)
                    });
                    let Ok(new) = new else { continue };
                    mends += begun.elapsed().as_secs_f64() / prices.len() as f64;
                    let faults = checker::faults(&changed, &new.plan);
                    assert!(faults.is_empty(), "{faults:?}");
                    let moved = new.moved.len() as f64 / open as f64;
                    let worse = scalar(new.plan.cost) / scalar(afresh.cost) - 1.0;
                    let both = moved <= 0.1 && worse <= 0.1;
                    println!(
                        "    {seed} price {price}: {} ({} forced) of {open} moved, {:.0} against {:.0} in force, {:.0} afresh",
                        new.moved.len(),
                        new.forced,
                        scalar(new.plan.cost),
                        scalar(plan.cost),
                        scalar(afresh.cost)
                    );
                    *sum =
                        (sum.0 + moved, sum.1 + worse, sum.2.max(moved), sum.3 + u32::from(both));
                }
            }
            let n = seeds as f64;
            println!(
                "{makers:?} {due:?}, {pieces} pieces: {:.1} s afresh, {:.1} s mended",
                seconds / n,
                mends / n
            );
            for ((moved, worse, most, both), price) in sums.into_iter().zip(prices) {
                println!(
                    "  price {price}: {:.1} % moved (most {:.1}), cost {:+.1} %, both kept in {both} of {seeds}",
                    100.0 * moved / n,
                    100.0 * most,
                    100.0 * worse / n
                );
            }
        }
    }
}

fn promises(pieces: usize, seeds: u64, seconds: f64) {
    for (makers, due) in
        [(Makers::Evenings, Due::Tight), (Makers::Two, Due::Tight), (Makers::Four, Due::Loose)]
    {
        for seed in 0..seeds {
            let book = random_studio(seed, pieces + 1, Kind::new(makers, due));
            let mut known = book.clone();
            known.tasks.retain(|task| task.job != pieces);
            let count = known.tasks.len();
            known.links.retain(|link| link.from < count && link.to < count);
            known.jobs.pop();
            let Some(plan) = planned(&known, ROUNDS) else { continue };
            let first = book.jobs[pieces].due.unwrap_or(book.horizon);
            let asked = Asked { job: pieces, now: 0, dues: &[first], seed };
            for seconds in [seconds, 10.0 * seconds] {
                let begun = Instant::now();
                let found =
                    promise(&book, &plan, asked, &mut |_| begun.elapsed().as_secs_f64() / seconds);
                let took = begun.elapsed().as_secs_f64();
                let told = |it: &Option<schedule::life::Promised>| {
                    it.as_ref().map_or(0.0, |it| {
                        assert!(checker::faults(&book, &it.plan).is_empty());
                        f64::from(it.leaves) / f64::from(DAY)
                    })
                };
                println!(
                    "{makers:?} {due:?} {seed}, {pieces} pieces: {took:.2} s; day {:.1} as it is, {:.1} making room; by day {:.1}: {:?}",
                    told(&found.as_it_is),
                    told(&found.making_room),
                    f64::from(first) / f64::from(DAY),
                    found.early.first().map(|it| (
                        it.promised.leaves / DAY,
                        it.later.len(),
                        it.weighted
                    ))
                );
            }
        }
    }
}

fn main() {
    let args: Vec<String> = std::env::args().skip(1).filter(|it| !it.starts_with("--")).collect();
    let number = |at: usize, or: f64| args.get(at).and_then(|it| it.parse().ok()).unwrap_or(or);
    let (pieces, seeds) = (number(1, 10.0) as usize, number(2, 10.0) as u64);
    if args.first().is_some_and(|it| it == "promise") {
        promises(pieces, seeds, number(3, 1.8));
    } else {
        let prices: Vec<f64> = args.iter().skip(3).filter_map(|it| it.parse().ok()).collect();
        replans(
            pieces,
            seeds,
            if prices.is_empty() { &[100.0, 300.0, 1000.0, 3000.0] } else { &prices },
        );
    }
}
