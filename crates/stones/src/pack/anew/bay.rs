//! One window: which stones are taken away, and whether what was laid instead stays.

use super::lay::Lay;
use crate::chance::{one_of, unit};
use crate::pack::board::{Board, Disc};
use crate::pack::chart::{Place, distance_squared};
use rand_pcg::Pcg64;

/// Places of which the loosest is taken, and the square within which a place lies about a stone, in
/// reaches.
const DRAWS: u32 = 3;
const SQUARE: f64 = 3.0;
/// Most stones taken away: few more often than many.
const MOST: f64 = 8.0;
/// New ones lie no farther off than the farthest of these and this share of its reach.
const BEYOND: f64 = 0.3;

/// The stones of a window, and those about it that stay.
pub struct Bay<'a, 'b> {
    board: &'b Board<'a>,
    middle: Place,
    within_mm: f64,
    own: Vec<Disc>,
    still: Vec<Disc>,
    /// How many more of each size there may be.
    spare: Vec<usize>,
    chance: Pcg64,
    lay: Lay<'a, 'b>,
    far: Vec<(f64, u32)>,
    limited: bool,
}

impl<'a, 'b> Bay<'a, 'b> {
    pub fn new(
        board: &'b Board<'a>,
        middle: Place,
        within_mm: f64,
        own: &[Disc],
        still: &[Disc],
        spare: &[usize],
        chance: Pcg64,
    ) -> Self {
        Self {
            board,
            middle,
            within_mm,
            own: own.to_vec(),
            still: still.to_vec(),
            spare: spare.to_vec(),
            chance,
            lay: Lay::new(board),
            far: Vec::new(),
            limited: board.most.iter().any(|most| *most != usize::MAX),
        }
    }

    /// The stones of the window.
    pub fn ours(self) -> Vec<Disc> {
        self.own
    }

    /// Takes some stones about a loose place away and lays others there.
    pub fn trial(&mut self, heat_mm2: f64) {
        if self.own.is_empty() {
            return;
        }
        let board = self.board;
        let middle = self.loose();
        self.far.clear();
        let away = |(k, disc): (usize, &Disc)| (distance_squared(&disc.place, &middle), k as u32);
        self.far.extend(self.own.iter().enumerate().map(away));
        let dice = unit(&mut self.chance);
        let many = 1 + (dice * dice * MOST) as usize;
        let many = many.min(self.far.len());
        if many < self.far.len() {
            self.far.select_nth_unstable_by(many, |a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        }
        let mut gone: Vec<u32> = self.far[..many].iter().map(|far| far.1).collect();
        gone.sort_unstable();
        let mut reach_mm: f64 = 0.0;
        let mut before = 0.0;
        for k in &gone {
            let disc = &self.own[*k as usize];
            reach_mm = reach_mm
                .max(distance_squared(&disc.place, &middle).sqrt() + BEYOND * disc.reach_mm);
            before += board.square_mm2(disc.size);
        }
        self.lay.begin(&middle, reach_mm, (&self.middle, self.within_mm), &mut self.chance);
        let mut next = gone.iter().copied().peekable();
        for (k, disc) in self.own.iter().enumerate() {
            if next.peek() == Some(&(k as u32)) {
                next.next();
            } else {
                self.lay.keep(disc);
            }
        }
        for disc in &self.still {
            self.lay.keep(disc);
        }
        if self.limited {
            let mut spare = self.spare.clone();
            gone.iter().for_each(|k| spare[self.own[*k as usize].size] += 1);
            self.lay.spare = Some(spare);
        }
        let after = self.lay.run(&mut self.chance);
        let least = if heat_mm2 > 0.0 {
            heat_mm2 * libm::log(unit(&mut self.chance).max(1e-12))
        } else {
            -1e-9
        };
        if after - before < least {
            return;
        }
        if let Some(spare) = self.lay.spare.take() {
            self.spare = spare;
        }
        for k in gone.into_iter().rev() {
            self.own.swap_remove(k as usize);
        }
        self.own.extend_from_slice(self.lay.laid());
    }

    /// Of a few places in the window the one with most room.
    fn loose(&mut self) -> Place {
        let board = self.board;
        let mut best: Option<(f64, Place)> = None;
        for _ in 0..DRAWS {
            let disc = self.own[one_of(&mut self.chance, self.own.len())];
            let by = SQUARE * disc.reach_mm;
            let (x, y) = (unit(&mut self.chance) - 0.5, unit(&mut self.chance) - 0.5);
            let place = board.chart.moved(&disc.place, by * x, by * y);
            let mut room_mm = board.walls.room_mm(&place);
            for other in self.own.iter().chain(&self.still) {
                let far_mm = room_mm.max(0.0) + other.reach_mm;
                let away = distance_squared(&other.place, &place);
                if away < far_mm * far_mm {
                    room_mm = away.sqrt() - other.reach_mm;
                }
            }
            if best.is_none_or(|best| room_mm > best.0) {
                best = Some((room_mm, place));
            }
        }
        best.map_or(self.own[0].place, |best| best.1)
    }
}
