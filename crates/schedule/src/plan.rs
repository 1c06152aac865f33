//! Who does what when, and what it costs.

use crate::book::Slot;
use serde::{Deserialize, Serialize};

/// From a slot up to, not including, another.
pub type Stretch = (Slot, Slot);

/// Where one task stands.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Placed {
    /// Index of the person, if it needs one.
    pub person: Option<usize>,
    /// When it is worked on, in order of time: one stretch, or one a sitting (set-up included).
    pub stretches: Vec<Stretch>,
    /// Of a task with a mix: number of the mix, from 0 in order of time; tasks of one mix share it.
    pub mix: Option<u32>,
}

impl Placed {
    /// First slot.
    pub fn begins(&self) -> Slot {
        self.stretches.first().map_or(0, |stretch| stretch.0)
    }

    /// First slot after it.
    pub fn ends(&self) -> Slot {
        self.stretches.last().map_or(0, |stretch| stretch.1)
    }
}

/// What a plan costs; less is better, and what stands first counts first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default, Serialize, Deserialize)]
pub struct Cost {
    /// Weighted slots late, over all jobs.
    pub late: u64,
    /// Optional tasks done and mixes made.
    pub extras: u32,
    /// Sum of the slots at which jobs are done.
    pub finishes: u64,
    /// Tasks that stand elsewhere than in the plan in force.
    pub moved: u32,
}

/// When everything is done.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Plan {
    /// For each task of the book, where it stands; `None` for optional tasks that are not needed.
    pub tasks: Vec<Option<Placed>>,
    /// What it costs.
    pub cost: Cost,
    /// No plan costs less than this.
    pub bound: Cost,
}
