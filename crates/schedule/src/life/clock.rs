//! How an effort is spent on mending a plan.

use crate::plan::Cost;
use crate::search::{Found, Mender};
use crate::solve::Progress;

/// Placings of one task in a round, about.
const PLACINGS: usize = 20_000;
/// What a task without a place measures.
pub(super) const LOST: f64 = 1e9;

/// How far the effort is.
pub(super) struct Clock<'a> {
    pub going: &'a mut dyn FnMut(&Progress) -> f64,
    pub round: u32,
    pub share: f64,
}

impl Clock<'_> {
    /// Asks how much of the effort is behind.
    pub fn ask(&mut self, lost: u32) {
        let (cost, bound) = (Cost::default(), Cost::default());
        self.share = (self.going)(&Progress { round: self.round, cost, bound, lost });
    }

    /// Searches until a share of the effort is behind.
    pub fn search(
        &mut self,
        mender: &mut Mender,
        tasks: usize,
        until: f64,
        measure: &dyn Fn(Found) -> f64,
    ) {
        let changes = (PLACINGS / tasks.max(1)).clamp(4, 400) as u32;
        let from = self.share;
        while self.share < until && mender.can_move() {
            let behind = (self.share - from) / (until - from).max(1e-9);
            mender.round(changes, behind, measure);
            self.round += 1;
            self.ask(u32::from(mender.least >= LOST));
        }
    }
}
