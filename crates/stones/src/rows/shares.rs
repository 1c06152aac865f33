//! How many stones level rows hold side by side, and where in the round they lie.

use crate::fill::Ground;
use libm::asin;
use shape::SurfacePoint;
use std::f64::consts::TAU;

/// Width kept free where rows end flush with a side, so that a last move of the row leaves it room, mm.
const SIDE_MM: f64 = 2e-3;

/// How the rows of one group share the round.
#[derive(Debug, Clone, Copy)]
pub struct Share {
    /// Stones from side to side in even rows.
    pub count: usize,
    /// From stone to stone, in `around`.
    pub step: f64,
    /// `around` of a stone in even rows; odd rows are half a step on.
    pub phase: f64,
}

/// Least step, in `around`, between stones of one level row whose centres keep `pitch_mm` in space.
pub fn least_step(ground: &Ground<'_>, pitch_mm: f64, along_mm: f64) -> f64 {
    if ground.surface.period().is_none() {
        return pitch_mm;
    }
    let radius_mm = ground.surface.around_scale_mm(along_mm);
    let sine = pitch_mm / (2.0 * radius_mm).max(1e-9);
    if sine >= 1.0 { TAU } else { 2.0 * asin(sine) }
}

/// Answers how rows of one size share the round, or the width between two sides.
#[derive(Debug)]
pub struct Shares<'a> {
    ground: &'a Ground<'a>,
    diameter_mm: f64,
    pitch_mm: f64,
    along_mm: (f64, f64),
    /// Whether stones lie under stones, so that no row needs room for half a step more.
    aligned: bool,
    /// Sides of rows at even steps along the wall, for the search; empty all round.
    sides: Vec<Option<(f64, f64)>>,
}

impl<'a> Shares<'a> {
    /// For stones whose centres keep `pitch_mm`, in rows between two distances along the wall.
    pub fn new(
        ground: &'a Ground<'a>,
        diameter_mm: f64,
        pitch_mm: f64,
        along_mm: (f64, f64),
        aligned: bool,
    ) -> Self {
        let sides = Vec::new();
        let mut shares = Self { ground, diameter_mm, pitch_mm, along_mm, aligned, sides };
        if !ground.all_round() {
            let steps = shares.side_steps();
            shares.sides = (0..=steps)
                .map(|k| along_mm.0 + (along_mm.1 - along_mm.0) * f64::from(k) / f64::from(steps))
                .map(|along_mm| shares.sides(along_mm))
                .collect();
        }
        shares
    }

    fn side_steps(&self) -> u32 {
        ((self.along_mm.1 - self.along_mm.0) / (self.diameter_mm / 3.0)).ceil().max(1.0) as u32
    }

    /// [`Shares::sides`] from the table, good enough to search with.
    pub fn sides_about(&self, along_mm: f64) -> Option<(f64, f64)> {
        let span = (self.along_mm.1 - self.along_mm.0).max(1e-9);
        let at =
            ((along_mm - self.along_mm.0) / span).clamp(0.0, 1.0) * f64::from(self.side_steps());
        let low = at.floor() as usize;
        let high = (low + 1).min(self.sides.len() - 1);
        let (a, b) = (self.sides[low]?, self.sides[high]?);
        let part = at - at.floor();
        Some((a.0 + (b.0 - a.0) * part, a.1 + (b.1 - a.1) * part))
    }

    /// Least step between stones of one row.
    pub fn least_step(&self, along_mm: f64) -> f64 {
        least_step(self.ground, self.pitch_mm, along_mm)
    }

    /// How many stones fit side by side in a row.
    pub fn room(&self, along_mm: f64) -> usize {
        let step = self.least_step(along_mm);
        if self.ground.all_round() {
            ((TAU / step + 1e-9).floor() as usize).max(1)
        } else {
            let (low, high) = self.sides_about(along_mm).unwrap_or(self.ground.around);
            ((high - low) / step + 1e-9).floor().max(0.0) as usize + 1
        }
    }

    /// Least and greatest `around` of a stone's centre where the zone's outermost sides bound this
    /// row; `None` where they don't.
    pub fn sides(&self, along_mm: f64) -> Option<(f64, f64)> {
        let (low, high) = self.ground.around;
        let reach = 3.0 * self.diameter_mm / self.ground.surface.around_scale_mm(along_mm).max(1.0);
        let inside = |around: f64| {
            let at = SurfacePoint { around: self.ground.wrapped(around), along_mm };
            self.ground.field.clearance_mm(at) >= self.diameter_mm / 2.0
        };
        let first = |from: f64, towards: f64| {
            const LOOKS: u32 = 24;
            let step = (towards - from) / f64::from(LOOKS);
            let look = (0..=LOOKS).find(|look| inside(from + step * f64::from(*look)))?;
            let mut hit = from + step * f64::from(look);
            let mut miss = hit - step;
            for _ in 0..30 {
                let middle = (hit + miss) / 2.0;
                *(if inside(middle) { &mut hit } else { &mut miss }) = middle;
            }
            Some(hit)
        };
        let left = first(low, (low + reach).min((low + high) / 2.0))?;
        let right = first(high, (high - reach).max((low + high) / 2.0))?;
        let spare = SIDE_MM / self.ground.surface.around_scale_mm(along_mm).max(1.0);
        (left + spare <= right - spare).then_some((left + spare, right - spare))
    }

    /// How rows at these distances share the round when all have the same step, with at most `most`
    /// stones in each.
    pub fn of(
        &self,
        alongs_mm: &[f64],
        sides_of: impl Fn(f64) -> Option<(f64, f64)>,
        most: usize,
    ) -> Share {
        let least = alongs_mm.iter().map(|along| self.least_step(*along)).fold(0.0, f64::max);
        if self.ground.all_round() {
            let count = ((TAU / least + 1e-9).floor() as usize).clamp(1, most.max(1));
            return Share { count, step: TAU / count as f64, phase: 0.0 };
        }
        let sides: Vec<_> = alongs_mm.iter().filter_map(|along| sides_of(*along)).collect();
        let widest = sides.iter().map(|side| side.1 - side.0).fold(0.0, f64::max);
        // Rows that are nearly as wide as the widest end flush with both sides; those cut short by
        // a corner lose their last stone.
        let (low, high) = sides
            .into_iter()
            .filter(|side| side.1 - side.0 >= widest - least / 4.0)
            .reduce(|a, b| (a.0.max(b.0), a.1.min(b.1)))
            .filter(|side| side.0 <= side.1)
            .unwrap_or(self.ground.around);
        let (middle, width) = ((low + high) / 2.0, high - low);
        let whole = (width / least + 1e-9).floor().min(most.saturating_sub(1) as f64);
        if width < least || whole < 1.0 {
            return Share { count: 1, step: least, phase: middle };
        }
        if width / least - whole >= 0.5 && !self.aligned {
            // Room for a half stone more: every row has the same count, flush left, then right.
            Share { count: whole as usize + 1, step: width / (whole + 0.5), phase: low }
        } else {
            Share { count: whole as usize + 1, step: width / whole, phase: low }
        }
    }

    /// How many stones a row of a share has that begins at `phase`.
    pub fn inside(&self, share: &Share, phase: f64) -> usize {
        if self.ground.all_round() || self.aligned || phase == share.phase {
            return share.count;
        }
        let high = share.phase + share.step * (share.count as f64 - 1.0);
        let (_, side) = self.ground.around;
        // The shifted row has as many stones only if its last still clears the side.
        let radius =
            self.diameter_mm / 2.0 / self.ground.surface.around_scale_mm(self.along_mm.0).max(1e-9);
        if high + share.step / 2.0 <= side - radius + 1e-9 { share.count } else { share.count - 1 }
    }
}
