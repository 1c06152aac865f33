//! Which places are still free: set stones in a grid of space.

use crate::steps::step;
use glam::DVec3;

/// Slack for rounding when two stones are laid exactly at their gap, mm.
const ROUNDING_MM: f64 = 1e-8;

/// One set stone, as a neighbour sees it.
#[derive(Debug, Clone, Copy)]
struct Set {
    centre_mm: DVec3,
    diameter_mm: f64,
    gap_mm: f64,
    next: u32,
}

/// Set stones hashed by the cube of space their centre lies in. Two stones keep their gap when their
/// centres are at least half of both diameters and the gap apart, measured straight through space.
#[derive(Debug)]
pub struct Space {
    cell_mm: f64,
    heads: Vec<u32>,
    set: Vec<Set>,
    widest_mm: f64,
}

const NONE: u32 = u32::MAX;
/// Most slots.
const MOST_HEADS: usize = 1 << 22;

impl Space {
    /// An empty space for stones whose diameter and gap come to at most about `reach_mm` (more is
    /// only slower), and about `count` of them.
    pub fn new(reach_mm: f64, count: usize) -> Self {
        let heads = (4 * count).next_power_of_two().clamp(1 << 8, MOST_HEADS);
        Self {
            cell_mm: reach_mm.max(0.1),
            heads: vec![NONE; heads],
            set: Vec::with_capacity(count),
            widest_mm: 0.0,
        }
    }

    fn cell(&self, x_mm: f64) -> i64 {
        (x_mm / self.cell_mm).floor() as i64
    }

    fn slot(&self, x: i64, y: i64, z: i64) -> usize {
        // Three large primes, as in Teschner et al. 2003, "Optimized spatial hashing".
        let hash =
            x.wrapping_mul(73_856_093) ^ y.wrapping_mul(19_349_663) ^ z.wrapping_mul(83_492_791);
        (hash as usize) & (self.heads.len() - 1)
    }

    /// Sets a stone, free or not. No other may be lifted meanwhile.
    pub fn set(&mut self, centre_mm: DVec3, diameter_mm: f64, gap_mm: f64) {
        if self.set.len() > self.heads.len() / 2 && self.heads.len() < MOST_HEADS {
            self.widen();
        }
        let slot = self.slot_of(centre_mm);
        let next = self.heads[slot];
        self.heads[slot] = self.set.len() as u32;
        self.set.push(Set { centre_mm, diameter_mm, gap_mm, next });
        self.widest_mm = self.widest_mm.max(diameter_mm + 2.0 * gap_mm);
    }

    /// Spreads the stones over twice as many slots, so that few share one however many come.
    fn widen(&mut self) {
        self.heads = vec![NONE; 2 * self.heads.len()];
        for number in 0..self.set.len() {
            self.put(number, self.set[number].centre_mm);
        }
    }

    /// Takes stone `number` (in the order of setting) out of the way, so that it can be put elsewhere.
    pub fn lift(&mut self, number: usize) {
        let centre_mm = self.set[number].centre_mm;
        let slot = self.slot_of(centre_mm);
        let next = self.set[number].next;
        if self.heads[slot] == number as u32 {
            self.heads[slot] = next;
            return;
        }
        let mut at = self.heads[slot];
        while at != NONE {
            let after = self.set[at as usize].next;
            if after == number as u32 {
                self.set[at as usize].next = next;
                return;
            }
            at = after;
        }
    }

    /// Puts a lifted stone down.
    pub fn put(&mut self, number: usize, centre_mm: DVec3) {
        let slot = self.slot_of(centre_mm);
        self.set[number].centre_mm = centre_mm;
        self.set[number].next = self.heads[slot];
        self.heads[slot] = number as u32;
    }

    /// Takes the stone that was set last away for good.
    pub fn take_last(&mut self) {
        if let Some(last) = self.set.len().checked_sub(1) {
            self.lift(last);
            self.set.pop();
        }
    }

    fn slot_of(&self, centre_mm: DVec3) -> usize {
        self.slot(self.cell(centre_mm.x), self.cell(centre_mm.y), self.cell(centre_mm.z))
    }

    /// Calls `see` with the number (in the order of setting), centre and diameter of every stone
    /// whose centre may lie within `radius_mm`; a stone may be seen more than once or lie farther.
    fn near(&self, centre_mm: DVec3, radius_mm: f64, mut see: impl FnMut(usize, &Set) -> bool) {
        step();
        let low = centre_mm - DVec3::splat(radius_mm);
        let high = centre_mm + DVec3::splat(radius_mm);
        for x in self.cell(low.x)..=self.cell(high.x) {
            for y in self.cell(low.y)..=self.cell(high.y) {
                for z in self.cell(low.z)..=self.cell(high.z) {
                    let mut at = self.heads[self.slot(x, y, z)];
                    while at != NONE {
                        let set = &self.set[at as usize];
                        if !see(at as usize, set) {
                            return;
                        }
                        at = set.next;
                    }
                }
            }
        }
    }

    /// Whether a stone can be set here: at least `gap_mm`, and the other's own gap, from every other.
    pub fn is_free(&self, centre_mm: DVec3, diameter_mm: f64, gap_mm: f64) -> bool {
        let reach_mm = (diameter_mm + self.widest_mm) / 2.0 + gap_mm;
        let mut free = true;
        self.near(centre_mm, reach_mm, |_, set| {
            let least_mm =
                (diameter_mm + set.diameter_mm) / 2.0 + gap_mm.max(set.gap_mm) - ROUNDING_MM;
            free = set.centre_mm.distance_squared(centre_mm) >= least_mm * least_mm;
            free
        });
        free
    }

    /// How much more than its gap a stone here would be from the nearest other, mm; negative where it
    /// would lie too near. Sees no farther than `most_mm`.
    pub fn room_mm(&self, centre_mm: DVec3, diameter_mm: f64, gap_mm: f64, most_mm: f64) -> f64 {
        let reach_mm = (diameter_mm + self.widest_mm) / 2.0 + gap_mm + most_mm.max(0.0);
        let mut room_mm = most_mm;
        self.near(centre_mm, reach_mm, |_, set| {
            let least_mm = (diameter_mm + set.diameter_mm) / 2.0 + gap_mm.max(set.gap_mm);
            let far_mm = least_mm + room_mm;
            let squared = set.centre_mm.distance_squared(centre_mm);
            if far_mm > 0.0 && squared < far_mm * far_mm {
                room_mm = squared.sqrt() - least_mm;
            }
            true
        });
        room_mm
    }

    /// Numbers of the stones whose centres lie within `radius_mm`, ascending.
    pub fn within(&self, centre_mm: DVec3, radius_mm: f64, found: &mut Vec<usize>) {
        found.clear();
        self.near(centre_mm, radius_mm, |number, set| {
            if set.centre_mm.distance_squared(centre_mm) <= radius_mm * radius_mm {
                found.push(number);
            }
            true
        });
        found.sort_unstable();
        found.dedup();
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_place_is_free_only_beyond_both_radii_and_the_larger_gap() {
        let mut space = Space::new(3.0, 4);
        space.set(DVec3::ZERO, 2.0, 0.3);
        assert!(!space.is_free(DVec3::new(2.79, 0.0, 0.0), 3.0, 0.1));
        assert!(space.is_free(DVec3::new(2.81, 0.0, 0.0), 3.0, 0.1));
        assert!(!space.is_free(DVec3::new(2.89, 0.0, 0.0), 3.0, 0.4));
        assert!(space.is_free(DVec3::new(0.0, -2.9001, 0.0), 3.0, 0.4));
    }

    #[test]
    fn the_grid_finds_the_same_neighbours_as_looking_at_all() {
        let mut space = Space::new(1.0, 200);
        let mut all = Vec::new();
        for i in 0..200_u32 {
            let f = f64::from(i);
            let centre =
                DVec3::new((f * 0.754_877) % 1.0, (f * 0.569_840) % 1.0, (f * 0.381_966) % 1.0)
                    * 9.0
                    - 4.5;
            space.set(centre, 0.5, 0.0);
            all.push(centre);
        }
        let mut found = Vec::new();
        for centre in &all {
            space.within(*centre, 1.7, &mut found);
            let slow: Vec<usize> =
                (0..all.len()).filter(|i| all[*i].distance(*centre) <= 1.7).collect();
            assert_eq!(found, slow);
        }
    }
}
