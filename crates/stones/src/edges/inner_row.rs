//! The next row inward: in the pockets of the row outside, with a stone inside each sharp corner.

use crate::edges::outline::{Chain, Rim};
use crate::rows::edge_rows::below;
use glam::DVec3;
use shape::SurfacePoint;

/// A stone inside a corner lies no farther from the corner's own than this, in pitches: in a square
/// corner it is the diagonal, √2.
const FAR: f64 = 1.5;
/// Steps in which a place is looked for, in pitches.
const STEP: f64 = 0.02;
/// Rounds of sharing out the gaps of a row.
const ROUNDS: u32 = 16;
/// Gaps that differ by less than this, in pitches, are left.
const EVEN: f64 = 0.02;
/// How far a stone may leave the row outside to give room beside it, in pitches.
const LEAVES: f64 = 0.15;

impl Rim<'_> {
    /// Lays a row into the pockets of others, away from the edge, while it is `going`.
    pub fn nested(
        &mut self,
        chains: &[Chain],
        row: u32,
        going: &mut dyn FnMut() -> bool,
    ) -> Vec<Chain> {
        // A stone alone has no pocket beside it.
        let outer = chains.iter().filter(|chain| chain.numbers.len() > 1);
        let rows = outer.map_while(|chain| going().then(|| self.inside(chain, row)));
        rows.filter(|chain| !chain.numbers.is_empty()).collect()
    }

    fn inside(&mut self, chain: &Chain, row: u32) -> Chain {
        let outer = self.facing_right(chain);
        // Where the pockets on both sides of a corner are in each other's way, one stone between them
        // takes the place of both.
        let crowded: Vec<bool> = outer.corners.iter().map(|k| self.crowds(&outer, *k)).collect();
        let mut tips = Vec::new();
        let corners = || outer.corners.iter().zip(&crowded);
        for (k, _) in corners().filter(|(_, crowded)| **crowded) {
            tips.extend(self.tip(&outer, *k, row));
        }
        let mut numbers = below(&mut self.bed, self.diameter_mm, row, &outer.numbers, outer.closed);
        for (k, _) in corners().filter(|(_, crowded)| !**crowded) {
            tips.extend(self.tip(&outer, *k, row));
        }
        for tip in &tips {
            self.insert(&mut numbers, *tip, outer.closed);
        }
        let corners = (0..numbers.len()).filter(|k| tips.contains(&numbers[*k])).collect();
        Chain { closed: outer.closed && numbers.len() > 2, numbers, corners }
    }

    fn centre(&self, number: usize) -> DVec3 {
        self.bed.laid[number].frame.centre_mm
    }

    /// The inner pocket between two stones.
    fn pocket(&self, a: usize, b: usize) -> Option<SurfacePoint> {
        self.bed.spots_on_two(a, b, self.diameter_mm)[1]
    }

    /// The chain in the direction in which the free ground is to its right.
    fn facing_right(&self, chain: &Chain) -> Chain {
        let field = self.bed.ground.field;
        let count = chain.numbers.len();
        let pairs = if chain.closed { count } else { count.saturating_sub(1) };
        let deeper_right = |k: &usize| {
            let (a, b) = (chain.numbers[*k], chain.numbers[(k + 1) % count]);
            let sides = self.bed.spots_on_two(a, b, self.diameter_mm);
            let [left, right] =
                sides.map(|at| at.map_or(f64::NEG_INFINITY, |at| field.clearance_mm(at)));
            right > left
        };
        let right = (0..pairs).filter(deeper_right).count();
        if 2 * right >= pairs {
            return chain.clone();
        }
        let mut corners: Vec<usize> = chain.corners.iter().map(|k| count - 1 - k).collect();
        corners.reverse();
        Chain {
            numbers: chain.numbers.iter().rev().copied().collect(),
            closed: chain.closed,
            corners,
        }
    }

    /// A stone of a chain and those before and after it.
    fn beside(&self, chain: &Chain, k: usize) -> Option<[usize; 3]> {
        let count = chain.numbers.len();
        let inner = k > 0 && k + 1 < count;
        (count > 2 && (chain.closed || inner))
            .then(|| [(k + count - 1) % count, k, (k + 1) % count].map(|k| chain.numbers[k]))
    }

    fn crowds(&self, chain: &Chain, k: usize) -> bool {
        let Some([before, tip, after]) = self.beside(chain, k) else { return false };
        match (self.pocket(before, tip), self.pocket(tip, after)) {
            (Some(a), Some(b)) => {
                let [a, b] = [a, b].map(|at| self.bed.ground.surface.world_from_surface(at));
                a.distance(b) < self.pitch_mm
            }
            _ => true,
        }
    }

    /// Lays a stone straight inside that of a corner, where it first finds room.
    fn tip(&mut self, chain: &Chain, k: usize, row: u32) -> Option<usize> {
        let [before, tip, after] = self.beside(chain, k)?;
        let ground = self.bed.ground;
        let frame = self.bed.laid[tip].frame;
        let [to_before, to_after] =
            [before, after].map(|other| (self.centre(other) - frame.centre_mm).normalize_or_zero());
        let halves = (to_before + to_after).normalize_or_zero();
        let (x, y) = (halves.dot(frame.right), halves.dot(frame.down));
        let at = |far_mm: f64| ground.moved(&frame, far_mm * x, far_mm * y);
        let deep = |way: f64| ground.field.clearance_mm(at(way * 0.3 * self.pitch_mm));
        let way = if deep(1.0) >= deep(-1.0) { self.pitch_mm } else { -self.pitch_mm };
        let takes = |far: f64| self.bed.takes(at(far * way), self.diameter_mm);
        let steps = ((FAR - 0.9) / STEP) as u32;
        let hit = (0..=steps).map(|k| 0.9 + STEP * f64::from(k)).find(|far| takes(*far))?;
        let (mut miss, mut hit) = (hit - STEP, hit);
        for _ in 0..30 {
            let middle = (miss + hit) / 2.0;
            *(if takes(middle) { &mut hit } else { &mut miss }) = middle;
        }
        let place = at(hit * way);
        self.lay(place, row)
    }

    /// Puts a stone into a row where the way over it is shortest.
    fn insert(&self, numbers: &mut Vec<usize>, stone: usize, closed: bool) {
        let count = numbers.len();
        let longer = |k: &usize| {
            let (a, b) = (self.centre(numbers[*k]), self.centre(numbers[(k + 1) % count]));
            let here = self.centre(stone);
            a.distance(here) + here.distance(b) - a.distance(b)
        };
        let pairs = if closed { count } else { count.saturating_sub(1) };
        let best = (0..pairs).min_by(|a, b| longer(a).total_cmp(&longer(b)));
        numbers.insert(best.map_or(count, |k| k + 1), stone);
    }

    /// Shares out the gaps within a row: stones slide along the row outside towards the wider gap, those
    /// in corners stay. Ends early when no longer `going`.
    pub fn share_gaps(&mut self, chain: &Chain, going: &mut dyn FnMut() -> bool) {
        let ground = self.bed.ground;
        let in_corner = |k: &usize| chain.corners.binary_search(k).is_ok();
        for _ in 0..ROUNDS {
            if !going() {
                return;
            }
            for k in (0..chain.numbers.len()).filter(|k| !in_corner(k)) {
                let Some([before, number, after]) = self.beside(chain, k) else { continue };
                let frame = self.bed.laid[number].frame;
                let (back, on) =
                    (self.centre(before) - frame.centre_mm, self.centre(after) - frame.centre_mm);
                let off_mm = (on.length() - back.length()) / 2.0;
                if off_mm.abs() < EVEN * self.pitch_mm
                    || on.length().max(back.length()) > 2.5 * self.pitch_mm
                {
                    continue;
                }
                let along = (on - back).normalize_or_zero();
                let (x, y) = (along.dot(frame.right), along.dot(frame.down));
                // The free ground lies to the right of the row: down where it runs to the right.
                let inward = (-y, x);
                let steps = (-10..=(LEAVES / STEP) as i32).map(f64::from);
                let ways: Vec<(f64, f64)> = steps
                    .map(|step| {
                        let in_mm = step * STEP * self.pitch_mm;
                        (0.5 * off_mm * x + in_mm * inward.0, 0.5 * off_mm * y + in_mm * inward.1)
                    })
                    .filter(|(right, down)| {
                        ground.allows(ground.moved(&frame, *right, *down), self.diameter_mm)
                    })
                    .collect();
                self.bed.slide(number, ways);
            }
        }
    }
}
