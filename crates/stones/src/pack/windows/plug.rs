//! One more stone for a wide hole, for which its neighbours make room.

use super::{Window, Windows};
use crate::chance::one_of;
use crate::pack::board::Disc;
use crate::pack::chart::distance_squared;
use rand_pcg::Pcg64;

/// Stones about a hole of which some may become smaller.
const ABOUT_HOLE: usize = 5;

impl Windows<'_, '_> {
    /// One more small stone in the hole, and one or two of those about it a step smaller, by chance, if
    /// that is worth it.
    pub(super) fn plug(
        &self,
        window: &Window,
        discs: &mut Vec<Disc>,
        chance: &mut Pcg64,
    ) -> Option<()> {
        let board = self.board;
        let may = |size: &&usize| board.may(&window.middle, **size);
        let small = *board.ladder.iter().rev().find(may)?;
        let mut near: Vec<(f64, usize, usize)> = Vec::new();
        for (number, disc) in discs.iter().enumerate() {
            let Some(smaller) = board.smaller(disc.size) else { continue };
            if board.may(&disc.place, smaller) {
                let away_mm = distance_squared(&disc.place, &window.middle).sqrt() - disc.reach_mm;
                near.push((away_mm, number, smaller));
            }
        }
        near.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        near.truncate(ABOUT_HOLE);
        let mut counts = self.counts.clone();
        counts[small] += 1.0;
        for _ in 0..=one_of(chance, 2) {
            let pick = one_of(chance, near.len().max(1));
            let (_, which, smaller) = *near.get(pick)?;
            near.swap_remove(pick);
            counts[discs[which].size] -= 1.0;
            counts[smaller] += 1.0;
            let reach_mm = board.reach_mm(smaller);
            discs[which] = Disc { reach_mm, size: smaller, ..discs[which] };
        }
        if self.worth(&counts) <= self.worth(&self.counts) || !board.in_stock(&counts) {
            return None;
        }
        let reach_mm = board.reach_mm(small);
        discs.push(Disc { place: window.middle, reach_mm, size: small });
        Some(())
    }
}
