//! Sizes exchanged between stones: from crowded places to loose ones, or at random.

use super::{FELT_MM, Squeeze};
use crate::chance::one_of;

/// Share of the stones whose size may be exchanged at a time.
const EXCHANGED: f64 = 0.01;
/// Share of the stones shaken when nothing else helps.
const SHAKEN: f64 = 0.03;
/// Steps of the ladder between two sizes that are exchanged at random, at most.
const SHAKEN_STEPS: usize = 2;

impl Squeeze<'_, '_> {
    /// Exchanges sizes at random.
    pub(super) fn shake(&mut self) {
        self.stuck += 1;
        let count = self.tight.count();
        if count < 2 {
            return;
        }
        let mut pick = || one_of(&mut self.chance, count);
        for _ in 0..(SHAKEN * count as f64).ceil() as usize {
            let (a, b) = (pick(), pick());
            let (of_a, of_b) = (self.tight.sizes()[a], self.tight.sizes()[b]);
            let board = self.board;
            let may = |number: usize, size| board.may(self.tight.place(number), size);
            // Farther apart they would break the layout up.
            let near = board.steps[of_a].abs_diff(board.steps[of_b]) <= SHAKEN_STEPS;
            if near && may(a, of_b) && may(b, of_a) {
                self.tight.resize(a, of_b);
                self.tight.resize(b, of_a);
            }
        }
    }

    /// Exchanges sizes between crowded larger stones and loose smaller ones.
    pub(super) fn exchange(&mut self) {
        let crowding = self.tight.crowding(FELT_MM);
        let steps = self.board.ladder.len() - 1;
        let each = (EXCHANGED * crowding.len() as f64 / steps.max(1) as f64).ceil() as usize;
        let mut done = vec![false; crowding.len()];
        for step in 0..steps {
            let (larger, smaller) = (self.board.ladder[step], self.board.ladder[step + 1]);
            let crowded = self.of_size(larger, |a, b| crowding[b].total_cmp(&crowding[a]));
            let loose = self.of_size(smaller, |a, b| crowding[a].total_cmp(&crowding[b]));
            let crowded: Vec<usize> =
                crowded.into_iter().filter(|i| !done[*i]).take(each).collect();
            let loose = loose.into_iter().filter(|i| !done[*i]).take(each).collect::<Vec<_>>();
            for (a, b) in crowded.into_iter().zip(loose) {
                if crowding[a] <= crowding[b] + 2.0 * FELT_MM {
                    break;
                }
                if !self.may(a, smaller) || !self.may(b, larger) {
                    continue;
                }
                self.tight.resize(a, smaller);
                self.tight.resize(b, larger);
                (done[a], done[b]) = (true, true);
            }
        }
    }
}
