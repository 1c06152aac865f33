//! Serial placement: of the steps whose forerunners are placed, the one with the longest road still
//! behind it goes first, at the earliest moment that fits.

use crate::hours::{Hours, Stretch};
use crate::place::{Chain, Placed, place_sittings, whole_min};
use crate::words::{count, span};
use crate::{StepKind, Steps};
use piece::{Diagnostic, FieldPath, Settings};

/// The placing of one plan.
pub(crate) struct Desk<'a> {
    settings: &'a Settings,
    steps: &'a Steps,
    pieces: u32,
    hours: Hours,
    /// Sittings of stone setting, for the rest between them.
    set: Vec<Stretch>,
    /// Everything placed so far.
    pub placed: Vec<Placed>,
}

impl<'a> Desk<'a> {
    /// Nothing placed yet.
    pub fn new(settings: &'a Settings, steps: &'a Steps, pieces: u32, hours: Hours) -> Self {
        Self { settings, steps, pieces, hours, set: Vec::new(), placed: Vec::new() }
    }

    /// Places every step; false if the horizon was reached.
    pub fn place_all(&mut self) -> bool {
        let steps = &self.steps.steps;
        let tails = self.tails();
        let mut done = vec![false; steps.len()];
        loop {
            let next = (0..steps.len())
                .filter(|&step| !done[step] && steps[step].after.iter().all(|&before| done[before]))
                .max_by_key(|&step| (tails[step], std::cmp::Reverse(step)));
            let Some(first) = next else { return true };
            let chained = steps[first + 1..].iter().take_while(|step| step.at_once).count();
            let Some(placed) = self.place(first, first + 1 + chained) else { return false };
            for sitting in placed {
                self.hours.take(sitting.at);
                if steps[sitting.step].kind == StepKind::Set {
                    self.set.push(sitting.at);
                }
                done[sitting.step] = true;
                self.placed.push(sitting);
            }
        }
    }

    /// Shortest time from the beginning of each step to the end of everything, min.
    fn tails(&self) -> Vec<i64> {
        let steps = &self.steps.steps;
        let mut tails = vec![0; steps.len()];
        for step in (0..steps.len()).rev() {
            tails[step] += whole_min(steps[step].hands_on_for_min(self.pieces));
            for &before in &steps[step].after {
                let wait = whole_min(self.steps.wait_between_min(before, step));
                tails[before] = tails[before].max(wait + tails[step]);
            }
        }
        tails
    }

    fn place(&self, first: usize, end: usize) -> Option<Vec<Placed>> {
        let steps = &self.steps.steps;
        let earliest = steps[first]
            .after
            .iter()
            .map(|&before| {
                self.ended(before) + whole_min(self.steps.wait_between_min(before, first))
            })
            .fold(0, i64::max);
        if steps[first].sitting_min.is_some() {
            return place_sittings(
                first,
                &steps[first],
                self.pieces,
                &self.hours,
                &self.set,
                earliest,
            );
        }
        let mut chain =
            Chain { first, steps: &steps[first..end], pieces: self.pieces, sand_min: 0.0 };
        let placed = chain.place(&self.hours, earliest)?;
        let Some((poured, window_ends)) = self.window(first) else { return Some(placed) };
        let in_window = |sitting: &Placed| sitting.step != first || sitting.at.0 <= window_ends;
        if placed.iter().all(in_window) {
            return Some(placed);
        }
        let hard_min = self.settings.resin.sandable_min - self.settings.times.watch_min;
        chain.sand_min = self.settings.times.sand_min;
        chain.place(&self.hours, earliest.max(self.ended(poured) + whole_min(hard_min)))
    }

    /// The pour before a pour, and when its recoat window closes for the piece that was poured first.
    fn window(&self, step: usize) -> Option<(usize, i64)> {
        let steps = &self.steps.steps;
        if steps[step].kind != StepKind::Pour {
            return None;
        }
        steps[step].after.iter().find_map(|&before| {
            let sand_after = steps[before].sand_after_min?;
            let first = self
                .placed
                .iter()
                .filter(|placed| placed.step == before)
                .min_by_key(|placed| placed.at)?;
            let one = whole_min(steps[before].work_min() + steps[before].set_up_min);
            let first_ended = (first.at.0 + first.extra_sand_min + one).min(first.at.1);
            Some((before, first_ended + sand_after.clamp(0.0, 5e6) as i64))
        })
    }

    fn ended(&self, step: usize) -> i64 {
        let ends =
            self.placed.iter().filter(|placed| placed.step == step).map(|placed| placed.at.1);
        ends.max().unwrap_or(0)
    }

    /// What the maker should know of this placing.
    pub fn notes(&self) -> Vec<Diagnostic> {
        let mut notes = Vec::new();
        let steps = &self.steps.steps;
        // Sanding inside a pour, and sandings of their own that make up for a missed window.
        let mut sanded: Vec<(usize, f64)> = self
            .placed
            .iter()
            .filter(|placed| placed.extra_sand_min > 0)
            .map(|placed| (placed.step, placed.extra_sand_min as f64))
            .collect();
        sanded.extend((0..steps.len()).filter_map(|step| {
            let own = steps[step].kind == StepKind::Sand && steps[step].zone.is_some();
            own.then(|| (step, steps[step].hands_on_for_min(self.pieces)))
        }));
        sanded.sort_by_key(|(step, _)| *step);
        if let Some(zone) = sanded.first().and_then(|(step, _)| steps[*step].zone) {
            let minutes: f64 = sanded.iter().map(|(_, minutes)| minutes).sum();
            let (from, to) = self.settings.resin.recoat_min;
            let mut pours: Vec<usize> = sanded.iter().map(|(step, _)| *step).collect();
            pours.dedup();
            let coats = count(pours.len(), "pour");
            notes.push(
                Diagnostic::warning(
                    FieldPath::root().key("zone").index(zone).key("resin"),
                    format!(
                        "in the maker's hours {coats} cannot begin {} to {} after the coat before: {} of sanding are counted in",
                        span(from),
                        span(to),
                        span(minutes)
                    ),
                )
                .hint("Pour early on a long day of work, or use a resin whose recoat window fits the hours"),
            );
        }
        if let Some(over) = self.placed.iter().find(|placed| placed.over_hours) {
            let step = &steps[over.step];
            notes.push(
                Diagnostic::warning(
                    FieldPath::root(),
                    format!(
                        "`{}` takes {} without a break, longer than any stretch of the maker's hours; it runs past them",
                        step.name,
                        span((over.at.1 - over.at.0) as f64)
                    ),
                )
                .hint("Set longer hours on one day of the week"),
            );
        }
        let spindles = self.spindles();
        if spindles > 1 {
            notes.push(Diagnostic::warning(
                FieldPath::root(),
                format!("this timetable needs {spindles} spindles turning at once: one for every part that is wet"),
            ));
        }
        notes
    }

    /// Most parts of all pieces that turn at the same time.
    fn spindles(&self) -> u32 {
        let steps = &self.steps.steps;
        let mut turning: Vec<(i64, i64, Option<usize>)> = Vec::new();
        for placed in self.placed.iter().filter(|placed| steps[placed.step].turner_min > 0.0) {
            let ends = placed.at.0 + whole_min(steps[placed.step].turner_min);
            turning.push((placed.at.0, ends.max(placed.at.1), steps[placed.step].part));
        }
        let parts_at = |moment: i64| {
            let mut parts: Vec<Option<usize>> = turning
                .iter()
                .filter(|(from, to, _)| *from <= moment && moment < *to)
                .map(|(_, _, part)| *part)
                .collect();
            parts.sort_unstable();
            parts.dedup();
            parts.len() as u32
        };
        turning
            .iter()
            .map(|(from, _, _)| parts_at(*from))
            .max()
            .unwrap_or(0)
            .saturating_mul(self.pieces)
    }
}
