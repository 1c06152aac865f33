//! Rings that follow the edges of a zone inward, to its middle.

use crate::bed::Bed;
use crate::edges::outline::{Chain, Rim};
use crate::fill::{Engine, Ground, Order, Spot};
use crate::pockets::{self, Lot};
use crate::room::{HONEYCOMB, samples};
use crate::rows::settle::even_out;
use shape::SurfacePoint;

/// Most rings from an edge to the middle.
const MOST_RINGS: u32 = 2000;
/// A nested ring that comes this near to a honeycomb is kept without looking further.
const GOOD: f64 = 0.95;
/// A ring at an even distance from the edge looks neater: this much more it counts.
const NEATER: f64 = 1.02;
/// Rounds of sharing out what is left between the rings.
const EVEN_ROUNDS: u32 = 24;

/// Lays rings.
#[derive(Debug, Clone, Copy, Default)]
pub struct Rings;

impl Engine for Rings {
    fn fill(
        &self,
        ground: &Ground<'_>,
        order: &Order,
        progress: &mut dyn FnMut(f64) -> bool,
    ) -> Vec<Spot> {
        let Some(mut rim) = Rim::new(ground, order) else { return Vec::new() };
        let mut chains = rim.flush(1, 0.0, &mut || progress(0.0));
        let deepest_mm = samples(ground).into_iter().map(|(_, room)| room).fold(0.0, f64::max);
        let most = (deepest_mm / (0.8 * rim.pitch_mm)).ceil().max(1.0);
        let mut row = 1;
        let mut going = true;
        while going && !chains.is_empty() && row < MOST_RINGS {
            let share = 0.7 * (f64::from(row) / most).min(1.0);
            row += 1;
            let mut told = || {
                going = going && progress(share);
                going
            };
            chains = rim.next_ring(&chains, row, &mut told);
        }
        going = going && {
            let inner = |bed: &Bed<'_>, number: usize| bed.laid[number].spot.row > 1;
            even_out(&mut rim.bed, EVEN_ROUNDS, inner, &mut |_| progress(0.7));
            progress(0.7)
        };
        if going {
            let lot = Lot { diameter_mm: rim.diameter_mm, size: 0, row, most: usize::MAX };
            pockets::fill(&mut rim.bed, lot, &|_| true, &mut |share| progress(0.7 + 0.3 * share));
        }
        rim.spots(order)
    }
}

impl Rim<'_> {
    /// Lays the next ring: into the pockets of the ring outside, or at its own distance from the edge,
    /// whichever takes more stones for how much deeper it goes. Ends early when no longer `going`.
    fn next_ring(
        &mut self,
        outer: &[Chain],
        row: u32,
        going: &mut dyn FnMut() -> bool,
    ) -> Vec<Chain> {
        let before = self.bed.laid.len();
        let clear_mm = |rim: &Self, chains: &[Chain]| -> Vec<f64> {
            let stones = chains.iter().flat_map(|chain| &chain.numbers);
            stones.map(|k| rim.bed.ground.field.clearance_mm(rim.bed.laid[*k].spot.at)).collect()
        };
        let mean = |values: &[f64]| values.iter().sum::<f64>() / values.len().max(1) as f64;
        let outside_mm = clear_mm(self, outer);
        let from_mm = mean(&outside_mm);
        let worth = |rim: &Self, chains: &[Chain]| {
            let stones = clear_mm(rim, chains);
            stones.len() as f64 / (mean(&stones) - from_mm).max(0.5 * rim.pitch_mm)
        };
        let nested = self.nested(outer, row, going);
        nested.iter().for_each(|chain| self.share_gaps(chain, going));
        let of_nested = worth(self, &nested);
        let full = outer.iter().map(|chain| chain.numbers.len()).sum::<usize>() as f64
            / (HONEYCOMB * self.pitch_mm);
        if of_nested > GOOD * full {
            return nested;
        }
        let spots: Vec<SurfacePoint> =
            self.bed.laid[before..].iter().map(|laid| laid.spot.at).collect();
        self.bed.keep(before);
        let deepest_mm = outside_mm.iter().copied().fold(0.0, f64::max);
        let level = self.flush(row, deepest_mm + self.pitch_mm - self.diameter_mm / 2.0, going);
        let of_level = worth(self, &level);
        if NEATER * of_level >= of_nested {
            return level;
        }
        self.bed.keep(before);
        for at in spots {
            self.bed.lay(Spot { at, size: 0, row }, self.diameter_mm);
        }
        nested
    }
}
