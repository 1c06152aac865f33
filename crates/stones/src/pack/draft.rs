//! The first layout: every stone goes where it touches two others, or one and an edge, in the size
//! that fits there best while the blend is kept; along the edges first, then onward from there.

mod offer;

use crate::chance::unit;
use crate::pack::board::{Board, Disc, FREE_LARGE, FREE_WEIGHT};
use crate::pack::chart::{Place, distance_squared};
use crate::pack::laid::Laid;
use crate::pack::pocket::{EDGE, Pocket};
use crate::pack::squeeze::mean_square_mm2;
use crate::pack::walls;
pub use offer::Course;
use offer::Near;
use rand_pcg::Pcg64;
use std::collections::BinaryHeap;

/// Weight of one stone too few of a size against looseness in diameters.
const LACK: f64 = 0.03;
/// Weight of chance against looseness.
const DICE: f64 = 0.02;
/// Weight of the square of the steps that a size is off where sizes change along a way.
const GRADED: f64 = 0.3;
/// Room is seen no farther than so many widest reaches: beyond that a place is loose anyway.
const SEEN: f64 = 0.45;
/// In a small zone a stone weighs more: with this many in it twice as much as in a large one.
const FEW: f64 = 100.0;
/// Pockets filled before asking whether to go on.
const AT_ONCE: usize = 512;

/// Lays stones until no more fit under the blend.
pub struct Draft<'a, 'b> {
    board: &'b Board<'a>,
    /// The stones.
    pub laid: Laid,
    pockets: BinaryHeap<Pocket>,
    course: Course,
    lack_weight: f64,
    /// Square of a radius in the blend, on average, mm².
    mean_mm2: f64,
    chance: Pcg64,
    widest_mm: f64,
    smallest: usize,
    flush: Vec<Place>,
    near: Vec<Near>,
}

impl<'a, 'b> Draft<'a, 'b> {
    /// Starts from stones that are laid already.
    pub fn new(board: &'b Board<'a>, laid: Laid, seed: [u64; 2]) -> Self {
        let mean_mm2 = mean_square_mm2(board, &board.shares);
        let about = board.ground.area_mm2 / (4.0 * mean_mm2).max(1e-3);
        Self {
            board,
            laid,
            pockets: BinaryHeap::new(),
            course: Course::Down,
            lack_weight: LACK * (1.0 + FEW / about.max(1.0)),
            mean_mm2,
            chance: Pcg64::new(u128::from(seed[0]), u128::from(seed[1])),
            widest_mm: board.widest_reach_mm,
            smallest: board.smallest(),
            flush: Vec::new(),
            near: Vec::new(),
        }
    }

    /// The same, going another way over the ground.
    pub fn going(self, course: Course) -> Self {
        Self { course, ..self }
    }

    /// Fills the ground: starts wherever no stone touches yet, from the rim down; false if `progress`
    /// stopped it.
    pub fn fill(&mut self, progress: &mut dyn FnMut(f64) -> bool) -> bool {
        let (start, end) = self.board.down_mm;
        let step_mm = self.board.radii_mm[self.smallest];
        let mut down_mm = start + 0.5 * step_mm;
        while down_mm < end {
            let share = (down_mm - start) / (end - start);
            if !progress(share) {
                return false;
            }
            let radius_mm = self.board.chart.place(0.0, down_mm).radius_mm;
            let (from, to) = self.board.ground.around;
            let columns = ((to - from) * radius_mm / step_mm).ceil().max(1.0) as usize;
            for column in 0..columns {
                let turn = from + (to - from) * (column as f64 + 0.5) / columns as f64;
                let place = self.board.chart.place(turn, down_mm);
                if self.start(&place) && !self.run(&mut || progress(share)) {
                    return false;
                }
            }
            down_mm += step_mm;
        }
        true
    }

    /// Fills the pockets beside stones with these numbers, while it is `going`.
    pub fn fill_beside(
        &mut self,
        numbers: impl Iterator<Item = usize>,
        going: &mut dyn FnMut() -> bool,
    ) {
        for (step, number) in numbers.enumerate() {
            if step % AT_ONCE == AT_ONCE - 1 && !going() {
                return;
            }
            self.offer(number);
        }
        self.run(going);
    }

    /// Lays a stone of the smallest size that fits near a place where no other touches.
    fn start(&mut self, place: &Place) -> bool {
        let reach_mm = self.board.reach_mm(self.smallest);
        if !self.laid.is_free(self.board, place, reach_mm, self.widest_mm) {
            return false;
        }
        let sizes = self.board.ladder.iter().rev().copied();
        let mut sizes = sizes.filter(|size| self.may(place, *size));
        let Some(size) = sizes.next() else { return false };
        // As flush with the edge as the ones that will follow.
        let off_mm = self.board.radii_mm[size] + walls::ROUNDING_MM;
        let touch = self.board.walls.touch(place, 2.0 * off_mm);
        let place = touch.map_or(*place, |touch| {
            let by = off_mm - touch.distance_mm;
            self.board.chart.moved(place, by * touch.away.0, by * touch.away.1)
        });
        if !self.takes(&place, size) || !self.may(&place, size) {
            return false;
        }
        let number = self.lay(place, size);
        self.offer(number);
        true
    }

    /// Fills pockets until none is left; false if it was no longer `going`.
    fn run(&mut self, going: &mut dyn FnMut() -> bool) -> bool {
        let mut filled = 0_usize;
        while let Some(pocket) = self.pockets.pop() {
            filled += 1;
            if filled.is_multiple_of(AT_ONCE) && !going() {
                return false;
            }
            self.fill_pocket(&pocket);
        }
        true
    }

    fn takes(&self, place: &Place, size: usize) -> bool {
        self.laid.is_free(self.board, place, self.board.reach_mm(size), self.widest_mm)
            && self.board.holds(place, size)
    }

    /// Whether the rules, the way along which sizes change and what there is allow one more.
    fn may(&self, place: &Place, size: usize) -> bool {
        self.laid.counts[size] < self.board.most[size] && self.board.may(place, size)
    }

    /// How welcome a size is, other than by its fit; `asked` is the step of the ladder asked for.
    fn favour(&self, size: usize, asked: Option<f64>) -> f64 {
        let board = self.board;
        if let Some(asked) = asked {
            let off = board.steps[size] as f64 - asked;
            return -GRADED * off * off;
        }
        if board.free {
            let weight = board.shares[size] * board.shares.len() as f64;
            let of_widest = board.radii_mm[size] / board.radii_mm[board.ladder[0]];
            return FREE_WEIGHT * libm::log(weight.max(1e-6)) + FREE_LARGE * of_widest;
        }
        // A share of the area is missed by more where the stone is larger.
        let of_mean = if board.by_area { board.square_mm2(size) / self.mean_mm2 } else { 1.0 };
        self.lack_weight * self.lack(size) * of_mean
    }

    fn lack(&self, size: usize) -> f64 {
        self.board.shares[size] * (self.laid.total() as f64 + 1.0) - self.laid.counts[size] as f64
    }

    fn lay(&mut self, place: Place, size: usize) -> usize {
        let reach_mm = self.board.reach_mm(size);
        self.laid.add(self.board, Disc { place, reach_mm, size })
    }

    /// Lays the best size at the spot each size would have.
    fn fill_pocket(&mut self, pocket: &Pocket) {
        let mut best: Option<(f64, Place, usize)> = None;
        let smallest_at = self.board.chart.place(pocket.turn, pocket.down_mm);
        let asked = self.board.step_asked(&smallest_at).map(|asked| {
            // Two steps of the ladder mingle between the places of either.
            asked + unit(&mut self.chance) - 0.5
        });
        for size in (0..self.board.radii_mm.len()).rev() {
            let Some(place) = self.spot(pocket, &smallest_at, size) else { continue };
            if !self.takes(&place, size) {
                // Larger ones need more room still.
                if pocket.b != EDGE {
                    break;
                }
                continue;
            }
            if !self.may(&place, size) {
                continue;
            }
            let diameter_mm = 2.0 * self.board.radii_mm[size];
            let loose = self.room_mm(&place, size, pocket) / diameter_mm;
            let dice = unit(&mut self.chance);
            let score = self.favour(size, asked) - loose + DICE * dice;
            if best.is_none_or(|best| score > best.0) {
                best = Some((score, place, size));
            }
        }
        if let Some((_, place, size)) = best {
            let number = self.lay(place, size);
            self.offer(number);
        }
    }

    fn spot(&mut self, pocket: &Pocket, smallest_at: &Place, size: usize) -> Option<Place> {
        if size == self.smallest {
            return Some(*smallest_at);
        }
        let a = self.laid.discs[pocket.a as usize];
        let reach_mm = self.board.reach_mm(size);
        if pocket.b != EDGE {
            let b = self.laid.discs[pocket.b as usize];
            let (ra, rb) = (a.reach_mm + reach_mm, b.reach_mm + reach_mm);
            return self.board.meeting(&a.place, ra, &b.place, rb, usize::from(pocket.side));
        }
        let mut flush = std::mem::take(&mut self.flush);
        self.board.flush(&a.place, a.reach_mm + reach_mm, size, |_| true, &mut flush);
        let away = |place: &Place| distance_squared(place, smallest_at);
        let nearest = flush.iter().min_by(|a, b| away(a).total_cmp(&away(b))).copied();
        self.flush = flush;
        nearest.filter(|place| away(place) < 4.0 * reach_mm * reach_mm)
    }

    /// Room left to the nearest stone or edge that the new one does not touch anyway, mm.
    fn room_mm(&self, place: &Place, size: usize, pocket: &Pocket) -> f64 {
        let reach_mm = self.board.reach_mm(size);
        let mut room_mm = SEEN * self.widest_mm;
        let board = self.board;
        self.laid.near(board, place, reach_mm + self.widest_mm + room_mm, |number| {
            if number as u32 != pocket.a && number as u32 != pocket.b {
                let (centre_mm, other_mm) = self.laid.seen[number];
                let touching = reach_mm + other_mm;
                let squared = place.centre_mm.distance_squared(centre_mm);
                if squared < (touching + room_mm) * (touching + room_mm) {
                    room_mm = squared.sqrt() - touching;
                }
            }
            true
        });
        if pocket.b != EDGE {
            let edge_mm = board.walls.room_mm(place) - board.radii_mm[size];
            room_mm = room_mm.min(edge_mm);
        }
        room_mm.max(0.0)
    }
}
