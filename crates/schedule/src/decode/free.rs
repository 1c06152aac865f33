//! When one person is free: a bit for each slot, with the longest free run of each open stretch so that
//! full ones are passed over.

use super::room::both;
use crate::book::Slot;
use crate::open::Open;
use crate::plan::Stretch;

/// Slots to an entry of the table that finds a stretch by its time.
const TABLE_SLOTS: Slot = 256;

/// Free time of one person.
#[derive(Debug, Clone)]
pub(crate) struct Free {
    open: Vec<Stretch>,
    /// Index of the first stretch that ends after the beginning of each table entry.
    table: Vec<u32>,
    /// A bit for each slot in which she is there and has nothing to do.
    free: Vec<u64>,
    /// A bit for each slot that is clear of the rest around her sittings.
    calm: Vec<u64>,
    /// Longest free run of each stretch, rest not looked at.
    runs: Vec<Slot>,
    /// First and last word that was changed since it was kept.
    touched: Option<(usize, usize)>,
}

impl Free {
    /// Nothing placed yet.
    pub fn new(open: &Open, horizon: Slot) -> Self {
        let open: Vec<Stretch> = open
            .stretches()
            .iter()
            .map(|&(from, to)| (from.max(0), to.min(horizon)))
            .filter(|(from, to)| from < to)
            .collect();
        let words = (horizon.max(0) as usize) / 64 + 2;
        let mut free = vec![0; words];
        open.iter().for_each(|&stretch| fill(&mut free, stretch, true));
        let runs: Vec<Slot> = open.iter().map(|(from, to)| to - from).collect();
        let entries = horizon.max(0) / TABLE_SLOTS + 2;
        let table = (0..entries)
            .map(|entry| open.partition_point(|(_, to)| *to <= entry * TABLE_SLOTS) as u32)
            .collect();
        Self { calm: vec![u64::MAX; words], open, table, free, runs, touched: None }
    }

    /// As another stands, which began alike.
    pub fn copy_from(&mut self, other: &Self) {
        if let Some((first, last)) = both(self.touched, other.touched) {
            self.free[first..=last].copy_from_slice(&other.free[first..=last]);
            self.calm[first..=last].copy_from_slice(&other.calm[first..=last]);
        }
        self.runs.copy_from_slice(&other.runs);
        self.touched = other.touched;
    }

    /// What is placed now is there from the beginning.
    pub fn keep(&mut self) {
        self.touched = None;
    }

    /// Index of the first open stretch that ends after a slot.
    pub fn stretch_at(&self, slot: Slot) -> usize {
        let slot = slot.max(0);
        let entry = ((slot / TABLE_SLOTS) as usize).min(self.table.len() - 1);
        let mut at = self.table[entry] as usize;
        while at < self.open.len() && self.open[at].1 <= slot {
            at += 1;
        }
        at
    }

    /// The earliest slot from `from` on at which `length` slots are free one after the other.
    pub fn find(&self, from: Slot, length: Slot) -> Option<Slot> {
        let mut at = self.stretch_at(from);
        while at < self.open.len() {
            if self.runs[at] >= length {
                let (begins, ends) = self.open[at];
                let found = run(&self.free, begins.max(from), ends, length);
                if found.is_some() {
                    return found;
                }
            }
            at += 1;
        }
        None
    }

    /// Whether all of a stretch is free.
    pub fn is_free(&self, stretch: Stretch) -> bool {
        let mut whole = true;
        words(stretch, |word, mask| whole &= self.free[word] & mask == mask);
        whole
    }

    /// The earliest stretch from `from` on, free and clear of rest, of at least `least` slots; of at
    /// most `most`.
    pub fn find_sitting(&self, from: Slot, least: Slot, most: Slot) -> Option<Stretch> {
        let mut at = self.stretch_at(from);
        while at < self.open.len() {
            if self.runs[at] >= least {
                let (begins, ends) = self.open[at];
                if let Some(found) = self.calm_run(begins.max(from), ends, least, most) {
                    return Some(found);
                }
            }
            at += 1;
        }
        None
    }

    fn calm_run(&self, from: Slot, to: Slot, least: Slot, most: Slot) -> Option<Stretch> {
        let both = |word: usize| self.free[word] & self.calm[word];
        let mut at = from;
        loop {
            let begins = next(both, at, to, true);
            if begins >= to {
                return None;
            }
            let ends = next(both, begins, to.min(begins + most), false);
            if ends - begins >= least {
                return Some((begins, ends));
            }
            at = ends;
        }
    }

    /// Takes a stretch.
    pub fn take(&mut self, stretch: Stretch) {
        self.set(stretch, false);
    }

    /// Gives a stretch back; slots in which she is not there stay closed.
    pub fn give(&mut self, stretch: Stretch) {
        self.set(stretch, true);
    }

    fn set(&mut self, stretch: Stretch, free: bool) {
        if stretch.0 >= stretch.1 {
            return;
        }
        self.touch(stretch);
        let mut at = self.stretch_at(stretch.0);
        while at < self.open.len() && self.open[at].0 < stretch.1 {
            let (begins, ends) = self.open[at];
            fill(&mut self.free, (begins.max(stretch.0), ends.min(stretch.1)), free);
            self.runs[at] = longest(&self.free, begins, ends);
            at += 1;
        }
    }

    /// Keeps other sittings away from one, for so many slots.
    pub fn calm_around(&mut self, (from, to): Stretch, rest: Slot) {
        let last = (self.calm.len() * 64) as Slot - 1;
        let stretch = ((from - rest).max(0), (to + rest).min(last));
        self.touch(stretch);
        fill(&mut self.calm, stretch, false);
    }

    fn touch(&mut self, (from, to): Stretch) {
        let (from, to) = ((from / 64) as usize, ((to - 1).max(0) / 64) as usize);
        let to = to.min(self.free.len() - 1);
        self.touched = Some(self.touched.map_or((from, to), |(a, b)| (a.min(from), b.max(to))));
    }
}

/// Calls with each word that a stretch touches, and the mask of its bits in it.
fn words((from, to): Stretch, mut call: impl FnMut(usize, u64)) {
    if from >= to {
        return;
    }
    let (first, last) = ((from / 64) as usize, ((to - 1) / 64) as usize);
    for word in first..=last {
        let mut mask = u64::MAX;
        if word == first {
            mask &= u64::MAX << (from % 64);
        }
        if word == last {
            mask &= u64::MAX >> (63 - (to - 1) % 64);
        }
        call(word, mask);
    }
}

fn fill(bits: &mut [u64], stretch: Stretch, on: bool) {
    words(stretch, |word, mask| {
        if on {
            bits[word] |= mask;
        } else {
            bits[word] &= !mask;
        }
    });
}

/// The first slot from `from` on, before `to`, whose bit is as asked; `to` if there is none.
fn next(bits: impl Fn(usize) -> u64, from: Slot, to: Slot, on: bool) -> Slot {
    let mut slot = from;
    while slot < to {
        let word = bits((slot / 64) as usize);
        let word = (if on { word } else { !word }) >> (slot % 64);
        if word != 0 {
            return (slot + word.trailing_zeros() as Slot).min(to);
        }
        slot = (slot / 64 + 1) * 64;
    }
    to
}

/// The first run of `length` set bits within a stretch.
fn run(bits: &[u64], from: Slot, to: Slot, length: Slot) -> Option<Slot> {
    let mut at = from;
    while at + length <= to {
        let begins = next(|word| bits[word], at, to, true);
        if begins + length > to {
            return None;
        }
        let ends = next(|word| bits[word], begins, begins + length, false);
        if ends - begins >= length {
            return Some(begins);
        }
        at = ends;
    }
    None
}

fn longest(bits: &[u64], from: Slot, to: Slot) -> Slot {
    let (mut at, mut most) = (from, 0);
    while to - at > most {
        let begins = next(|word| bits[word], at, to, true);
        let ends = next(|word| bits[word], begins, to, false);
        most = most.max(ends - begins);
        at = ends;
    }
    most
}

#[cfg(test)]
mod tests {
    use super::*;

    fn two_days() -> Free {
        Free::new(&Open::from_stretches(vec![(100, 142), (388, 472)]), 1000)
    }

    #[test]
    fn what_is_taken_is_free_no_longer_and_given_back_it_is_again() {
        let mut free = two_days();
        assert_eq!(free.find(0, 42), Some(100));
        free.take((110, 120));
        assert_eq!(free.find(0, 10), Some(100));
        assert_eq!(free.find(0, 11), Some(120));
        assert_eq!(free.find(0, 23), Some(388));
        assert_eq!(free.find(101, 10), Some(120));
        assert!(!free.is_free((119, 121)) && free.is_free((120, 142)));
        free.give((110, 120));
        assert_eq!(free.find(0, 42), Some(100));
        assert_eq!(free.find(0, 85), None);
        free.take((95, 400));
        free.give((95, 400));
        assert_eq!(free.find(0, 43), Some(388), "closed slots stay closed");
    }

    #[test]
    fn sittings_keep_their_rest() {
        let mut free = two_days();
        free.take((100, 124));
        free.calm_around((100, 124), 3);
        assert_eq!(free.find_sitting(0, 8, 24), Some((127, 142)));
        assert_eq!(free.find_sitting(0, 16, 24), Some((388, 412)));
        assert_eq!(free.find(0, 18), Some(124), "other work may fill the rest");
        free.copy_from(&two_days());
        assert_eq!(free.find_sitting(0, 8, 24), Some((100, 124)));
    }
}
