//! Published instances: what is found, and how soon, in at most five seconds each.

#[path = "../tests/published/reading.rs"]
mod reading;

use std::time::{Duration, Instant};

fn main() {
    let wanted: Vec<String> =
        std::env::args().skip(1).filter(|arg| !arg.starts_with('-')).collect();
    println!("instance     found  published  gap %   best s  total s  proved");
    for instance in reading::published() {
        if !wanted.is_empty() && !wanted.iter().any(|name| name == instance.name) {
            continue;
        }
        let begun = Instant::now();
        let mut best = (u64::MAX, Duration::ZERO);
        let found = schedule::exact(&instance.book, None, &mut |cost| {
            if cost.finishes < best.0 {
                best = (cost.finishes, begun.elapsed());
            }
            begun.elapsed() < Duration::from_secs(5)
        });
        let total = begun.elapsed();
        let optimum = instance.optimum.map_or("none".into(), |least| least.to_string());
        let (value, gap, proved) = match &found {
            Ok(found) => {
                let value = found.plan.as_ref().map(|plan| plan.cost.finishes);
                if value.is_some_and(|value| value < best.0) {
                    best.1 = total;
                }
                let gap = value.zip(instance.optimum).map(|(value, least)| {
                    format!("{:.1}", (value as f64 / least as f64 - 1.0) * 100.0)
                });
                let value = value.map_or("?".into(), |value| value.to_string());
                (value, gap.unwrap_or("-".into()), found.proven)
            }
            Err(_) => ("none".into(), "-".into(), true),
        };
        println!(
            "{:<12} {value:>5}  {optimum:>9}  {gap:>5}  {:>7.2}  {:>7.2}  {}",
            instance.name,
            best.1.as_secs_f64(),
            total.as_secs_f64(),
            if proved { "yes" } else { "no" }
        );
    }
}
