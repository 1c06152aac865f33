//! The stones about a hole laid anew, where any size will do.

use super::{Found, Window, Windows};
use crate::chance::unit;
use crate::pack::board::Disc;
use crate::pack::chart::distance_squared;
use crate::pack::draft::Draft;
use crate::pack::laid::Laid;
use rand_core::Rng;
use rand_pcg::Pcg64;

/// Times that the stones about a hole are laid anew.
const RECREATED: u32 = 12;

impl Windows<'_, '_> {
    /// Takes some stones about the hole away and lays others there, several times by chance: the best.
    pub(super) fn recreated(&self, window: &Window, chance: &mut Pcg64) -> Found {
        let board = self.board;
        let mut best: Option<(f64, Vec<Disc>)> = None;
        let own: Vec<Disc> = window.moving.iter().map(|number| self.ours[*number]).collect();
        let whole: f64 = own.iter().map(|disc| board.square_mm2(disc.size)).sum();
        let mut far: Vec<f64> =
            own.iter().map(|disc| distance_squared(&disc.place, &window.middle)).collect();
        far.sort_by(f64::total_cmp);
        let least_mm = board.reach_mm(board.smallest());
        for _ in 0..RECREATED {
            // So many stones go: few more often than many.
            let dice = unit(chance);
            let many = 2 + (dice * dice * (own.len() as f64 - 2.0)) as usize;
            let Some(within) = far.get(many) else { continue };
            let stays = |disc: &&Disc| distance_squared(&disc.place, &window.middle) >= *within;
            let kept: Vec<Disc> = own.iter().filter(stays).copied().collect();
            let mut laid = Laid::empty(board);
            for disc in window.still.iter().chain(&kept) {
                laid.add(board, *disc);
            }
            let before = laid.discs.len();
            let seed = [chance.next_u64(), chance.next_u64()];
            let mut draft = Draft::new(board, laid, seed).within(window.middle, within.sqrt());
            let beside: Vec<usize> = (0..before)
                .filter(|number| {
                    let disc = &draft.laid.discs[*number];
                    let reach_mm = within.sqrt() + disc.reach_mm + least_mm;
                    distance_squared(&disc.place, &window.middle) < reach_mm * reach_mm
                })
                .collect();
            draft.fill_beside(beside.into_iter(), &mut || true);
            let found = draft.laid.discs[window.still.len()..].to_vec();
            let sum: f64 = found.iter().map(|disc| board.square_mm2(disc.size)).sum();
            if sum > best.as_ref().map_or(whole, |best| best.0) + 1e-9 {
                best = Some((sum, found));
            }
        }
        best.map(|best| best.1)
    }
}
