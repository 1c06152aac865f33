//! Our plans against the best that we have ever found.

use crate::asked::Asked;
use crate::kept::Kept;
use crate::run::run;
use crate::solver::weighed;
use crate::studio_books::random_studio;

/// Mean and greatest; zeros of nothing.
pub fn mean_and_worst(figures: &[f64]) -> (f64, f64) {
    let mean = figures.iter().fold(0.0, |sum, figure| sum + figure) / figures.len().max(1) as f64;
    (mean, figures.iter().copied().reduce(f64::max).unwrap_or(0.0))
}

/// Prints, for each kind of studio, when the first plan was there and how far the plan after some
/// seconds is above the best.
pub fn against_best(asked: &Asked) {
    println!(
        "{:18} {:>5} | first plan ms: mean, worst | late: ours, best | worse in tuple | above best %: mean, worst",
        format!("plans after {} s", asked.seconds),
        "seeds"
    );
    let mut kept = Kept::read();
    for (pieces, due, kind) in asked.studios() {
        let name = format!("{pieces} {due}");
        let (mut first_ms, mut above, mut worse) = (Vec::new(), Vec::new(), 0);
        let (mut late, mut late_best) = (Vec::new(), Vec::new());
        for seed in 0..asked.seeds {
            let book = random_studio(seed, pieces, kind);
            let key = Kept::name(&name, seed, &book);
            let short = run(&book, 1, asked.seconds, asked.processor);
            kept.add(&key, &short.plan, asked.seconds);
            if kept.best(&key).is_none_or(|best| best.seconds < asked.long) {
                // With other chances than the short one.
                kept.add(&key, &run(&book, 2, asked.long, asked.processor).plan, asked.long);
            }
            let best = kept.best(&key).expect("just added");
            first_ms.push(short.first_s * 1e3);
            above.push(100.0 * (weighed(&short.plan) / best.weighed - 1.0));
            worse += u32::from(short.plan.cost > best.cost);
            late.push(short.plan.cost.late as f64);
            late_best.push(best.cost.late as f64);
        }
        let (first, first_worst) = mean_and_worst(&first_ms);
        let (mean, worst) = mean_and_worst(&above);
        println!(
            "{name:18} {:5} | {first:8.1} {first_worst:8.1} | {:10.0} {:10.0} | {worse:3} | {mean:6.2} {worst:6.2}",
            asked.seeds,
            mean_and_worst(&late).0,
            mean_and_worst(&late_best).0,
        );
    }
}

/// Prints how much memory the largest books take. Comes before all else: the system tells only the most
/// that was ever held.
pub fn memory(asked: &Asked) {
    let largest = asked.pieces.iter().copied().max().unwrap_or(0);
    for (pieces, due, kind) in asked.studios().filter(|studio| studio.0 == largest) {
        run(&random_studio(0, pieces, kind), 1, asked.seconds, asked.processor);
        match peak_kib() {
            Some(kib) => println!("{pieces} {due}: {:.0} MB at most so far", kib * 1.024e-3),
            None => println!("{pieces} {due}: this system does not tell how much memory was held"),
        }
    }
}

/// The most memory that this process has held, KiB, as Linux tells it.
fn peak_kib() -> Option<f64> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"))?;
    line.trim().strip_suffix("kB")?.trim().parse().ok()
}
