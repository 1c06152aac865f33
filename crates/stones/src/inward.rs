//! Rings that follow the edges of a zone inward, to its middle.

use crate::fill::{Engine, Ground, Order, Spot};
use crate::outline::Rim;
use crate::pockets::{self, Lot};

/// Most rings from an edge to the middle.
const MOST_RINGS: u32 = 2000;

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
        let mut best = (0, Vec::new());
        // Every ring sunk into the one before, or all at their own distance from the edge: where an
        // edge is straight the first covers more, where it bends often the second.
        for (turn, nests) in [true, false].into_iter().enumerate() {
            let Some(mut rim) = Rim::new(ground, order) else { break };
            let begun = turn as f64 / 2.0;
            let mut chains = rim.flush(1, 0.0);
            let mut row = 1;
            while !chains.is_empty() && row < MOST_RINGS {
                if !progress(begun) {
                    return best.1;
                }
                row += 1;
                chains = if nests {
                    rim.nested(&chains, row)
                } else {
                    rim.flush(row, f64::from(row - 1) * rim.pitch_mm)
                };
            }
            // What only fills the middle is no ring, however much it covers.
            let in_rings = rim.bed.laid.len();
            let lot = Lot { diameter_mm: rim.diameter_mm, size: 0, row, most: usize::MAX };
            let going =
                pockets::fill(&mut rim.bed, lot, &mut |share| progress(begun + share / 2.0));
            let spots = rim.spots(order);
            if in_rings > best.0 {
                best = (in_rings, spots);
            }
            if !going {
                break;
            }
        }
        best.1
    }
}
