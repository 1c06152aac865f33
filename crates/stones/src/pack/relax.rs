//! Stones that overlap push each other and the edges push back, until all have room.
//!
//! FIRE (Bitzek et al. 2006, "Structural relaxation made simple") on the sum of the squared overlaps.

use crate::pack::board::{Board, Disc};
use crate::pack::chart::Place;

/// Pairs are kept in view up to this far beyond touching, mm, until a stone has gone half as far.
const SKIN_MM: f64 = 0.45;
/// Farthest a stone goes in one step, mm.
const MOST_MM: f64 = 0.12;
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

/// Where a run of FIRE stands.
#[derive(Debug, Clone, Copy)]
struct Pace {
    step: f64,
    mix: f64,
    downhill: u32,
}

/// Stones on the move. The first `fixed` of them stay.
#[derive(Debug)]
pub struct Relax<'a, 'b> {
    board: &'b Board<'a>,
    /// The stones.
    discs: Vec<Disc>,
    fixed: usize,
    /// Added to every reach and to every edge, mm, so that what is left of overlaps does no harm.
    spare_mm: f64,
    speeds: Vec<[f64; 2]>,
    forces: Vec<[f64; 2]>,
    starts: Vec<u32>,
    others: Vec<u32>,
    seen_at: Vec<Place>,
    /// Stones with edges in view, and where the numbers of these end.
    by_edge: Vec<(u32, u32)>,
    edges: Vec<u32>,
    /// The pairs in view are out of date.
    stale: bool,
    /// Stones were added or resized since the last run, which begins from rest then.
    changed: bool,
    pace: Pace,
    largest_mm: f64,
}

impl<'a, 'b> Relax<'a, 'b> {
    /// Our stones among those of other zones.
    pub fn new(board: &'b Board<'a>, ours: &[Disc], spare_mm: f64) -> Self {
        let mut discs = board.fixed.clone();
        // Stones that lie together are kept together: neighbours are then near in memory too.
        discs.extend(by_cell(board, ours).1.into_iter().map(|number| ours[number as usize]));
        Self {
            board,
            fixed: board.fixed.len(),
            spare_mm,
            speeds: vec![[0.0; 2]; discs.len()],
            forces: vec![[0.0; 2]; discs.len()],
            starts: Vec::new(),
            others: Vec::new(),
            seen_at: Vec::new(),
            by_edge: Vec::new(),
            edges: Vec::new(),
            stale: true,
            changed: true,
            pace: Pace { step: FIRST_STEP, mix: MIX, downhill: 0 },
            largest_mm: f64::INFINITY,
            discs,
        }
    }

    /// Our stones.
    pub fn ours(&self) -> &[Disc] {
        &self.discs[self.fixed..]
    }

    /// Gives our stone `number` another size.
    pub fn resize(&mut self, number: usize, size: usize) {
        let disc = &mut self.discs[self.fixed + number];
        disc.size = size;
        disc.reach_mm = self.board.reach_mm(size);
        self.stale = true;
        self.changed = true;
    }

    /// Adds a stone.
    pub fn add(&mut self, disc: Disc) {
        self.discs.push(disc);
        self.speeds.push([0.0; 2]);
        self.forces.push([0.0; 2]);
        self.stale = true;
        self.changed = true;
    }

    /// Finds the pairs in view.
    fn look(&mut self) {
        let board = self.board;
        let (firsts, sorted) = by_cell(board, &self.discs);
        let widest_mm = board.widest_reach_mm + 2.0 * self.spare_mm;
        self.starts.clear();
        self.others.clear();
        self.by_edge.clear();
        self.edges.clear();
        self.starts.push(0);
        for (number, disc) in self.discs.iter().enumerate() {
            let own_mm = disc.reach_mm + 2.0 * self.spare_mm + SKIN_MM;
            let (others, discs) = (&mut self.others, &self.discs);
            let place = &disc.place;
            let (turn, down) = ((place.turn, place.turn), (place.down_mm, place.down_mm));
            board.cells.near(turn, down, place.radius_mm, own_mm + widest_mm, |cell| {
                for other in &sorted[firsts[cell] as usize..firsts[cell + 1] as usize] {
                    // In order within a cell, so the rest of it comes after too.
                    if *other as usize >= number {
                        break;
                    }
                    let second = &discs[*other as usize];
                    let reach_mm = own_mm + second.reach_mm;
                    if board.chart.distance_squared(place, &second.place) < reach_mm * reach_mm {
                        others.push(*other);
                    }
                }
                number >= self.fixed
            });
            self.starts.push(self.others.len() as u32);
            if number >= self.fixed {
                let cell = board.cells.cell(disc.place.turn, disc.place.down_mm);
                let before = self.edges.len();
                let reach_mm = board.radii_mm[disc.size] + 2.0 * self.spare_mm + SKIN_MM;
                board.walls.near(&board.chart, cell, &disc.place, reach_mm, &mut self.edges);
                if self.edges.len() > before {
                    self.by_edge.push((number as u32, self.edges.len() as u32));
                }
            }
        }
        self.seen_at.clear();
        self.seen_at.extend(self.discs.iter().map(|disc| disc.place));
        self.stale = false;
    }

    /// Calls `see` with the number of each of our stones that is nearer than `within_mm` to touching
    /// another or an edge, and with the overlap (negative: the gap), mm; once for each touch.
    pub fn overlaps(&mut self, within_mm: f64, mut see: impl FnMut(usize, f64)) {
        if self.stale {
            self.look();
        }
        let (board, fixed) = (self.board, self.fixed);
        for number in fixed..self.discs.len() {
            let disc = &self.discs[number];
            for k in self.starts[number]..self.starts[number + 1] {
                let other = self.others[k as usize] as usize;
                let touching = disc.reach_mm + self.discs[other].reach_mm;
                let squared = board.chart.distance_squared(&disc.place, &self.discs[other].place);
                if squared < (touching + within_mm) * (touching + within_mm) {
                    let overlap_mm = touching - squared.sqrt();
                    see(number - fixed, overlap_mm);
                    if other >= fixed {
                        see(other - fixed, overlap_mm);
                    }
                }
            }
        }
        let mut from = 0;
        for (number, to) in &self.by_edge {
            let disc = &self.discs[*number as usize];
            let need_mm = board.radii_mm[disc.size] + board.walls.sag_mm;
            let list = &self.edges[from as usize..*to as usize];
            from = *to;
            let reach_mm = need_mm + within_mm;
            for touch in
                board.walls.touches(&board.chart, list, &disc.place, reach_mm).into_iter().flatten()
            {
                see(*number as usize - fixed, need_mm - touch.distance_mm);
            }
        }
    }

    /// Forces of all overlaps; gives the largest overlap, mm, with the spare in it.
    fn push(&mut self) -> f64 {
        let (board, chart) = (self.board, &self.board.chart);
        let mut largest: f64 = 0.0;
        self.forces.fill([0.0; 2]);
        for number in self.fixed..self.discs.len() {
            let disc = &self.discs[number];
            let own_mm = disc.reach_mm + 2.0 * self.spare_mm;
            let mut force = self.forces[number];
            for k in self.starts[number]..self.starts[number + 1] {
                let other = self.others[k as usize] as usize;
                let second = &self.discs[other];
                let touching = own_mm + second.reach_mm;
                let squared = chart.distance_squared(&disc.place, &second.place);
                if squared >= touching * touching {
                    continue;
                }
                let apart = squared.sqrt().max(1e-9);
                let overlap = touching - apart;
                largest = largest.max(overlap);
                let scale = overlap / apart;
                let (_, right, down) = chart.slopes(&disc.place, &second.place);
                force[0] += scale * right;
                force[1] += scale * down;
                let (_, right, down) = chart.slopes(&second.place, &disc.place);
                self.forces[other][0] += scale * right;
                self.forces[other][1] += scale * down;
            }
            self.forces[number] = force;
        }
        let mut from = 0;
        for (number, to) in &self.by_edge {
            let disc = &self.discs[*number as usize];
            let need_mm = board.radii_mm[disc.size] + board.walls.sag_mm + 2.0 * self.spare_mm;
            let list = &self.edges[from as usize..*to as usize];
            from = *to;
            for touch in
                board.walls.touches(chart, list, &disc.place, need_mm).into_iter().flatten()
            {
                let overlap = need_mm - touch.distance_mm;
                largest = largest.max(overlap);
                let force = &mut self.forces[*number as usize];
                force[0] += overlap * touch.away.0;
                force[1] += overlap * touch.away.1;
            }
        }
        for force in &mut self.forces[..self.fixed] {
            *force = [0.0; 2];
        }
        largest
    }

    /// The largest overlap left by the last run, mm; negative if every stone has its room.
    pub fn largest_mm(&self) -> f64 {
        self.largest_mm
    }

    /// Lets stones give way, at most `steps` times or until every one has its room. Gives the largest
    /// overlap left, mm.
    pub fn run(&mut self, steps: u32) -> f64 {
        if std::mem::take(&mut self.changed) {
            self.pace = Pace { step: FIRST_STEP, mix: MIX, downhill: 0 };
            self.speeds.fill([0.0; 2]);
        }
        let Pace { mut step, mut mix, mut downhill } = self.pace;
        for _ in 0..steps {
            if self.stale {
                self.look();
            }
            self.largest_mm = self.push() - 2.0 * self.spare_mm;
            if self.largest_mm < 0.0 {
                break;
            }
            let (mut power, mut speed, mut force) = (0.0, 0.0, 0.0);
            for (v, f) in self.speeds.iter().zip(&self.forces) {
                power += v[0] * f[0] + v[1] * f[1];
                speed += v[0] * v[0] + v[1] * v[1];
                force += f[0] * f[0] + f[1] * f[1];
            }
            if power > 0.0 {
                downhill += 1;
                if downhill > PATIENCE {
                    step = f64::min(step * GROW, LONGEST_STEP);
                    mix *= MIX_DECAY;
                }
            } else {
                downhill = 0;
                step *= CUT;
                step = step.max(0.02);
                mix = MIX;
                self.speeds.fill([0.0; 2]);
                speed = 0.0;
            }
            let toward = if force > 0.0 { mix * (speed / force).sqrt() } else { 0.0 };
            let keep = 1.0 - mix;
            for number in self.fixed..self.discs.len() {
                let (v, f) = (&mut self.speeds[number], self.forces[number]);
                if f == [0.0; 2] {
                    // What nothing touches need not go anywhere.
                    *v = [0.5 * v[0], 0.5 * v[1]];
                    if v[0].abs() + v[1].abs() < 1e-4 {
                        *v = [0.0; 2];
                        continue;
                    }
                }
                v[0] = keep * v[0] + (toward + step) * f[0];
                v[1] = keep * v[1] + (toward + step) * f[1];
                let far = step * (v[0] * v[0] + v[1] * v[1]).sqrt();
                if far == 0.0 {
                    continue;
                }
                if far > MOST_MM {
                    v[0] *= MOST_MM / far;
                    v[1] *= MOST_MM / far;
                }
                let place = &mut self.discs[number].place;
                *place = self.board.chart.moved(place, step * v[0], step * v[1]);
                let (seen, chart) = (&self.seen_at[number], &self.board.chart);
                let right = chart.turn_between(place.turn, seen.turn) * place.radius_mm;
                let down = place.down_mm - seen.down_mm;
                if right * right + down * down > 0.25 * SKIN_MM * SKIN_MM {
                    self.stale = true;
                }
            }
        }
        self.pace = Pace { step, mix, downhill };
        self.largest_mm
    }
}

/// Numbers of stones sorted by cell, and where each cell's begin; one more of these than cells.
fn by_cell(board: &Board<'_>, discs: &[Disc]) -> (Vec<u32>, Vec<u32>) {
    let cell = |disc: &Disc| board.cells.cell(disc.place.turn, disc.place.down_mm);
    let mut firsts = vec![0_u32; board.cells.count() + 1];
    for disc in discs {
        firsts[cell(disc) + 1] += 1;
    }
    for cell in 0..board.cells.count() {
        firsts[cell + 1] += firsts[cell];
    }
    let mut next = firsts.clone();
    let mut sorted = vec![0; discs.len()];
    for (number, disc) in discs.iter().enumerate() {
        let place = &mut next[cell(disc)];
        sorted[*place as usize] = number as u32;
        *place += 1;
    }
    (firsts, sorted)
}
