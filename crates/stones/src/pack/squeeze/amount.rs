//! How much is squeezed: stones added, taken away and moved up or down the ladder of sizes.

use super::{MORE, Squeeze};
use crate::pack::board::Disc;
use crate::pack::laid::Laid;
use crate::pack::voids::{Void, voids};

/// Holes that one more small stone is put into are at least this share of its reach wide.
const HOLE: f64 = 0.4;

impl Squeeze<'_, '_> {
    /// Squares of the radii of our stones summed, mm².
    pub(super) fn covered(&self) -> f64 {
        self.tight.sizes().iter().map(|size| self.board.square_mm2(*size)).sum()
    }

    /// Adds small stones and makes loose ones larger, or takes crowded ones away and makes them
    /// smaller, until the squares of the radii come to so much, mm²: with free choice any size will
    /// do.
    pub(super) fn cover(&mut self, squares: f64, going: &mut dyn FnMut() -> bool) {
        let board = self.board;
        let square = |size: usize| board.square_mm2(size);
        let smallest = board.smallest();
        let mut left = squares - self.covered();
        if left > 0.0 {
            let many = (left / square(smallest)).ceil();
            self.fill_holes(many as usize, going);
            left = squares - self.covered();
        }
        let crowding = self.tight.crowding(super::FELT_MM);
        if left > 0.0 {
            let loosest = self.sorted(
                |i| self.tight.sizes()[i] != board.ladder[0],
                |a, b| crowding[a].total_cmp(&crowding[b]),
            );
            for number in loosest {
                let size = self.tight.sizes()[number];
                let larger = board.ladder[board.steps[size] - 1];
                let more = square(larger) - square(size);
                if left <= 0.0 {
                    break;
                }
                if more <= 2.0 * left && self.may(number, larger) {
                    self.tight.resize(number, larger);
                    left -= more;
                }
            }
            return;
        }
        let tightest = self.sorted(|_| true, |a, b| crowding[b].total_cmp(&crowding[a]));
        let mut out = Vec::new();
        for number in tightest {
            let size = self.tight.sizes()[number];
            let Some(smaller) = board.smaller(size) else {
                if square(size) <= -2.0 * left {
                    out.push(number);
                    left += square(size);
                }
                continue;
            };
            let less = square(size) - square(smaller);
            if left >= 0.0 {
                break;
            }
            if less <= -2.0 * left && self.may(number, smaller) {
                self.tight.resize(number, smaller);
                left += less;
            }
        }
        self.tight.remove(&out);
    }

    /// Puts the smallest stones that may lie there into the widest holes, at most so many; not into all of
    /// them when no longer `going`.
    pub(super) fn fill_holes(&mut self, many: usize, going: &mut dyn FnMut() -> bool) {
        let board = self.board;
        let laid = Laid::with(board, &self.tight.ours());
        let least_mm = HOLE * board.reach_mm(board.smallest());
        let holes = voids(board, &laid, least_mm, 0.0, going);
        let add = |hole: &Void| {
            let place = hole.place;
            let size = board.ladder.iter().rev().find(|size| board.may(&place, **size))?;
            Some(Disc { place, reach_mm: board.reach_mm(*size), size: *size })
        };
        let holes = holes.iter().filter_map(add).take(many);
        self.tight.add(&holes.collect::<Vec<_>>());
    }

    /// Adds or takes away small stones and moves others up or down the ladder until there are so many
    /// in the shares asked for.
    pub(super) fn target(&mut self, count: usize, going: &mut dyn FnMut() -> bool) {
        let board = self.board;
        let now = self.tight.count();
        let smallest = board.smallest();
        if count > now {
            self.fill_holes(count - now, going);
        } else if count < now {
            let crowding = self.tight.crowding(super::FELT_MM);
            let mut tightest = if self.graded {
                self.sorted(|_| true, |a, b| crowding[b].total_cmp(&crowding[a]))
            } else {
                self.of_size(smallest, |a, b| crowding[b].total_cmp(&crowding[a]))
            };
            tightest.truncate(now - count);
            self.tight.remove(&tightest);
        }
        if self.graded {
            self.grow();
        } else {
            self.balance();
        }
    }

    /// Moves stones up or down the ladder until all sizes have their shares.
    fn balance(&mut self) {
        let board = self.board;
        let lack = self.lack();
        let crowding = self.tight.crowding(super::FELT_MM);
        let mut larger_lack = 0.0;
        let most = MORE.1 * crowding.len() as f64;
        for step in 0..board.ladder.len() - 1 {
            let (larger, smaller) = (board.ladder[step], board.ladder[step + 1]);
            larger_lack += lack[larger];
            let many = larger_lack.round().clamp(-most, most);
            if many > 0.0 {
                let loosest = self.of_size(smaller, |a, b| crowding[a].total_cmp(&crowding[b]));
                let loosest = loosest.into_iter().filter(|one| self.may(*one, larger));
                for number in loosest.take(many as usize).collect::<Vec<_>>() {
                    self.tight.resize(number, larger);
                }
            } else {
                let tightest = self.of_size(larger, |a, b| crowding[b].total_cmp(&crowding[a]));
                let tightest = tightest.into_iter().filter(|one| self.may(*one, smaller));
                for number in tightest.take(-many as usize).collect::<Vec<_>>() {
                    self.tight.resize(number, smaller);
                }
            }
        }
    }

    /// Makes loose stones larger where sizes change along a way, until as many are too large for
    /// their place as too small.
    fn grow(&mut self) {
        let board = self.board;
        let crowding = self.tight.crowding(super::FELT_MM);
        let off = |number: usize| {
            let asked = board.step_asked(self.tight.place(number)).unwrap_or(0.0);
            board.steps[self.tight.sizes()[number]] as f64 - asked
        };
        let off: Vec<f64> = (0..crowding.len()).map(off).collect();
        let many = off.iter().sum::<f64>().clamp(0.0, MORE.1 * off.len() as f64) as usize;
        let loosest = self.sorted(|i| off[i] > 0.5, |a, b| crowding[a].total_cmp(&crowding[b]));
        for number in loosest.into_iter().take(many) {
            let larger = board.ladder[board.steps[self.tight.sizes()[number]].saturating_sub(1)];
            if self.may(number, larger) {
                self.tight.resize(number, larger);
            }
        }
    }
}
