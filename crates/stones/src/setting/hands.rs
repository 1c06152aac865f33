//! One pair of hands for all parts of a piece: where the glue on one must hold, another is taken up.

use crate::setting::turning::{Glue, HAIR, Task, ready_at, timed};

/// Stones of one part that are set in one go.
pub struct Session {
    /// Index of its part.
    pub part: usize,
    /// Which of the runs of its part, from 0.
    pub run: usize,
    /// Whether nothing but stones follows on its part: then it may be set side by side with others.
    pub last_run: bool,
    /// Index of its first patch.
    pub first: usize,
    /// Its patches in setting order.
    pub tasks: Vec<Task>,
}

impl Session {
    /// Hands-on, min.
    pub fn work_min(&self) -> f64 {
        self.tasks.iter().map(|task| task.work_min).sum()
    }
}

/// One pair of hands for all sessions, each in its own order: of the parts that are ready it takes the
/// one that would wait longest from there on, so that the waits of all run side by side; among equals it
/// stays with the one in hand. The patches in this order, and the idle time that is left, min.
pub fn interleaved(sessions: &[&Session], glue: &Glue) -> (Vec<usize>, f64) {
    let waits_left = |session: &&Session| -> Vec<f64> {
        let order: Vec<usize> = (0..session.tasks.len()).collect();
        let mut waits: Vec<f64> =
            timed(&session.tasks, &order, glue).iter().map(|at| at.wait_min).collect();
        (1..waits.len()).rev().for_each(|place| waits[place - 1] += waits[place]);
        waits
    };
    let waits_left: Vec<Vec<f64>> = sessions.iter().map(waits_left).collect();
    let mut next = vec![0; sessions.len()];
    let mut wet: Vec<Vec<(usize, f64)>> = vec![Vec::new(); sessions.len()];
    let (mut now, mut idle_min, mut at) = (0.0, 0.0, 0);
    let mut hand = Vec::new();
    loop {
        let begun = (0..sessions.len()).map(|step| (at + step) % sessions.len());
        let left = begun.filter(|&of| next[of] < sessions[of].tasks.len());
        let ready = left.map(|of| {
            let ready = ready_at(&sessions[of].tasks, &wet[of], next[of], glue);
            ((ready - now).max(0.0), of)
        });
        let chosen = ready.reduce(|best, other| {
            let more = waits_left[other.1][next[other.1]] > waits_left[best.1][next[best.1]] + HAIR;
            let sooner = other.0 < best.0 - HAIR;
            if sooner || (other.0 < best.0 + HAIR && more) { other } else { best }
        });
        let Some((wait_min, of)) = chosen else { return (hand, idle_min) };
        now += wait_min + sessions[of].tasks[next[of]].work_min;
        idle_min += wait_min;
        wet[of].retain(|(_, dry)| *dry > now);
        wet[of].push((next[of], now + glue.set_min));
        hand.push(sessions[of].first + next[of]);
        next[of] += 1;
        at = of;
    }
}
