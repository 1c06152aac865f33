//! Slots in which someone is there, as bits.

use crate::plan::Stretch;
use serde::{Deserialize, Serialize};

/// Slots that are open, as stretches in order of time that neither touch nor overlap.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct Open {
    stretches: Vec<Stretch>,
}

impl Open {
    /// Open in these stretches, in any order; empty ones are dropped and those that touch united.
    pub fn from_stretches(mut stretches: Vec<Stretch>) -> Self {
        stretches.retain(|(from, to)| from < to);
        stretches.sort_unstable();
        let mut united: Vec<Stretch> = Vec::with_capacity(stretches.len());
        for (from, to) in stretches {
            match united.last_mut() {
                Some((_, end)) if *end >= from => *end = (*end).max(to),
                _ => united.push((from, to)),
            }
        }
        Self { stretches: united }
    }

    /// The stretches in order of time; no two touch.
    pub fn stretches(&self) -> &[Stretch] {
        &self.stretches
    }

    /// The same without a stretch: someone is ill, a day off.
    #[must_use]
    pub fn without(&self, (from, to): Stretch) -> Self {
        let cut = |&(begins, ends): &Stretch| [(begins, ends.min(from)), (begins.max(to), ends)];
        Self::from_stretches(self.stretches.iter().flat_map(cut).collect())
    }
}
