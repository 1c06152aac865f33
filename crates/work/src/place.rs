//! Places one step, or a chain of steps that must follow each other at once, into free hours.

use crate::Step;
use crate::hours::{Hours, Stretch};

/// Rest between two sittings of setting stones, min (eyes, neck and fingers; common practice).
pub const REST_MIN: i64 = 15;
/// No sitting is opened for less work than this, min.
const LEAST_MIN: i64 = 15;
/// Stones are not laid out for less setting than this, min.
const LEAST_SETTING_MIN: i64 = 30;

/// One sitting before it has a calendar date.
#[derive(Debug, Clone, Copy)]
pub struct Placed {
    /// Index of the step.
    pub step: usize,
    /// From and to.
    pub at: Stretch,
    /// Sanding inside it, min.
    pub extra_sand_min: i64,
    /// Runs past the maker's hours, because no stretch of them is long enough.
    pub over_hours: bool,
}

/// Whole minutes, never negative, never absurd.
pub fn whole_min(min: f64) -> i64 {
    // A hair is taken off so that 3 x 20 min of rounding noise do not become 61.
    (min - 1e-6).ceil().clamp(0.0, 5_000_000.0) as i64
}

/// What is placed together.
pub struct Chain<'a> {
    /// Index of the first step; the others follow it.
    pub first: usize,
    /// The steps.
    pub steps: &'a [Step],
    /// Pieces made together.
    pub pieces: u32,
    /// Sanding for each piece before it, min.
    pub sand_min: f64,
}

impl Chain<'_> {
    /// Hands-on for so many pieces: sanding and each step in turn; set-up comes with the last.
    fn parts_min(&self, pieces: u32) -> Vec<i64> {
        let times = f64::from(pieces);
        let mut lengths: Vec<i64> = self
            .steps
            .iter()
            .map(|step| whole_min(times * step.work_min() + step.set_up_min))
            .collect();
        if let Some(first) = lengths.first_mut() {
            *first += self.sand_for(pieces);
        }
        lengths
    }

    fn sand_for(&self, pieces: u32) -> i64 {
        whole_min(self.sand_min * f64::from(pieces))
    }

    fn length_min(&self, pieces: u32) -> i64 {
        self.parts_min(pieces).iter().sum()
    }

    fn laid(&self, begins: i64, pieces: u32, over_hours: bool) -> Vec<Placed> {
        let mut at = begins;
        let mut placed = Vec::new();
        for (offset, length) in self.parts_min(pieces).into_iter().enumerate() {
            let extra_sand_min = if offset == 0 { self.sand_for(pieces) } else { 0 };
            placed.push(Placed {
                step: self.first + offset,
                at: (at, at + length),
                extra_sand_min,
                over_hours,
            });
            at += length;
        }
        placed
    }

    /// The earliest place for it; `None` if there is none before the horizon.
    pub fn place(&self, hours: &Hours, earliest: i64) -> Option<Vec<Placed>> {
        let whole = self.length_min(self.pieces);
        if whole <= hours.longest() {
            let (from, _) = hours.free_from(earliest).find(|(from, to)| to - from >= whole)?;
            return Some(self.laid(from, self.pieces, false));
        }
        if let [only] = self.steps
            && only.kind.may_pause()
        {
            return self.place_in_bits(hours, earliest, whole);
        }
        if self.length_min(1) <= hours.longest() {
            return self.place_in_batches(hours, earliest);
        }
        self.place_over_hours(hours, earliest)
    }

    fn place_in_bits(&self, hours: &Hours, earliest: i64, whole: i64) -> Option<Vec<Placed>> {
        let mut left = whole;
        let mut placed = Vec::new();
        for (from, to) in hours.free_from(earliest) {
            let length = left.min(to - from);
            if length >= LEAST_MIN.min(left).min(hours.longest()) {
                let at = (from, from + length);
                placed.push(Placed { step: self.first, at, extra_sand_min: 0, over_hours: false });
                left -= length;
            }
            if left == 0 {
                return Some(placed);
            }
        }
        None
    }

    fn place_in_batches(&self, hours: &Hours, earliest: i64) -> Option<Vec<Placed>> {
        let mut left = self.pieces;
        let mut placed = Vec::new();
        for (from, to) in hours.free_from(earliest) {
            let pieces = self.most_pieces(left, to - from);
            if pieces > 0 {
                placed.extend(self.laid(from, pieces, false));
                left -= pieces;
            }
            if left == 0 {
                return Some(placed);
            }
        }
        None
    }

    /// How many pieces, up to `left`, fit into so many min. More pieces never take less time.
    fn most_pieces(&self, left: u32, room: i64) -> u32 {
        let (mut fits, mut too_many) = (0, left.saturating_add(1));
        while too_many - fits > 1 {
            let middle = fits + (too_many - fits) / 2;
            if self.length_min(middle) <= room {
                fits = middle;
            } else {
                too_many = middle;
            }
        }
        fits
    }

    fn place_over_hours(&self, hours: &Hours, earliest: i64) -> Option<Vec<Placed>> {
        let mut left = self.pieces;
        let mut placed: Vec<Placed> = Vec::new();
        let one = self.length_min(1);
        for (from, to) in hours.free_from(earliest) {
            let begins = placed.last().map_or(from, |last| last.at.1.max(from));
            if to - begins == hours.longest() && hours.is_clear((begins, begins + one)) {
                placed.extend(self.laid(begins, 1, true));
                left -= 1;
            }
            if left == 0 {
                return Some(placed);
            }
        }
        None
    }
}

/// Splits the setting of stones into sittings, with a rest from all other setting between them;
/// `set_already` is in order of time.
pub fn place_sittings(
    index: usize,
    step: &Step,
    pieces: u32,
    hours: &Hours,
    set_already: &[Stretch],
    earliest: i64,
) -> Option<Vec<Placed>> {
    let set_up = whole_min(step.set_up_min);
    let longest = whole_min(step.sitting_min.unwrap_or(f64::INFINITY)).max(set_up + 1);
    let work_min = step.work_min() * f64::from(pieces);
    let mut left = whole_min(work_min + step.idle_for_min(pieces)).max(1);
    let least_work = LEAST_SETTING_MIN.min(longest - set_up).min((hours.longest() - set_up).max(1));
    let mut placed: Vec<Placed> = Vec::new();
    for (from, to) in hours.free_from(earliest) {
        let mut begins = from;
        loop {
            let over = set_already.partition_point(|(_, end)| *end <= begins);
            let last = set_already[..over].last().map(|(_, end)| *end);
            // Its own sittings are placed in order of time, so all of them are over as well.
            let last = last.max(placed.last().map(|placed| placed.at.1));
            begins = last.map_or(begins, |end| begins.max(end + REST_MIN));
            let next = set_already.partition_point(|(start, _)| *start < begins);
            let until = set_already.get(next).map_or(to, |(start, _)| to.min(start - REST_MIN));
            let length = longest.min(set_up + left).min(until - begins);
            if length < set_up + least_work.min(left) {
                break;
            }
            let at = (begins, begins + length);
            placed.push(Placed { step: index, at, extra_sand_min: 0, over_hours: false });
            left -= length - set_up;
            begins += length;
            if left == 0 {
                return Some(placed);
            }
        }
    }
    None
}
