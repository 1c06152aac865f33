//! Stones that overlap push each other and the edges push back, until all have room.
//!
//! FIRE (Bitzek et al. 2006, "Structural relaxation made simple") on the sum of the squared overlaps.

use crate::pack::board::{Board, Disc};
use crate::pack::chart::{Chart, Place};
use crate::pack::walls::{self, Touch, touches};
use glam::DVec3;
use rayon::prelude::*;
use std::ops::Range;

/// Half of the overlap that may be left when all have their room; distances are made larger by it
/// beforehand, mm.
pub const SPARE_MM: f64 = 0.0005;
/// Pairs are kept in view up to this far beyond touching, mm, until a stone has gone half as far.
const SKIN_MM: f64 = 0.5;
/// Farthest a stone goes in one step, mm.
const MOST_MM: f64 = 0.15;
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
/// Of so few stones every pair is looked at.
const FEW: usize = 250;
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
    centres_mm: Vec<DVec3>,
    reaches_mm: Vec<f64>,
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

/// What the stones of a block have in view.
#[derive(Debug, Default)]
struct View {
    /// Where the others and the edges in view of each stone begin; one more of these than stones.
    starts: Vec<[u32; 2]>,
    /// Numbers of stones after it.
    others: Vec<u32>,
    edges: Vec<u32>,
}

impl View {
    fn others(&self, index: usize) -> &[u32] {
        &self.others[self.starts[index][0] as usize..self.starts[index + 1][0] as usize]
    }

    fn edges(&self, index: usize) -> &[u32] {
        &self.edges[self.starts[index][1] as usize..self.starts[index + 1][1] as usize]
    }
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
            centres_mm: Vec::new(),
            reaches_mm: Vec::new(),
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
        self.centres_mm.clear();
        self.centres_mm.extend(self.moving.iter().map(|place| place.centre_mm));
        self.centres_mm.extend(self.still.iter().map(|disc| disc.place.centre_mm));
        self.reaches_mm.clear();
        self.reaches_mm.extend(self.sizes.iter().map(|size| board.reach_mm(*size) + SPARE_MM));
        self.reaches_mm.extend(self.still.iter().map(|disc| disc.reach_mm + SPARE_MM));
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
        self.reaches_mm[number] = self.board.reach_mm(size) + SPARE_MM;
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

    /// Finds the pairs in view.
    fn look(&mut self) {
        let (block, count) = (self.block(), self.moving.len());
        let few = count + self.still.len() <= FEW;
        let (firsts, sorted) = if few {
            (Vec::new(), Vec::new())
        } else {
            let still = self.still.iter().map(|disc| disc.place);
            by_cell(self.board, self.moving.iter().copied().chain(still))
        };
        let mut views = std::mem::take(&mut self.views);
        views.resize_with(count.div_ceil(block), View::default);
        let of_block = |(index, view): (usize, &mut View)| {
            let numbers = index * block..count.min((index + 1) * block);
            self.look_block(numbers, &firsts, &sorted, view);
        };
        if count > ALONE {
            views.par_iter_mut().enumerate().for_each(of_block);
        } else {
            views.iter_mut().enumerate().for_each(of_block);
        }
        self.views = views;
        self.seen_at.clear();
        self.seen_at.extend_from_slice(&self.centres_mm[..count]);
        self.stale = false;
    }

    /// What these stones have in view; of few, every pair is looked at, else those of cells nearby.
    fn look_block(&self, numbers: Range<usize>, firsts: &[u32], sorted: &[u32], view: &mut View) {
        let board = self.board;
        let widest_mm = board.widest_reach_mm + SPARE_MM;
        let View { starts, others, edges } = view;
        starts.clear();
        others.clear();
        edges.clear();
        starts.push([0, 0]);
        for number in numbers {
            let (place, own_mm) = (&self.moving[number], self.reaches_mm[number] + SKIN_MM);
            let (centres, reaches) = (&self.centres_mm, &self.reaches_mm);
            let mut see = |other: usize| {
                let within = own_mm + reaches[other];
                if place.centre_mm.distance_squared(centres[other]) < within * within {
                    others.push(other as u32);
                }
            };
            if firsts.is_empty() {
                (number + 1..centres.len()).for_each(see);
            } else {
                let (turn, down) = ((place.turn, place.turn), (place.down_mm, place.down_mm));
                board.cells.near(turn, down, place.radius_mm, own_mm + widest_mm, |cell| {
                    // In order within a cell, so those that come before come last.
                    let of_cell = &sorted[firsts[cell] as usize..firsts[cell + 1] as usize];
                    let later = of_cell.iter().rev().take_while(|other| **other as usize > number);
                    later.for_each(|other| see(*other as usize));
                    true
                });
            }
            let reach_mm = board.radii_mm[self.sizes[number]] + SKIN_MM;
            let near = |edge: &&u32| {
                let piece = board.walls.piece(**edge);
                walls::away_squared(&piece, place.centre_mm) < reach_mm * reach_mm
            };
            edges.extend(board.walls.list(place).iter().filter(near));
            starts.push([others.len() as u32, edges.len() as u32]);
        }
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
                let felt = self.reaches_mm[number] + self.reaches_mm[other] + near_mm;
                let apart = self.centres_mm[number].distance_squared(self.centres_mm[other]);
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

    /// Forces of all overlaps; gives the largest overlap, mm, with the spare in it.
    fn push(&mut self) -> f64 {
        let block = self.block();
        let (mut forces, mut spills) =
            (std::mem::take(&mut self.forces), std::mem::take(&mut self.spills));
        spills.resize(self.moving.len().div_ceil(block), Vec::new());
        let of_block = |(index, (forces, spill)): (usize, (&mut [DVec3], &mut Vec<_>))| {
            self.push_block(index * block, &self.views[index], forces, spill)
        };
        let largest = if self.moving.len() > ALONE {
            let blocks = forces.par_chunks_mut(block).zip(&mut spills).enumerate();
            blocks.map(of_block).reduce(|| 0.0, f64::max)
        } else {
            let blocks = forces.chunks_mut(block).zip(&mut spills).enumerate();
            blocks.map(of_block).fold(0.0, f64::max)
        };
        for spill in &mut spills {
            for (number, push) in spill.drain(..) {
                forces[number as usize] += push;
            }
        }
        self.forces = forces;
        self.spills = spills;
        largest
    }

    /// Forces on a block of stones from `first` on, and what it gives to those of later blocks.
    fn push_block(
        &self,
        first: usize,
        view: &View,
        forces: &mut [DVec3],
        spill: &mut Vec<(u32, DVec3)>,
    ) -> f64 {
        let (moving, end) = (self.moving.len(), first + forces.len());
        let mut largest: f64 = 0.0;
        forces.fill(DVec3::ZERO);
        for number in first..end {
            let (centre, own) = (self.centres_mm[number], self.reaches_mm[number]);
            let mut force = DVec3::ZERO;
            for other in view.others(number - first) {
                let other = *other as usize;
                let off = centre - self.centres_mm[other];
                let touching = own + self.reaches_mm[other];
                // Without a branch: about every other pair touches, which no processor foretells.
                let apart = off.length_squared().sqrt().max(1e-9);
                let overlap = (touching - apart).max(0.0);
                largest = largest.max(overlap);
                let push = off * (overlap / apart);
                force += push;
                if other < end {
                    forces[other - first] -= push;
                } else if other < moving && overlap > 0.0 {
                    spill.push((other as u32, -push));
                }
            }
            let need_mm =
                self.board.radii_mm[self.sizes[number]] + walls::ROUNDING_MM + 2.0 * SPARE_MM;
            let edges = view.edges(number - first);
            for touch in self.touches(number, edges, need_mm).into_iter().flatten() {
                let overlap = need_mm - touch.distance_mm;
                let place = &self.moving[number];
                largest = largest.max(overlap);
                force += overlap * (touch.away.0 * place.right + touch.away.1 * place.down);
            }
            if self.board.ground.limits.is_some()
                && let Some((right_mm, down_mm)) =
                    self.board.off_limits_mm(&self.moving[number], self.sizes[number])
            {
                let place = &self.moving[number];
                largest = largest.max(right_mm.abs().max(down_mm.abs()) + 2.0 * SPARE_MM);
                force += right_mm * place.right + down_mm * place.down;
            }
            forces[number - first] += force;
        }
        largest
    }

    /// The largest overlap left by the last run, mm; negative if every stone has its room.
    pub fn largest_mm(&self) -> f64 {
        self.largest_mm
    }

    /// Lets stones give way, at most `steps` times or until every one has its room. Gives the largest
    /// overlap left, mm; negative if there is none.
    pub fn run(&mut self, steps: u32) -> f64 {
        let Pace { mut step, mut mix, mut downhill } = self.pace;
        for _ in 0..steps {
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

    /// Turns the forces into right and down, and sums.
    fn sums(&mut self) -> Sums {
        let (block, count) = (self.block(), self.moving.len());
        let (moving, speeds) = (&self.moving, &self.speeds);
        let of_block = |(index, forces): (usize, &mut [DVec3])| {
            let mut sums = Sums::default();
            let first = index * block;
            for (k, f) in forces.iter_mut().enumerate() {
                let (place, v) = (&moving[first + k], speeds[first + k]);
                let (right, down) = (f.dot(place.right), f.dot(place.down));
                *f = DVec3::new(right, down, 0.0);
                sums.power += v[0] * right + v[1] * down;
                sums.speed += v[0] * v[0] + v[1] * v[1];
                sums.force += right * right + down * down;
            }
            sums
        };
        // Summed block by block, so that any number of hands comes to the same.
        let of_blocks: Vec<Sums> = if count > ALONE {
            self.forces.par_chunks_mut(block).enumerate().map(of_block).collect()
        } else {
            self.forces.chunks_mut(block).enumerate().map(of_block).collect()
        };
        of_blocks.into_iter().fold(Sums::default(), |a, b| Sums {
            power: a.power + b.power,
            speed: a.speed + b.speed,
            force: a.force + b.force,
        })
    }

    /// Moves every stone by one step.
    fn advance(&mut self, stride: Stride) {
        let (block, count) = (self.block(), self.moving.len());
        let (chart, forces, seen_at) = (&self.board.chart, &self.forces, &self.seen_at);
        let centres = &mut self.centres_mm[..count];
        // Whether the pairs in view of a block are out of date.
        let step =
            |index: usize, moving: &mut [Place], speeds: &mut [[f64; 2]], centres: &mut [DVec3]| {
                let first = index * block;
                let mut stale = false;
                for (k, place) in moving.iter_mut().enumerate() {
                    if !stride.moves(chart, place, &mut speeds[k], forces[first + k]) {
                        continue;
                    }
                    centres[k] = place.centre_mm;
                    let gone = centres[k].distance_squared(seen_at[first + k]);
                    stale |= gone > 0.25 * SKIN_MM * SKIN_MM;
                }
                stale
            };
        if count > ALONE {
            let blocks = self.moving.par_chunks_mut(block).zip(self.speeds.par_chunks_mut(block));
            self.stale = blocks
                .zip(centres.par_chunks_mut(block))
                .enumerate()
                .map(|(index, ((moving, speeds), centres))| step(index, moving, speeds, centres))
                .reduce(|| false, |a, b| a || b);
        } else {
            self.stale = step(0, &mut self.moving, &mut self.speeds, centres);
        }
    }
}

/// One step of FIRE.
#[derive(Debug, Clone, Copy)]
struct Stride {
    step: f64,
    mix: f64,
    /// Share of the force that turns the speed towards it.
    toward: f64,
}

impl Stride {
    /// Moves a stone; false if it stays.
    fn moves(&self, chart: &Chart, place: &mut Place, v: &mut [f64; 2], f: DVec3) -> bool {
        if f.x == 0.0 && f.y == 0.0 {
            // What nothing touches need not go anywhere.
            *v = [0.5 * v[0], 0.5 * v[1]];
            if v[0].abs() + v[1].abs() < 1e-4 {
                *v = [0.0; 2];
                return false;
            }
        }
        v[0] = (1.0 - self.mix) * v[0] + (self.toward + self.step) * f.x;
        v[1] = (1.0 - self.mix) * v[1] + (self.toward + self.step) * f.y;
        let far = self.step * (v[0] * v[0] + v[1] * v[1]).sqrt();
        if far > MOST_MM {
            v[0] *= MOST_MM / far;
            v[1] *= MOST_MM / far;
        }
        *place = chart.moved(place, self.step * v[0], self.step * v[1]);
        true
    }
}

/// What FIRE steers by.
#[derive(Debug, Clone, Copy, Default)]
struct Sums {
    /// Force times speed.
    power: f64,
    /// Squares of the speeds.
    speed: f64,
    /// Squares of the forces.
    force: f64,
}

/// Numbers of places sorted by cell, and where each cell's begin; one more of these than cells.
fn by_cell(board: &Board<'_>, places: impl Iterator<Item = Place>) -> (Vec<u32>, Vec<u32>) {
    let cells: Vec<usize> =
        places.map(|place| board.cells.cell(place.turn, place.down_mm)).collect();
    let mut firsts = vec![0_u32; board.cells.count() + 1];
    for cell in &cells {
        firsts[cell + 1] += 1;
    }
    for cell in 0..board.cells.count() {
        firsts[cell + 1] += firsts[cell];
    }
    let mut next = firsts.clone();
    let mut sorted = vec![0; cells.len()];
    for (number, cell) in cells.iter().enumerate() {
        let place = &mut next[*cell];
        sorted[*place as usize] = number as u32;
        *place += 1;
    }
    (firsts, sorted)
}
