//! Denser by force: a few stones too many, sizes exchanged between crowded and loose places, all
//! pushed about until every one has its room; then again, with more.
//!
//! Exchanges of sizes let a packing of mixed sizes relax far beyond where it would jam otherwise
//! (swap moves; Ninarello, Berthier, Coslovich 2017; here guided by crowding instead of chance).

use crate::pack::board::{Board, Disc, Laid};
use crate::pack::relax::Relax;
use crate::pack::voids::voids;
use rand_core::Rng;
use rand_pcg::Pcg64;

/// Half of the overlap that may be left when a layout counts as done; distances are made larger by
/// it beforehand, mm.
const SPARE_MM: f64 = 0.0005;
/// First and largest share of stones added at a time.
const MORE: (f64, f64) = (0.003, 0.006);
/// Exchanges of sizes in a round, steps of relaxing before each, and after the last one.
const EXCHANGES: u32 = 6;
const STEPS: u32 = 40;
const LAST_STEPS: u32 = 900;
/// Rounds without success before the last good layout is taken up again with fewer more.
const TRIES: u32 = 3;
/// Share of the stones whose size may be exchanged at a time.
const EXCHANGED: f64 = 0.02;
/// How near to touching crowding is felt, mm.
const FELT_MM: f64 = 0.05;
/// Share of the stones shaken when nothing else helps.
const SHAKEN: f64 = 0.03;
/// Points of the total by which a size may miss its share without loss of worth.
const SLACK: f64 = 0.003;

/// Stones being squeezed.
#[derive(Debug)]
pub struct Squeeze<'a, 'b> {
    board: &'b Board<'a>,
    tight: Relax<'a, 'b>,
    best: Vec<Disc>,
    best_worth: f64,
    /// Sizes, largest first.
    ladder: Vec<usize>,
    shares: Vec<f64>,
    tries: u32,
    more: f64,
    shaken: bool,
    chance: Pcg64,
}

impl<'a, 'b> Squeeze<'a, 'b> {
    /// Begins with a sound layout.
    pub fn new(board: &'b Board<'a>, laid: Vec<Disc>, seed: [u64; 2]) -> Self {
        let mut ladder: Vec<usize> = (0..board.radii_mm.len()).collect();
        ladder.sort_by(|a, b| board.radii_mm[*b].total_cmp(&board.radii_mm[*a]));
        let shares = reachable_shares(board, &laid);
        let mut out = Self {
            board,
            tight: Relax::new(board, &laid, SPARE_MM),
            best_worth: worth(board, &shares, &laid),
            best: laid,
            ladder,
            shares,
            tries: 0,
            more: MORE.0,
            shaken: false,
            chance: Pcg64::new(u128::from(seed[1]), u128::from(seed[0])),
        };
        out.overfill();
        out
    }

    /// The densest sound layout so far.
    pub fn best(self) -> Vec<Disc> {
        self.best
    }

    /// One round; `going` is asked now and then and stops it by returning false.
    pub fn round(&mut self, going: &mut dyn FnMut() -> bool) {
        for _ in 0..EXCHANGES {
            if !going() {
                return;
            }
            self.tight.run(STEPS);
            self.exchange();
        }
        for _ in 0..LAST_STEPS / (3 * STEPS) {
            if !going() {
                return;
            }
            if self.tight.run(3 * STEPS) < 0.0 {
                break;
            }
        }
        self.tries += 1;
        let board = self.board;
        // A stone pressed hard may slip over an edge, where nothing presses it any more.
        let inside = || self.tight.ours().iter().all(|disc| board.holds_centre(&disc.place));
        if self.tight.largest_mm() < 0.0 && inside() {
            self.succeed();
        } else if self.tries == TRIES {
            self.start_again();
        }
    }

    fn succeed(&mut self) {
        let worth = worth(self.board, &self.shares, self.tight.ours());
        if worth > self.best_worth {
            self.best = self.tight.ours().to_vec();
            self.best_worth = worth;
            self.shaken = false;
        }
        if self.tries == 1 {
            self.more = (self.more * 1.2).min(MORE.1);
        }
        self.tries = 0;
        self.overfill();
    }

    fn start_again(&mut self) {
        self.tries = 0;
        self.tight = Relax::new(self.board, &self.best, SPARE_MM);
        if self.more * (self.best.len() as f64) < 1.0 || self.shaken {
            // The same would come out again: from another place, then.
            self.shake();
        } else {
            self.more *= 0.5;
        }
        self.overfill();
    }

    /// Exchanges sizes at random.
    fn shake(&mut self) {
        self.shaken = true;
        let count = self.tight.ours().len();
        if count < 2 {
            return;
        }
        let mut pick = || (self.chance.next_u64() % count as u64) as usize;
        for _ in 0..(SHAKEN * count as f64).ceil() as usize {
            let (a, b) = (pick(), pick());
            let (of_a, of_b) = (self.tight.ours()[a].size, self.tight.ours()[b].size);
            self.tight.resize(a, of_b);
            self.tight.resize(b, of_a);
        }
    }

    /// Adds stones in the widest holes, in the sizes that the blend lacks.
    fn overfill(&mut self) {
        let board = self.board;
        self.enlarge();
        let more = (self.more * self.tight.ours().len() as f64).ceil() as usize;
        let laid = Laid::with(board, self.tight.ours());
        let holes = voids(board, &laid, 0.45 * board.radii_mm[board.smallest()]);
        let mut lack = lack(&self.shares, self.tight.ours());
        for hole in holes.into_iter().take(more) {
            for (lack, share) in lack.iter_mut().zip(&self.shares) {
                *lack += share;
            }
            let size = (0..lack.len()).max_by(|a, b| lack[*a].total_cmp(&lack[*b])).unwrap_or(0);
            lack[size] -= 1.0;
            self.tight.add(Disc { place: hole.place, reach_mm: board.reach_mm(size), size });
        }
    }

    /// Where larger sizes are too few, gives the loosest of the next smaller size that much more.
    fn enlarge(&mut self) {
        let lack = lack(&self.shares, self.tight.ours());
        let crowding = self.crowding();
        let most = (MORE.1 * crowding.len() as f64).ceil();
        let mut larger_lack = 0.0;
        for step in 0..self.ladder.len() - 1 {
            let (larger, smaller) = (self.ladder[step], self.ladder[step + 1]);
            larger_lack += lack[larger];
            let many = larger_lack.round().clamp(0.0, most) as usize;
            let loosest = self.sorted(smaller, |a, b| crowding[a].total_cmp(&crowding[b]));
            for number in loosest.into_iter().take(many) {
                self.tight.resize(number, larger);
            }
        }
    }

    /// How much each of our stones is pressed.
    fn crowding(&mut self) -> Vec<f64> {
        let mut crowding = vec![0.0; self.tight.ours().len()];
        self.tight.overlaps(FELT_MM, |number, overlap_mm| crowding[number] += overlap_mm + FELT_MM);
        crowding
    }

    /// Numbers of our stones of a size, in this order.
    fn sorted(
        &self,
        size: usize,
        order: impl Fn(usize, usize) -> std::cmp::Ordering,
    ) -> Vec<usize> {
        let ours = self.tight.ours();
        let mut numbers: Vec<usize> = (0..ours.len()).filter(|i| ours[*i].size == size).collect();
        numbers.sort_by(|a, b| order(*a, *b).then(a.cmp(b)));
        numbers
    }

    /// Exchanges sizes between crowded larger stones and loose smaller ones.
    fn exchange(&mut self) {
        let crowding = self.crowding();
        let steps = self.ladder.len() - 1;
        let each = (EXCHANGED * crowding.len() as f64 / steps.max(1) as f64).ceil() as usize;
        let mut done = vec![false; crowding.len()];
        for step in 0..steps {
            let (larger, smaller) = (self.ladder[step], self.ladder[step + 1]);
            let crowded = self.sorted(larger, |a, b| crowding[b].total_cmp(&crowding[a]));
            let loose = self.sorted(smaller, |a, b| crowding[a].total_cmp(&crowding[b]));
            let crowded: Vec<usize> =
                crowded.into_iter().filter(|i| !done[*i]).take(each).collect();
            let loose = loose.into_iter().filter(|i| !done[*i]).take(each).collect::<Vec<_>>();
            for (a, b) in crowded.into_iter().zip(loose) {
                if crowding[a] <= crowding[b] + 2.0 * FELT_MM {
                    break;
                }
                self.tight.resize(a, smaller);
                self.tight.resize(b, larger);
                (done[a], done[b]) = (true, true);
            }
        }
    }
}

/// Worth of a layout: the squares of its radii summed, less what its blend is off.
fn worth(board: &Board<'_>, shares: &[f64], ours: &[Disc]) -> f64 {
    let slack = SLACK * ours.len() as f64 + 1.0;
    let square = |size: usize| board.radii_mm[size] * board.radii_mm[size];
    let area: f64 = ours.iter().map(|disc| square(disc.size)).sum();
    let off = lack(shares, ours).into_iter().enumerate();
    area - off.map(|(size, lack)| (lack.abs() - slack).max(0.0) * square(size)).sum::<f64>()
}

/// How many stones of each size are missing for the blend; negative where there are too many.
fn lack(shares: &[f64], ours: &[Disc]) -> Vec<f64> {
    let mut lack: Vec<f64> = shares.iter().map(|share| share * ours.len() as f64).collect();
    for disc in ours {
        lack[disc.size] -= 1.0;
    }
    lack
}

/// The shares to keep: those of the order, or those of the draft if that met less than half of one,
/// since the ground then has no room for them.
fn reachable_shares(board: &Board<'_>, laid: &[Disc]) -> Vec<f64> {
    let mut counts = vec![0.0; board.shares.len()];
    for disc in laid {
        counts[disc.size] += 1.0;
    }
    let total = laid.len() as f64;
    let missed = |(count, share): (&f64, &f64)| *count < 0.5 * share * total - 2.0;
    if counts.iter().zip(&board.shares).any(missed) {
        counts.into_iter().map(|count| count / total).collect()
    } else {
        board.shares.clone()
    }
}
