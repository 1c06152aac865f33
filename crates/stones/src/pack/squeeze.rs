//! Denser by force: a few stones too many, sizes exchanged between crowded and loose places, all
//! pushed about until every one has its room; then again, with more.
//!
//! Exchanges of sizes let a packing of mixed sizes relax far beyond where it would jam otherwise
//! (swap moves; Ninarello, Berthier, Coslovich 2017; here guided by crowding instead of chance).

mod amount;
mod exchange;
mod worth;

pub use worth::{counts, mean_square_mm2, reachable_shares, worth, worth_of};

use crate::pack::board::{Board, Disc};
use crate::pack::relax::Relax;
use rand_pcg::Pcg64;
use worth::lack;

/// First and largest share of stones added at a time.
const MORE: (f64, f64) = (0.006, 0.012);
/// Exchanges of sizes in a round, steps of relaxing before each, and after the last one.
const EXCHANGES: u32 = 12;
const STEPS: u32 = 40;
const LAST_STEPS: u32 = 900;
/// Largest overlap worth more steps after the last exchange, mm.
const HOPE_MM: f64 = 0.02;
/// Times that the most pressed stones are eased in a round, and their share of all.
const EASINGS: u32 = 10;
const EASED: f64 = 0.0003;
/// Rounds without success before half of what is too much is taken away.
const TRIES: u32 = 3;
/// How near to touching crowding is felt, mm.
pub const FELT_MM: f64 = 0.05;
/// Times shaken without success before it is stuck.
const STUCK: u32 = 5;

/// Stones being squeezed.
#[derive(Debug)]
pub struct Squeeze<'a, 'b> {
    board: &'b Board<'a>,
    tight: Relax<'a, 'b>,
    best: Vec<Disc>,
    best_worth: f64,
    shares: Vec<f64>,
    /// Sizes change along a way: they stay about where they are.
    graded: bool,
    tries: u32,
    more: f64,
    /// Times shaken since it last came denser.
    stuck: u32,
    chance: Pcg64,
}

impl<'a, 'b> Squeeze<'a, 'b> {
    /// Begins with a sound layout; `going` is asked now and then, and what is begun is not whole once it
    /// returned false.
    pub fn new(
        board: &'b Board<'a>,
        laid: Vec<Disc>,
        shares: Vec<f64>,
        seed: [u64; 2],
        going: &mut dyn FnMut() -> bool,
    ) -> Self {
        let graded = board.grade.is_some();
        let mut out = Self {
            board,
            tight: Relax::new(board, &laid),
            best_worth: worth_of(board, &shares, &laid),
            graded,
            best: laid,
            shares,
            tries: 0,
            more: MORE.0,
            stuck: 0,
            chance: Pcg64::new(u128::from(seed[1]), u128::from(seed[0])),
        };
        out.overfill(going);
        out
    }

    /// Whether shaking has not helped for long.
    pub fn is_stuck(&self) -> bool {
        self.stuck >= STUCK
    }

    /// The densest sound layout so far.
    pub fn best(&self) -> &[Disc] {
        &self.best
    }

    /// What that is worth.
    pub fn best_worth(&self) -> f64 {
        self.best_worth
    }

    /// One round; `going` is asked now and then and stops it by returning false.
    pub fn round(&mut self, going: &mut dyn FnMut() -> bool) {
        for _ in 0..EXCHANGES {
            if !going() {
                return;
            }
            self.tight.run(STEPS, going);
            self.exchange();
        }
        for _ in 0..LAST_STEPS / (3 * STEPS) {
            if !going() {
                return;
            }
            let left_mm = self.tight.run(3 * STEPS, going);
            if left_mm < 0.0 {
                break;
            }
            if left_mm > HOPE_MM {
                // The rest of the steps would not bring it to nothing.
                self.tries = TRIES - 1;
                break;
            }
        }
        self.ease(going);
        if !going() {
            return;
        }
        self.tries += 1;
        let board = self.board;
        // A stone pressed hard may slip over an edge, where nothing presses it any more.
        let inside = || self.tight.ours().iter().all(|disc| board.holds_centre(&disc.place));
        if self.tight.largest_mm() < 0.0 && inside() {
            self.succeed(going);
        } else if self.tries >= TRIES {
            self.start_again(going);
        }
    }

    /// Where a few stones are still pressed when the others have their room, makes those smaller or
    /// takes them away, as long as more is laid than before.
    fn ease(&mut self, going: &mut dyn FnMut() -> bool) {
        for _ in 0..EASINGS {
            let left_mm = self.tight.largest_mm();
            let counts = counts(self.board, self.tight.sizes().iter().copied());
            let worth = worth(self.board, &self.shares, &counts);
            if !(0.0..=HOPE_MM).contains(&left_mm) || worth <= self.best_worth || !going() {
                return;
            }
            let pressed = self.tight.crowding(0.0);
            let many = (EASED * pressed.len() as f64).ceil() as usize;
            let by_pressure = |a: usize, b: usize| pressed[b].total_cmp(&pressed[a]);
            let most = self.sorted(|number| pressed[number] > 0.0, by_pressure);
            let mut out = Vec::new();
            for number in most.into_iter().take(many) {
                match self.board.smaller(self.tight.sizes()[number]) {
                    Some(smaller) if self.may(number, smaller) => {
                        self.tight.resize(number, smaller)
                    }
                    _ => out.push(number),
                }
            }
            if !out.is_empty() {
                self.tight.remove(&out);
            }
            self.tight.run(3 * STEPS, going);
        }
    }

    fn succeed(&mut self, going: &mut dyn FnMut() -> bool) {
        let counts = counts(self.board, self.tight.sizes().iter().copied());
        let worth = worth(self.board, &self.shares, &counts);
        if worth > self.best_worth && self.board.in_stock(&counts) {
            self.best = self.tight.ours();
            self.best_worth = worth;
            self.stuck = 0;
        }
        if self.tries == 1 {
            self.more = (self.more * 1.2).min(MORE.1);
        }
        self.tries = 0;
        self.overfill(going);
    }

    /// Takes away half of what is too much.
    fn start_again(&mut self, going: &mut dyn FnMut() -> bool) {
        self.tries = 0;
        // Of the area the blend must not cost cover.
        let by_area = self.board.by_area;
        let which = |area, worth| if by_area { area } else { worth };
        let least = self.alike(self.best.iter().map(|disc| disc.size), which);
        let excess = self.tight.count() as i64 - least as i64;
        self.more *= 0.5;
        if self.board.free {
            let least_mm2 = self.board.square_mm2(self.board.smallest());
            let excess = self.covered() - self.best_worth;
            if excess < least_mm2 {
                self.shake();
                self.cover(self.best_worth + least_mm2, going);
            } else {
                self.cover(self.best_worth + 0.5 * excess, going);
            }
        } else if excess <= 1 {
            self.shake();
            self.target(least + 1, going);
        } else {
            self.target(least + (excess / 2) as usize, going);
        }
    }

    /// As many stones as these; where they miss their shares, as many in the shares asked for as have the
    /// same area or are worth the same.
    fn alike(&self, sizes: impl Iterator<Item = usize>, which: impl Fn(f64, f64) -> f64) -> usize {
        let board = self.board;
        let counts = counts(board, sizes);
        let total: f64 = counts.iter().sum();
        let limited = board.most.iter().any(|most| *most != usize::MAX);
        let worth = worth(board, &self.shares, &counts);
        let area = counts.iter().enumerate().map(|(size, count)| count * board.square_mm2(size));
        let area: f64 = area.sum();
        if limited || worth == area {
            return total as usize;
        }
        (which(area, worth).max(0.0) / mean_square_mm2(board, &self.shares)) as usize
    }

    /// Whether a stone of ours may have a size where it is.
    fn may(&self, number: usize, size: usize) -> bool {
        self.board.may(self.tight.place(number), size)
    }

    /// How many stones of each size are missing for the blend, of which there are enough.
    fn lack(&self) -> Vec<f64> {
        let board = self.board;
        let mut lack = lack(&self.shares, self.tight.sizes());
        if board.most.iter().all(|most| *most == usize::MAX) {
            return lack;
        }
        let have = counts(board, self.tight.sizes().iter().copied());
        // What there is not enough of is made up by the others.
        let mut over = 0.0;
        for (size, lack) in lack.iter_mut().enumerate() {
            let room = board.most[size] as f64 - have[size];
            over += (*lack - room).max(0.0);
            *lack = lack.min(room);
        }
        for size in board.ladder.iter().rev() {
            let more = over.min(board.most[*size] as f64 - have[*size] - lack[*size]).max(0.0);
            lack[*size] += more;
            over -= more;
        }
        lack
    }

    fn overfill(&mut self, going: &mut dyn FnMut() -> bool) {
        if self.board.free {
            self.cover(self.covered() * (1.0 + self.more), going);
            return;
        }
        let count = self.alike(self.tight.sizes().iter().copied(), |area, _| area);
        let more = (self.more * count as f64).ceil() as usize;
        self.target(count + more, going);
    }

    /// Numbers of our stones of a size, in this order.
    fn of_size(
        &self,
        size: usize,
        order: impl Fn(usize, usize) -> std::cmp::Ordering,
    ) -> Vec<usize> {
        self.sorted(|number| self.tight.sizes()[number] == size, order)
    }

    /// Numbers of some of our stones, in this order.
    fn sorted(
        &self,
        which: impl Fn(usize) -> bool,
        order: impl Fn(usize, usize) -> std::cmp::Ordering,
    ) -> Vec<usize> {
        let mut numbers: Vec<usize> = (0..self.tight.count()).filter(|i| which(*i)).collect();
        numbers.sort_by(|a, b| order(*a, *b).then(a.cmp(b)));
        numbers
    }
}
