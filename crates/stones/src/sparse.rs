//! Single stones far apart, spread like blue noise.
//!
//! With a density, many more places than needed are drawn and the most crowded taken away one by one
//! (sample elimination: Yuksel 2015, "Sample Elimination for Generating Poisson Disk Sample Sets",
//! Computer Graphics Forum 34(2)). Without, places are drawn wherever the distance allows (dart
//! throwing: Cook 1986), until a search through the whole zone finds no room for another.

use crate::bed::Bed;
use crate::chance::unit;
use crate::fill::{Engine, Ground, Order, Spot};
use crate::graded::Steps;
use crate::search::{Cell, cells, find};
use crate::space::Space;
use glam::DVec3;
use piece::Layout;
use rand_pcg::Pcg64;
use shape::SurfacePoint;

mod sized;

use sized::{graded, shared};

/// Places drawn for each stone that is asked for; Yuksel 2015 takes five, more spread better.
const DRAWN: usize = 20;
/// Most stones of this layout.
pub const MOST: usize = 50_000;
/// Places drawn or looked at before asking whether to go on.
const AT_ONCE: usize = 2048;
/// Darts in a row that find no room before the rest of the zone is searched.
const MISSES: usize = 400;

/// Lays accents.
#[derive(Debug, Clone, Copy, Default)]
pub struct Sparse;

impl Engine for Sparse {
    fn fill(
        &self,
        ground: &Ground<'_>,
        order: &Order,
        progress: &mut dyn FnMut(f64) -> bool,
    ) -> Vec<Spot> {
        let Layout::Sparse { apart_mm, per_mm2 } = order.layout else { return Vec::new() };
        let diameters = || order.sizes.iter().map(|size| size.0);
        let widest_mm = diameters().fold(0.0, f64::max);
        let least_mm = diameters().fold(f64::INFINITY, f64::min);
        if !least_mm.is_finite() || !progress(0.0) {
            return Vec::new();
        }
        let apart_mm = apart_mm.max(widest_mm + order.gap_mm);
        let mut field = Accents {
            ground,
            bed: Bed::new(ground, widest_mm, order.gap_mm, 0),
            own: Space::new(apart_mm, 256),
            apart_mm,
            least_mm,
            places: Vec::new(),
            chance: Pcg64::new(u128::from(order.seed[0]), u128::from(order.seed[1])),
            cells: Vec::new(),
            sums_mm2: Vec::new(),
        };
        if !field.share_out(&mut || progress(0.0)) {
            return Vec::new();
        }
        let wanted = per_mm2.map(|per_mm2| (per_mm2 * ground.area_mm2).round() as usize);
        let wanted = wanted.map_or(MOST, |wanted| wanted.clamp(1, MOST));
        if per_mm2.is_some() && !field.spread(wanted, &mut || progress(0.1)) {
            return Vec::new();
        }
        if !field.throw(wanted, progress) {
            return Vec::new();
        }
        match Steps::new(order, ground.surface) {
            Some(steps) => graded(&field, order, &steps),
            None => shared(&field, order),
        }
    }
}

/// The accents being laid.
struct Accents<'a> {
    ground: &'a Ground<'a>,
    /// With the stones of other layers and zones.
    bed: Bed<'a>,
    own: Space,
    apart_mm: f64,
    least_mm: f64,
    places: Vec<SurfacePoint>,
    chance: Pcg64,
    /// Cells that may hold a stone, and the sums of their areas.
    cells: Vec<Cell>,
    sums_mm2: Vec<f64>,
}

impl Accents<'_> {
    /// How much more room than it needs a stone has here beside those of other layers and zones, mm;
    /// sees no farther than a stone.
    fn fits(&self, at: SurfacePoint) -> f64 {
        self.bed.room_mm(at, self.least_mm, self.least_mm)
    }

    fn may(&self, at: SurfacePoint) -> bool {
        self.ground.allows(at, self.least_mm)
    }

    fn unit(&mut self) -> f64 {
        unit(&mut self.chance)
    }

    /// Finds the cells in which a stone may lie; false if it was no longer `going`.
    fn share_out(&mut self, going: &mut dyn FnMut() -> bool) -> bool {
        let ground = self.ground;
        let side_mm = (0.25 * self.apart_mm).min(self.least_mm);
        let mut sum = 0.0;
        for row in cells(ground, side_mm) {
            if !going() {
                return false;
            }
            for cell in row {
                let half_mm = cell.half_mm(ground);
                if self.fits(cell.middle(ground)) + half_mm > 0.0 {
                    sum += cell.area_mm2(ground);
                    self.cells.push(cell);
                    self.sums_mm2.push(sum);
                }
            }
        }
        true
    }

    /// A place drawn evenly over the area where a stone may lie; `None` if the draw missed.
    fn draw(&mut self) -> Option<SurfacePoint> {
        let whole = *self.sums_mm2.last()?;
        let (pick, x, y) = (self.unit() * whole, self.unit(), self.unit());
        let index = self.sums_mm2.partition_point(|sum| *sum <= pick).min(self.cells.len() - 1);
        let at = self.cells[index].at(self.ground, x, y);
        (self.fits(at) >= 0.0 && self.may(at)).then_some(at)
    }

    /// Sets as many as wanted as far from each other as they go; false if it was no longer `going`.
    fn spread(&mut self, wanted: usize, going: &mut dyn FnMut() -> bool) -> bool {
        let mut drawn = Vec::new();
        for draw in 0..60 * DRAWN * wanted {
            if draw % AT_ONCE == 0 && !going() {
                return false;
            }
            drawn.extend(self.draw());
            if drawn.len() == DRAWN * wanted {
                break;
            }
        }
        let centres: Vec<DVec3> =
            drawn.iter().map(|at| self.ground.surface.world_from_surface(*at)).collect();
        // Two neighbours of a honeycomb of so many on the area (Yuksel 2015, eq. 2).
        let area_mm2 = self.sums_mm2.last().copied().unwrap_or(0.0);
        let far_mm = 2.0 * (area_mm2 / (2.0 * 3.0_f64.sqrt() * wanted as f64)).sqrt();
        let Some(kept) = thinned(&centres, wanted, far_mm.max(self.apart_mm), going) else {
            return false;
        };
        for index in kept {
            if self.own.is_free(centres[index], self.apart_mm, 0.0) {
                self.own.set(centres[index], self.apart_mm, 0.0);
                self.places.push(drawn[index]);
            }
        }
        true
    }

    /// Throws darts, then searches for room, until there are as many as wanted.
    fn throw(&mut self, wanted: usize, progress: &mut dyn FnMut(f64) -> bool) -> bool {
        let (mut misses, mut thrown) = (0, 0_usize);
        while self.places.len() < wanted && misses < MISSES && !self.cells.is_empty() {
            if thrown.is_multiple_of(AT_ONCE) && !progress(0.3) {
                return false;
            }
            (misses, thrown) = (misses + 1, thrown + 1);
            let Some(at) = self.draw() else { continue };
            if self.set_if_free(at) {
                misses = 0;
            }
        }
        let all = self.cells.clone();
        for (done, cell) in all.iter().enumerate() {
            if done % 256 == 0 && !progress(0.3 + 0.7 * done as f64 / all.len() as f64) {
                return false;
            }
            while self.places.len() < wanted {
                let room = |at: SurfacePoint| {
                    let centre_mm = self.ground.surface.world_from_surface(at);
                    let own = self.own.room_mm(centre_mm, self.apart_mm, 0.0, 0.0);
                    own.min(self.fits(at))
                };
                let found = find(self.ground, *cell, &room, &|at| self.may(at));
                let Some(at) = found else { break };
                if !self.set_if_free(at) {
                    break;
                }
            }
        }
        true
    }

    fn set_if_free(&mut self, at: SurfacePoint) -> bool {
        let centre_mm = self.ground.surface.world_from_surface(at);
        let free = self.own.is_free(centre_mm, self.apart_mm, 0.0);
        if free {
            self.own.set(centre_mm, self.apart_mm, 0.0);
            self.places.push(at);
        }
        free
    }
}

/// Takes away the most crowded places until so many are left; their numbers, or `None` when no longer
/// `going`.
fn thinned(
    centres: &[DVec3],
    wanted: usize,
    far_mm: f64,
    going: &mut dyn FnMut() -> bool,
) -> Option<Vec<usize>> {
    let mut space = Space::new(far_mm, centres.len());
    for centre in centres {
        space.set(*centre, 0.0, 0.0);
    }
    let weight = |a: usize, b: usize| {
        let off = (1.0 - centres[a].distance(centres[b]) / far_mm).max(0.0);
        // To the eighth power (Yuksel 2015, α = 8).
        let squared = off * off;
        let fourth = squared * squared;
        fourth * fourth
    };
    let mut near = vec![Vec::new(); centres.len()];
    for (number, list) in near.iter_mut().enumerate() {
        if number % AT_ONCE == 0 && !going() {
            return None;
        }
        space.within(centres[number], far_mm, list);
        list.retain(|other| *other != number);
    }
    let mut weights: Vec<f64> = (0..centres.len())
        .map(|number| near[number].iter().map(|other| weight(number, *other)).sum())
        .collect();
    // Entries of a heap grow stale as weights fall; a stale one is put back with what it is now.
    let mut heap: std::collections::BinaryHeap<Crowd> =
        weights.iter().enumerate().map(|(number, weight)| Crowd(*weight, number)).collect();
    let mut out = vec![false; centres.len()];
    let mut left = centres.len();
    while left > wanted {
        let Some(Crowd(was, number)) = heap.pop() else { break };
        if out[number] {
            continue;
        }
        if weights[number] < was {
            heap.push(Crowd(weights[number], number));
            continue;
        }
        out[number] = true;
        left -= 1;
        if left.is_multiple_of(AT_ONCE) && !going() {
            return None;
        }
        for other in &near[number] {
            weights[*other] = (weights[*other] - weight(number, *other)).max(0.0);
        }
    }
    Some((0..centres.len()).filter(|number| !out[*number]).collect())
}

/// How crowded a place is.
struct Crowd(f64, usize);

impl Ord for Crowd {
    fn cmp(&self, other: &Self) -> std::cmp::Ordering {
        self.0.total_cmp(&other.0).then(other.1.cmp(&self.1))
    }
}
impl PartialOrd for Crowd {
    fn partial_cmp(&self, other: &Self) -> Option<std::cmp::Ordering> {
        Some(self.cmp(other))
    }
}
impl PartialEq for Crowd {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == std::cmp::Ordering::Equal
    }
}
impl Eq for Crowd {}
