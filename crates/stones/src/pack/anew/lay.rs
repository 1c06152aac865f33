//! Stones laid into a hole among others: always the one that fits best of all places and sizes.

use crate::chance::unit;
use crate::pack::board::{Board, Disc, FREE_LARGE, FREE_WEIGHT};
use crate::pack::chart::{Place, distance_squared};
use crate::steps::step;
use glam::DVec3;
use rand_pcg::Pcg64;

/// Weight of chance for each place, and for each size in one hole.
const DICE: f64 = 0.1;
const SIZE_DICE: f64 = 0.1;
/// Stones touch others only if these reach the hole but for so many of the smallest reaches.
const PARTNER: f64 = 1.2;
/// A start that overlaps another stone by so much, mm, is not where a stone fits: the surface bends
/// less. Where it lies flush with an edge that may bend more.
const OVERLAP_MM: f64 = 0.1;
const FLUSH_OVERLAP_MM: f64 = 0.8;

/// A stone as laying looks at it.
#[derive(Debug, Clone, Copy)]
struct Seen {
    disc: Disc,
    /// Whether a stone may be laid that touches it.
    partner: bool,
}

/// A stone that could be laid.
#[derive(Debug, Clone, Copy)]
struct Choice {
    disc: Disc,
    /// How welcome it is, its room aside.
    favour: f64,
    /// Room to the nearest that it does not touch, mm.
    room_mm: f64,
}

/// A hole being filled.
pub struct Lay<'a, 'b> {
    board: &'b Board<'a>,
    middle: Option<Place>,
    reach_mm: f64,
    bay: Option<(Place, f64)>,
    seen: Vec<Seen>,
    /// Their centres and reaches, mm: what most looks are for.
    spots: Vec<(DVec3, f64)>,
    laid: Vec<Disc>,
    choices: Vec<Choice>,
    flush: Vec<Place>,
    /// How many more of each size there may be; `None` is any number.
    pub spare: Option<Vec<usize>>,
    favours: Vec<f64>,
    dice: Vec<f64>,
}

impl<'a, 'b> Lay<'a, 'b> {
    pub fn new(board: &'b Board<'a>) -> Self {
        let widest_mm = board.radii_mm[board.ladder[0]];
        let favour = |size: usize| {
            let weight = board.shares[size] * board.shares.len() as f64;
            FREE_WEIGHT * libm::log(weight.max(1e-6))
                + FREE_LARGE * board.radii_mm[size] / widest_mm
        };
        Self {
            board,
            middle: None,
            reach_mm: 0.0,
            bay: None,
            seen: Vec::new(),
            spots: Vec::new(),
            laid: Vec::new(),
            choices: Vec::new(),
            flush: Vec::new(),
            spare: None,
            favours: (0..board.radii_mm.len()).map(favour).collect(),
            dice: vec![0.0; board.radii_mm.len()],
        }
    }

    /// Begins a hole: stones will be laid with their centres nearer to `middle` than `reach_mm`, and in
    /// the bay.
    pub fn begin(&mut self, middle: &Place, reach_mm: f64, bay: (&Place, f64), chance: &mut Pcg64) {
        self.middle = Some(*middle);
        self.reach_mm = reach_mm;
        self.bay = Some((*bay.0, bay.1));
        self.seen.clear();
        self.spots.clear();
        self.laid.clear();
        self.choices.clear();
        for dice in &mut self.dice {
            *dice = SIZE_DICE * (unit(chance) - 0.5);
        }
    }

    /// Stones laid.
    pub fn laid(&self) -> &[Disc] {
        &self.laid
    }

    /// A stone that stays.
    pub fn keep(&mut self, disc: &Disc) {
        let Some(middle) = &self.middle else { return };
        let board = self.board;
        let far_mm = self.reach_mm + board.widest_reach_mm + disc.reach_mm;
        let away = distance_squared(&disc.place, middle);
        if away < far_mm * far_mm {
            let near_mm =
                self.reach_mm + disc.reach_mm + PARTNER * board.reach_mm(board.smallest());
            self.spots.push((disc.place.centre_mm, disc.reach_mm));
            self.seen.push(Seen { disc: *disc, partner: away < near_mm * near_mm });
        }
    }

    /// Lays stones until none fits; gives their squares summed, mm².
    pub fn run(&mut self, chance: &mut Pcg64) -> f64 {
        let board = self.board;
        for number in 0..self.seen.len() {
            if self.seen[number].partner {
                self.offer(number, chance);
            }
        }
        let mut sum = 0.0;
        loop {
            let score = |choice: &Choice| {
                choice.favour - choice.room_mm / (2.0 * board.radii_mm[choice.disc.size])
            };
            let mut best: Option<(f64, usize)> = None;
            for (k, choice) in self.choices.iter().enumerate() {
                let of = score(choice);
                if best.is_none_or(|best| of > best.0) {
                    best = Some((of, k));
                }
            }
            let Some((_, k)) = best else { return sum };
            let disc = self.choices.swap_remove(k).disc;
            if let Some(spare) = &mut self.spare {
                if spare[disc.size] == 0 {
                    continue;
                }
                spare[disc.size] -= 1;
            }
            sum += board.square_mm2(disc.size);
            self.laid.push(disc);
            self.choices.retain_mut(|choice| {
                let touching = choice.disc.reach_mm + disc.reach_mm;
                let far_mm = touching + choice.room_mm;
                let away = distance_squared(&choice.disc.place, &disc.place);
                if away >= far_mm * far_mm {
                    return true;
                }
                choice.room_mm = (away.sqrt() - touching).max(0.0);
                away >= (touching - 1e-7) * (touching - 1e-7)
            });
            self.seen.push(Seen { disc, partner: true });
            self.spots.push((disc.place.centre_mm, disc.reach_mm));
            self.offer(self.seen.len() - 1, chance);
        }
    }

    /// What could be laid beside a stone and one before it, or an edge.
    fn offer(&mut self, number: usize, chance: &mut Pcg64) {
        let board = self.board;
        let Some(middle) = self.middle else { return };
        let a = self.seen[number].disc;
        for other in 0..number {
            let (centre_mm, reach_mm) = self.spots[other];
            let apart = a.place.centre_mm.distance_squared(centre_mm);
            let most_mm = a.reach_mm + reach_mm + 2.0 * board.widest_reach_mm;
            if apart >= most_mm * most_mm || !self.seen[other].partner {
                continue;
            }
            let b = self.seen[other].disc;
            let apart_mm = apart.sqrt();
            for side in 0..2 {
                let mut begun = false;
                for size in board.ladder.iter().rev().copied() {
                    let reach_mm = board.reach_mm(size);
                    let (ra, rb) = (a.reach_mm + reach_mm, b.reach_mm + reach_mm);
                    if apart_mm >= ra + rb {
                        continue;
                    }
                    let Some(start) = board.meeting_start(&a.place, ra, &b.place, rb, side) else {
                        continue;
                    };
                    // Nearly there is enough to see that it does not fit.
                    let far_mm = self.reach_mm + OVERLAP_MM;
                    if distance_squared(&start, &middle) > far_mm * far_mm {
                        if begun {
                            break;
                        }
                        continue;
                    }
                    if !self.fits(&start, reach_mm, OVERLAP_MM) {
                        break;
                    }
                    let Some(place) = board.settle(start, &a.place, ra, &b.place, rb) else {
                        continue;
                    };
                    if !self.may_lie(&place) {
                        continue;
                    }
                    let Some(room_mm) = self.room_mm(&place, size, [number, other]) else { break };
                    begun = true;
                    self.choose(place, size, room_mm, chance);
                }
            }
        }
        let edge_mm = board.walls.room_mm(&a.place) - a.reach_mm;
        if edge_mm > 2.0 * board.widest_reach_mm {
            return;
        }
        let mut flush = std::mem::take(&mut self.flush);
        for size in board.ladder.iter().rev().copied() {
            let reach_mm = board.reach_mm(size);
            if edge_mm > 2.0 * reach_mm {
                continue;
            }
            let may = |start: &Place| {
                let far_mm = self.reach_mm + FLUSH_OVERLAP_MM;
                distance_squared(start, &middle) < far_mm * far_mm
                    && self.fits(start, reach_mm, FLUSH_OVERLAP_MM)
            };
            board.flush(&a.place, a.reach_mm + reach_mm, size, may, &mut flush);
            for place in flush.drain(..) {
                if self.may_lie(&place)
                    && let Some(room_mm) = self.room_mm_flush(&place, size, number)
                {
                    self.choose(place, size, room_mm, chance);
                }
            }
        }
        self.flush = flush;
    }

    fn may_lie(&self, place: &Place) -> bool {
        let near =
            |middle: &Place, reach_mm: f64| distance_squared(middle, place) < reach_mm * reach_mm;
        self.middle.is_none_or(|middle| near(&middle, self.reach_mm))
            && self.bay.is_none_or(|(middle, within_mm)| near(&middle, within_mm))
    }

    fn choose(&mut self, place: Place, size: usize, room_mm: f64, chance: &mut Pcg64) {
        let board = self.board;
        if !board.may(&place, size) {
            return;
        }
        let disc = Disc { place, reach_mm: board.reach_mm(size), size };
        let dice = DICE * unit(chance);
        let favour = self.favours[size] + self.dice[size] + dice;
        self.choices.push(Choice { disc, favour, room_mm });
    }

    /// Whether a stone of this reach overlaps no other by more than this.
    fn fits(&self, place: &Place, reach_mm: f64, slack_mm: f64) -> bool {
        step();
        self.spots.iter().all(|(centre_mm, other_mm)| {
            let least = reach_mm + other_mm - slack_mm;
            place.centre_mm.distance_squared(*centre_mm) >= least * least
        })
    }

    /// Room to the nearest that it does not touch anyway; `None` if it does not fit.
    fn room_mm(&self, place: &Place, size: usize, beside: [usize; 2]) -> Option<f64> {
        let board = self.board;
        let radius_mm = board.radii_mm[size];
        if !board.holds(place, size) {
            return None;
        }
        let room_mm = self.room_among(place, board.reach_mm(size), beside)?;
        Some(room_mm.min(board.walls.room_mm(place) - radius_mm).max(0.0))
    }

    fn room_mm_flush(&self, place: &Place, size: usize, beside: usize) -> Option<f64> {
        let board = self.board;
        if !board.holds(place, size) {
            return None;
        }
        self.room_among(place, board.reach_mm(size), [beside, beside])
    }

    fn room_among(&self, place: &Place, reach_mm: f64, beside: [usize; 2]) -> Option<f64> {
        step();
        let mut room_mm = self.board.widest_reach_mm;
        for (number, (centre_mm, other_mm)) in self.spots.iter().enumerate() {
            let touching = reach_mm + other_mm;
            let away = place.centre_mm.distance_squared(*centre_mm);
            let far_mm = touching + room_mm;
            if away < far_mm * far_mm {
                if away < (touching - 1e-7) * (touching - 1e-7) {
                    return None;
                }
                if !beside.contains(&number) {
                    room_mm = away.sqrt() - touching;
                }
            }
        }
        Some(room_mm.max(0.0))
    }
}
