//! First choices, by rules of dispatching.

use crate::book::Slot;
use crate::decode::{Choices, Compiled, ways_after};

/// How the jobs are ranked.
const RULES: [(f64, f64); 7] =
    // Share of the due time in the key, weight of the job's own work.
    [(1.0, 0.0), (1.0, 1.0), (1.0, 3.0), (0.5, 0.0), (0.5, 3.0), (0.0, 1.0), (0.0, 5.0)];

/// Choices to begin with, by several rules: tasks in order of the latest time at which they may begin
/// (minimum slack), blended with shortest processing time first, weighted.
pub(crate) fn starts<'a>(compiled: &'a Compiled) -> impl Iterator<Item = Choices> + use<'a> {
    let book = compiled.book;
    // From the beginning of each task to the end of its job.
    let ways = ways_after(compiled, |task| compiled.work[task]);
    let tails: Vec<Slot> = compiled.work.iter().zip(ways).map(|(work, way)| work + way).collect();
    let mut longest = vec![0; book.jobs.len()];
    let mut hands = vec![0_i64; book.jobs.len()];
    for (index, task) in book.tasks.iter().enumerate() {
        longest[task.job] = longest[task.job].max(tails[index]);
        if !task.hands.is_empty() && !task.optional {
            hands[task.job] += i64::from(task.work);
        }
    }
    let last = book.jobs.iter().filter_map(|job| job.due).max().unwrap_or(book.horizon);
    RULES.into_iter().map(move |(due_share, work_share)| {
        let keys: Vec<f64> = book
            .tasks
            .iter()
            .enumerate()
            .map(|(index, task)| {
                let job = &book.jobs[task.job];
                let due = f64::from(job.due.unwrap_or(last));
                let weight = f64::from(job.weight.max(1));
                let work = hands[task.job] as f64 / weight;
                due_share * due + work_share * work * 8.0 - f64::from(tails[index])
            })
            .collect();
        let least = keys.iter().copied().fold(f64::INFINITY, f64::min);
        // In ranks, so that a step from one task to the next is 1.
        let mut order: Vec<usize> = (0..keys.len()).collect();
        order.sort_by(|&a, &b| (keys[a] - least).total_cmp(&(keys[b] - least)).then(a.cmp(&b)));
        let mut choices = Choices::none(compiled);
        for (rank, &task) in order.iter().enumerate() {
            choices.key[task] = rank as f32 + 1.0;
        }
        choices
    })
}
