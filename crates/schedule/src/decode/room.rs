//! How much room is left on a machine, slot by slot.

use crate::book::{Machine, Slot};
use crate::plan::Stretch;

/// Room on one machine.
#[derive(Debug, Clone)]
pub(crate) struct Room {
    // Signed, because processors find the least of many of those at once.
    left: Vec<i16>,
    /// From and to where it was changed since it was kept.
    touched: Option<(usize, usize)>,
}

impl Room {
    /// Nothing placed yet.
    pub fn new(machine: &Machine, horizon: Slot) -> Self {
        let mut left = vec![whole(machine.capacity); horizon.max(0) as usize];
        for outage in &machine.outages {
            let (from, to) = (outage.from.max(0) as usize, outage.to.clamp(0, horizon) as usize);
            let out = whole(outage.amount);
            left[from..to].iter_mut().for_each(|left| *left = (*left - out).max(0));
        }
        Self { left, touched: None }
    }

    /// As another stands, which began alike.
    pub fn copy_from(&mut self, other: &Self) {
        if let Some((from, to)) = both(self.touched, other.touched) {
            self.left[from..to].copy_from_slice(&other.left[from..to]);
        }
        self.touched = other.touched;
    }

    /// What is placed now is there from the beginning.
    pub fn keep(&mut self) {
        self.touched = None;
    }

    /// The last slot of a stretch with less room than asked. Time after the horizon is full.
    pub fn last_lack(&self, (from, to): Stretch, amount: u16) -> Option<Slot> {
        if to as usize > self.left.len() {
            return Some(to - 1);
        }
        let amount = whole(amount);
        let stretch = &self.left[from as usize..to as usize];
        // Most stretches have room: one pass without a branch tells.
        if stretch.iter().fold(i16::MAX, |least, &left| least.min(left)) >= amount {
            return None;
        }
        let lack = stretch.iter().rposition(|&left| left < amount);
        lack.map(|slot| from + slot as Slot)
    }

    /// Takes room.
    pub fn take(&mut self, stretch: Stretch, amount: u16) {
        let (from, to) = self.touch(stretch);
        let amount = whole(amount);
        self.left[from..to].iter_mut().for_each(|left| *left = left.wrapping_sub(amount));
    }

    /// Gives it back.
    pub fn give(&mut self, stretch: Stretch, amount: u16) {
        let (from, to) = self.touch(stretch);
        let amount = whole(amount);
        self.left[from..to].iter_mut().for_each(|left| *left = left.wrapping_add(amount));
    }

    fn touch(&mut self, (from, to): Stretch) -> (usize, usize) {
        let most = self.left.len();
        let (from, to) = ((from.max(0) as usize).min(most), (to.max(0) as usize).min(most));
        self.touched = Some(self.touched.map_or((from, to), |(a, b)| (a.min(from), b.max(to))));
        (from, to)
    }
}

fn whole(amount: u16) -> i16 {
    i16::try_from(amount).unwrap_or(i16::MAX)
}

/// What two spans reach over together.
pub(super) fn both<T: Ord + Copy>(a: Option<(T, T)>, b: Option<(T, T)>) -> Option<(T, T)> {
    match (a, b) {
        (Some(a), Some(b)) => Some((a.0.min(b.0), a.1.max(b.1))),
        (a, b) => a.or(b),
    }
}
