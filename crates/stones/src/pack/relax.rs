//! Stones that overlap push each other and the edges push back, until all have room.
//!
//! FIRE (Bitzek et al. 2006, "Structural relaxation made simple") on the sum of the squared overlaps.

mod fire;
mod forces;
mod view;

use crate::pack::board::{Board, Disc};
use crate::pack::chart::Place;
use crate::pack::walls::{Touch, touches};
use fire::{Stride, Sums};
use glam::DVec3;
use view::{View, by_cell};

/// Half of the overlap that may be left when all have their room; distances are made larger by it
/// beforehand, mm.
pub const SPARE_MM: f64 = 0.0005;
/// Longest time step; the stiffest packing of unit springs swings with a period of about 2.
const LONGEST_STEP: f64 = 0.45;
/// Steps downhill before the time step may grow, its growth and its cut (Bitzek et al.).
const PATIENCE: u32 = 5;
/// First time step.
const FIRST_STEP: f64 = 0.25;
const GROW: f64 = 1.1;
const CUT: f64 = 0.5;
const MIX: f64 = 0.1;
const MIX_DECAY: f64 = 0.99;
/// Shortest time step.
const SHORTEST_STEP: f64 = 0.02;
/// Fewer stones than this are moved by one hand.
const ALONE: usize = 1500;
/// Least stones in a block that one hand moves, and most blocks.
const LEAST_BLOCK: usize = 512;
const MOST_BLOCKS: usize = 16;

/// Stones of a window: those that move first, then those that stay.
#[derive(Debug)]
pub struct Relax<'a, 'b> {
    board: &'b Board<'a>,
    /// Those that stay.
    still: Vec<Disc>,
    moving: Vec<Place>,
    sizes: Vec<usize>,
    /// Centres and reaches of all, the ones that stay last.
    balls: Vec<Ball>,
    speeds: Vec<[f64; 2]>,
    forces: Vec<DVec3>,
    views: Vec<View>,
    seen_at: Vec<DVec3>,
    /// Pushes on stones of later blocks, by block.
    spills: Vec<Vec<(u32, DVec3)>>,
    stale: bool,
    pace: Pace,
    largest_mm: f64,
}

/// What pushes and is pushed, side by side in memory: pairs are looked at far more often than moved.
#[derive(Debug, Clone, Copy)]
struct Ball {
    centre_mm: DVec3,
    reach_mm: f64,
}

/// Where a run of FIRE stands.
#[derive(Debug, Clone, Copy)]
struct Pace {
    step: f64,
    mix: f64,
    downhill: u32,
}

impl Pace {
    const FIRST: Self = Self { step: FIRST_STEP, mix: MIX, downhill: 0 };
}

impl<'a, 'b> Relax<'a, 'b> {
    /// Our stones among those of other zones.
    pub fn new(board: &'b Board<'a>, ours: &[Disc]) -> Self {
        // Stones that lie together are kept together: neighbours are then near in memory too.
        let place = |disc: &Disc| disc.place;
        let (_, order) = by_cell(board, ours.iter().map(place));
        let moving: Vec<Disc> = order.iter().map(|number| ours[*number as usize]).collect();
        Self::window(board, &moving, board.fixed.clone())
    }

    /// Some stones in their order, among all those that they may touch.
    pub fn window(board: &'b Board<'a>, moving: &[Disc], still: Vec<Disc>) -> Self {
        let place = |disc: &Disc| disc.place;
        let mut out = Self {
            board,
            still,
            moving: moving.iter().map(place).collect(),
            sizes: moving.iter().map(|disc| disc.size).collect(),
            balls: Vec::new(),
            speeds: vec![[0.0; 2]; moving.len()],
            forces: Vec::new(),
            views: Vec::new(),
            seen_at: Vec::new(),
            spills: Vec::new(),
            stale: true,
            pace: Pace::FIRST,
            largest_mm: f64::INFINITY,
        };
        out.gather();
        out
    }

    /// Centres and reaches of all, the ones that stay last.
    fn gather(&mut self) {
        let board = self.board;
        self.balls.clear();
        let ours = self.moving.iter().zip(&self.sizes);
        self.balls.extend(ours.map(|(place, size)| Ball {
            centre_mm: place.centre_mm,
            reach_mm: board.reach_mm(*size) + SPARE_MM,
        }));
        self.balls.extend(self.still.iter().map(|disc| Ball {
            centre_mm: disc.place.centre_mm,
            reach_mm: disc.reach_mm + SPARE_MM,
        }));
        self.forces.resize(self.moving.len(), DVec3::ZERO);
    }

    /// How many stones are ours.
    pub fn count(&self) -> usize {
        self.moving.len()
    }

    /// Their sizes.
    pub fn sizes(&self) -> &[usize] {
        &self.sizes
    }

    /// Where one of ours lies.
    pub fn place(&self, number: usize) -> &Place {
        &self.moving[number]
    }

    /// Our stones.
    pub fn ours(&self) -> Vec<Disc> {
        let disc = |(place, size): (&Place, &usize)| Disc {
            place: *place,
            reach_mm: self.board.reach_mm(*size),
            size: *size,
        };
        self.moving.iter().zip(&self.sizes).map(disc).collect()
    }

    /// Gives our stone `number` another size.
    pub fn resize(&mut self, number: usize, size: usize) {
        self.sizes[number] = size;
        self.balls[number].reach_mm = self.board.reach_mm(size) + SPARE_MM;
        self.changed();
    }

    /// Adds stones.
    pub fn add(&mut self, discs: &[Disc]) {
        self.moving.extend(discs.iter().map(|disc| disc.place));
        self.sizes.extend(discs.iter().map(|disc| disc.size));
        self.speeds.resize(self.moving.len(), [0.0; 2]);
        self.gather();
        self.changed();
    }

    /// Takes some of our stones away.
    pub fn remove(&mut self, numbers: &[usize]) {
        let mut gone = vec![false; self.moving.len()];
        for number in numbers {
            gone[*number] = true;
        }
        let mut keep = gone.iter().map(|gone| !gone);
        self.moving.retain(|_| keep.next().unwrap_or(true));
        let mut keep = gone.iter().map(|gone| !gone);
        self.sizes.retain(|_| keep.next().unwrap_or(true));
        self.speeds.truncate(self.moving.len());
        self.gather();
        self.changed();
    }

    /// The next run begins from rest.
    fn changed(&mut self) {
        self.stale = true;
        self.pace = Pace::FIRST;
        self.speeds.fill([0.0; 2]);
    }

    /// How much each of our stones is pressed by what is nearer to touching it than this, mm.
    pub fn crowding(&mut self, near_mm: f64) -> Vec<f64> {
        if self.stale {
            self.look();
        }
        let (moving, block) = (self.moving.len(), self.block());
        let mut crowding = vec![0.0; moving];
        for number in 0..moving {
            for other in self.views[number / block].others(number % block) {
                let other = *other as usize;
                let (own, its) = (&self.balls[number], &self.balls[other]);
                let felt = own.reach_mm + its.reach_mm + near_mm;
                let apart = own.centre_mm.distance_squared(its.centre_mm);
                if apart < felt * felt {
                    let overlap_mm = felt - apart.sqrt();
                    crowding[number] += overlap_mm;
                    if other < moving {
                        crowding[other] += overlap_mm;
                    }
                }
            }
        }
        for (number, crowding) in crowding.iter_mut().enumerate() {
            let felt_mm = self.board.radii_mm[self.sizes[number]] + near_mm;
            let edges = self.views[number / block].edges(number % block);
            for touch in self.touches(number, edges, felt_mm).into_iter().flatten() {
                *crowding += felt_mm - touch.distance_mm;
            }
        }
        crowding
    }

    /// Of the edges in view of a moving stone, those that it touches within `reach_mm`.
    fn touches(&self, number: usize, edges: &[u32], reach_mm: f64) -> [Option<Touch>; 2] {
        if edges.is_empty() {
            return [None, None];
        }
        let (walls, place) = (&self.board.walls, &self.moving[number]);
        let pieces = edges.iter().map(|edge| walls.piece(*edge));
        touches(pieces, place.centre_mm, place.right, place.down, reach_mm)
    }

    /// Stones in a block: as many for any number of hands, so that sums come out the same.
    fn block(&self) -> usize {
        (self.moving.len() / MOST_BLOCKS).max(LEAST_BLOCK)
    }

    /// The largest overlap left by the last run, mm; negative if every stone has its room.
    pub fn largest_mm(&self) -> f64 {
        self.largest_mm
    }

    /// Lets stones give way, at most `steps` times or until every one has its room. Gives the largest
    /// overlap left, mm; negative if there is none. Ends early when no longer `going`.
    pub fn run(&mut self, steps: u32, going: &mut dyn FnMut() -> bool) -> f64 {
        let Pace { mut step, mut mix, mut downhill } = self.pace;
        let large = self.moving.len() > ALONE;
        for _ in 0..steps {
            if large && !going() {
                break;
            }
            if self.stale {
                self.look();
            }
            self.largest_mm = self.push() - 2.0 * SPARE_MM;
            if self.largest_mm < 0.0 {
                break;
            }
            let Sums { power, mut speed, force } = self.sums();
            if power > 0.0 {
                downhill += 1;
                if downhill > PATIENCE {
                    step = f64::min(step * GROW, LONGEST_STEP);
                    mix *= MIX_DECAY;
                }
            } else {
                downhill = 0;
                step = f64::max(step * CUT, SHORTEST_STEP);
                mix = MIX;
                self.speeds.fill([0.0; 2]);
                speed = 0.0;
            }
            let toward = if force > 0.0 { mix * (speed / force).sqrt() } else { 0.0 };
            self.advance(Stride { step, mix, toward });
        }
        self.pace = Pace { step, mix, downhill };
        self.largest_mm
    }
}
