//! When a patch may follow another: which side is up, how far fresh stones may lean, where the hand
//! lies.
//!
//! The part is turned so that the patch at work faces up. A patch is wet until its glue holds; while it
//! is wet it may lean no farther from up than the glue allows, may not lie in the rest beneath, and the
//! hand may not lie on it.

use crate::setting::order::IN_COLUMN;
use glam::DVec3;
use piece::settings::GlueProduct;
use std::collections::BTreeMap;
use std::f64::consts::{FRAC_PI_3, PI, TAU};

/// A rest holds a round part over a third of its girth, centred below: what leans farther than this
/// lies in it, rad. Common practice, no source.
pub const IN_REST_RAD: f64 = 2.0 * FRAC_PI_3;
/// From the edge of a patch down the wall, where the hand lies that sets it, mm. Common practice, no
/// source: the width of a palm.
pub const HAND_MM: f64 = 80.0;
/// Rounding, min and rad.
pub const HAIR: f64 = 1e-9;

/// What the glue asks for.
#[derive(Debug, Clone, Copy)]
pub struct Glue {
    /// Wet for this long, min.
    pub set_min: f64,
    /// Farthest that a wet stone may lean, rad.
    pub lean_rad: f64,
}

impl Glue {
    /// The studio's glue, on a rest.
    pub fn new(glue: &GlueProduct) -> Self {
        Self { set_min: glue.set_min.max(0.0), lean_rad: glue.tilt_rad.min(IN_REST_RAD) }
    }
}

/// A patch to be put in order.
#[derive(Debug, Clone)]
pub struct Task {
    /// Zone it belongs to, in the order of work.
    pub zone: usize,
    /// From the rim down within that, from 0.
    pub level: u32,
    /// Middle and half width round the part, rad; mm on a flat part.
    pub around: (f64, f64),
    /// Whether `around` is an angle.
    pub round: bool,
    /// From and to along the wall, with whole stones, mm.
    pub along_mm: (f64, f64),
    /// Its widest stone, mm.
    pub widest_mm: f64,
    /// Outward in its middle: up while it is set.
    pub up: DVec3,
    /// Farthest that one of its stones leans from that, rad.
    pub spread_rad: f64,
    /// Hands-on, min.
    pub work_min: f64,
}

impl Task {
    /// Whether it lies over or under the other.
    fn shares_column(&self, other: &Self) -> bool {
        let apart = self.around.0 - other.around.0;
        let apart = if self.round { apart - TAU * (apart / TAU).round() } else { apart };
        apart.abs() <= self.around.1 + other.around.1 + IN_COLUMN
    }

    /// What is set before what, where both are next to each other: by zone, level, and along the wall.
    pub fn place(&self) -> (usize, u32, f64) {
        (self.zone, self.level, f64::midpoint(self.along_mm.0, self.along_mm.1))
    }

    /// Whether it must be set before the other: it is of an earlier zone, or higher up in the same one,
    /// and right above or below it.
    pub fn precedes(&self, other: &Self) -> bool {
        let margin_mm = self.widest_mm.max(other.widest_mm);
        let beside = |a: (f64, f64), b: (f64, f64)| a.0 < b.1 + margin_mm && b.0 < a.1 + margin_mm;
        self.place() < other.place()
            && beside(self.along_mm, other.along_mm)
            && self.shares_column(other)
    }

    /// Whether its glue must hold before the other is begun.
    pub fn holds_up(&self, other: &Self, glue: &Glue) -> bool {
        let room_rad = glue.lean_rad - self.spread_rad + HAIR;
        let leans = room_rad < 0.0 || self.up.dot(other.up) < libm::cos(room_rad.min(PI));
        leans || self.lies_under_hand_of(other)
    }

    /// How far the part is turned from one to the other, as a chord of a unit circle.
    pub fn turn_to(&self, other: &Self) -> f64 {
        (2.0 - 2.0 * self.up.dot(other.up)).max(0.0).sqrt()
    }

    fn lies_under_hand_of(&self, other: &Self) -> bool {
        let (from, to) = self.along_mm;
        (from + to) / 2.0 > other.along_mm.1
            && from < other.along_mm.1 + HAND_MM
            && self.shares_column(other)
    }
}

/// For each patch, those that must be set before it.
pub fn forerunners(tasks: &[Task]) -> Vec<Vec<usize>> {
    // Only patches in one column can touch: they are looked up by 10° or 20 mm.
    let mut columns: BTreeMap<i64, Vec<usize>> = BTreeMap::new();
    let cells = |task: &Task| {
        let wide = if task.round { TAU / 36.0 } else { 20.0 };
        let cell = |at: f64| (at / wide).floor() as i64;
        let (middle, half) = (task.around.0, task.around.1 + IN_COLUMN);
        let (first, last) = (cell(middle - half), cell(middle + half));
        let round = task.round;
        let last = if round { last.min(first + 35) } else { last };
        (first..=last).map(move |cell| if round { cell.rem_euclid(36) } else { cell })
    };
    for (index, task) in tasks.iter().enumerate() {
        cells(task).for_each(|cell| columns.entry(cell).or_default().push(index));
    }
    let mut before = vec![Vec::new(); tasks.len()];
    for column in columns.values_mut() {
        // Along the wall only those near by can touch.
        column.sort_by(|a, b| tasks[*a].along_mm.0.total_cmp(&tasks[*b].along_mm.0).then(a.cmp(b)));
        let most =
            |of: fn(&Task) -> f64| column.iter().map(|&one| of(&tasks[one])).fold(0.0, f64::max);
        let margin_mm = most(|task| task.widest_mm);
        let above_mm = most(|task| task.along_mm.1 - task.along_mm.0) + margin_mm;
        let from = |mm: f64| column.partition_point(|&one| tasks[one].along_mm.0 < mm);
        for &later in column.iter() {
            let (top_mm, foot_mm) = tasks[later].along_mm;
            let near = &column[from(top_mm - above_mm)..from(foot_mm + margin_mm)];
            let first = near.iter().filter(|&&first| tasks[first].precedes(&tasks[later]));
            before[later].extend(first);
        }
    }
    for list in &mut before {
        list.sort_unstable();
        list.dedup();
    }
    before
}

/// When one patch of an order is set, min from the first.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Timed {
    /// Idle before it.
    pub wait_min: f64,
    /// Begun.
    pub from_min: f64,
    /// Done.
    pub to_min: f64,
}

/// The earliest times of patches in a given order.
pub fn timed(tasks: &[Task], order: &[usize], glue: &Glue) -> Vec<Timed> {
    let mut wet: Vec<(usize, f64)> = Vec::new();
    let mut now = 0.0;
    let one = |&task: &usize| {
        let from_min = ready_at(tasks, &wet, task, glue).max(now);
        let wait_min = from_min - now;
        now = from_min + tasks[task].work_min;
        wet.retain(|(_, dry)| *dry > now);
        wet.push((task, now + glue.set_min));
        Timed { wait_min, from_min, to_min: now }
    };
    order.iter().map(one).collect()
}

/// When a patch may be begun for all that those do which are wet until given times.
pub fn ready_at(tasks: &[Task], wet: &[(usize, f64)], task: usize, glue: &Glue) -> f64 {
    let holding = wet.iter().filter(|(other, _)| tasks[*other].holds_up(&tasks[task], glue));
    holding.map(|(_, dry)| *dry).fold(0.0, f64::max)
}
