//! How much of a person or a machine is free, over time.

use crate::book::Slot;
use crate::plan::Stretch;

/// What is free from one slot to the next: steps in order of time, the first from the beginning of
/// time and the last for good.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Room {
    steps: Vec<(Slot, i32)>,
}

impl Room {
    /// The same amount at all times.
    pub fn always(amount: i32) -> Self {
        Self { steps: vec![(Slot::MIN, amount)] }
    }

    /// One in these stretches, which are in order and apart, nothing outside.
    pub fn within(stretches: &[Stretch]) -> Self {
        let mut steps = vec![(Slot::MIN, 0)];
        steps.extend(stretches.iter().flat_map(|&(from, to)| [(from, 1), (to, 0)]));
        Self { steps }
    }

    /// Index of the step that begins at `at`, split off if there is none.
    fn split(&mut self, at: Slot) -> usize {
        let after = self.steps.partition_point(|step| step.0 < at);
        if self.steps.get(after).is_none_or(|step| step.0 != at) {
            self.steps.insert(after, (at, self.steps[after - 1].1));
        }
        after
    }

    /// Takes some of it, whether there is as much or not.
    pub fn take(&mut self, (from, to): Stretch, amount: i32) {
        if from >= to || amount == 0 {
            return;
        }
        let first = self.split(from);
        let last = self.split(to);
        for step in &mut self.steps[first..last] {
            step.1 -= amount;
        }
    }

    /// Never less than nothing, and neighbouring steps united.
    pub fn tidy(&mut self) {
        for step in &mut self.steps {
            step.1 = step.1.max(0);
        }
        self.steps.dedup_by_key(|step| step.1);
    }

    /// First slot at or after `from` from which the amount is free for so long.
    pub fn earliest(&self, from: Slot, length: Slot, amount: i32) -> Option<Slot> {
        let mut at = self.steps.partition_point(|step| step.0 <= from) - 1;
        let mut begins = from;
        loop {
            let next = self.steps.get(at + 1);
            if self.steps[at].1 < amount {
                begins = next?.0;
            } else if next.is_none_or(|step| step.0 >= begins.saturating_add(length)) {
                return Some(begins);
            }
            at += 1;
        }
    }

    /// Stretches in which less than the amount is free, with the amount that is; the first may
    /// begin at `Slot::MIN`, the last may end at `Slot::MAX`.
    pub fn short_of(&self, amount: i32) -> impl Iterator<Item = (Stretch, i32)> + '_ {
        self.steps.iter().enumerate().filter(move |(_, step)| step.1 < amount).map(|(at, step)| {
            let to = self.steps.get(at + 1).map_or(Slot::MAX, |next| next.0);
            ((step.0, to), step.1)
        })
    }

    /// First slot by which so much (amount times slots) has been free since `from`.
    pub fn holds_by(&self, from: Slot, asked: i64) -> Option<Slot> {
        let mut at = self.steps.partition_point(|step| step.0 <= from) - 1;
        let (mut begins, mut left) = (from, asked);
        loop {
            let free = i64::from(self.steps[at].1);
            let ends = self.steps.get(at + 1).map(|next| next.0);
            let whole = ends.map(|ends| free * (i64::from(ends) - i64::from(begins)));
            if free > 0 && whole.is_none_or(|whole| whole >= left) {
                // Rounded up: the last slot may be needed in part.
                let slots = left.div_euclid(free) + i64::from(left.rem_euclid(free) > 0);
                return Slot::try_from(i64::from(begins) + slots).ok();
            }
            left -= whole?;
            begins = ends?;
            at += 1;
        }
    }
}
