//! Serial placement: of the steps whose forerunners are placed, the one with the longest road still
//! behind it goes first, at the earliest moment that fits.

use crate::hours::{Hours, Stretch};
use crate::place::{Chain, Placed, place_sittings, whole_min};
use crate::words::{count, span};
use crate::{Step, StepKind, Steps, Stopped};
use piece::{Diagnostic, FieldPath, Settings};
use std::cmp::Reverse;
use std::collections::{BTreeMap, BinaryHeap};

/// The placing of one plan.
pub(crate) struct Desk<'a> {
    settings: &'a Settings,
    steps: &'a Steps,
    pieces: u32,
    hours: Hours,
    /// Sittings of stone setting in order of time, for the rest between them.
    set: Vec<Stretch>,
    /// Of each step that is placed, its first sitting and when its last one ends.
    done: Vec<Option<(Placed, i64)>>,
    /// Everything placed so far.
    pub placed: Vec<Placed>,
}

impl<'a> Desk<'a> {
    /// Nothing placed yet.
    pub fn new(settings: &'a Settings, steps: &'a Steps, pieces: u32, hours: Hours) -> Self {
        let done = vec![None; steps.steps.len()];
        Self { settings, steps, pieces, hours, set: Vec::new(), done, placed: Vec::new() }
    }

    /// Places every step; false if the horizon was reached.
    ///
    /// # Errors
    /// Stopped, as soon as `going` says so.
    pub fn place_all(&mut self, going: &mut dyn FnMut() -> bool) -> Result<bool, Stopped> {
        let steps = &self.steps.steps;
        let tails = self.tails();
        let mut followers: Vec<Vec<usize>> = vec![Vec::new(); steps.len()];
        for (index, step) in steps.iter().enumerate() {
            step.after.iter().for_each(|&before| followers[before].push(index));
        }
        let mut waits_for: Vec<usize> = steps.iter().map(|step| step.after.len()).collect();
        // The longest road first, then the step that stands first.
        let rank = |step: usize| (tails[step], Reverse(step));
        let mut may_begin: BinaryHeap<_> =
            (0..steps.len()).filter(|&step| waits_for[step] == 0).map(rank).collect();
        while let Some((_, Reverse(first))) = may_begin.pop() {
            if self.done[first].is_some() {
                continue;
            }
            if !going() {
                return Err(Stopped);
            }
            let chained = steps[first + 1..].iter().take_while(|step| step.at_once).count();
            let Some(placed) = self.place(first, first + 1 + chained) else { return Ok(false) };
            placed.into_iter().for_each(|sitting| self.take(sitting));
            for step in (first..=first + chained).filter(|&step| self.done[step].is_some()) {
                for &later in &followers[step] {
                    waits_for[later] -= 1;
                    if waits_for[later] == 0 {
                        may_begin.push(rank(later));
                    }
                }
            }
        }
        Ok(true)
    }

    fn take(&mut self, sitting: Placed) {
        self.hours.take(sitting.at);
        if self.steps.steps[sitting.step].kind == StepKind::Set {
            let place = self.set.partition_point(|(begins, _)| *begins < sitting.at.0);
            self.set.insert(place, sitting.at);
        }
        let (first, ends) = self.done[sitting.step].get_or_insert((sitting, sitting.at.1));
        if sitting.at < first.at {
            *first = sitting;
        }
        *ends = sitting.at.1.max(*ends);
        self.placed.push(sitting);
    }

    /// Shortest time from the beginning of each step to the end of everything, min.
    fn tails(&self) -> Vec<i64> {
        let steps = &self.steps.steps;
        let mut tails = vec![0; steps.len()];
        for step in (0..steps.len()).rev() {
            tails[step] += whole_min(
                steps[step].hands_on_for_min(self.pieces) + steps[step].idle_for_min(self.pieces),
            );
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
        let hard_min = self.steps.waits.sandable_min - self.settings.times.watch_min;
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
            let (first, _) = self.done[before]?;
            let one = whole_min(steps[before].work_min() + steps[before].set_up_min);
            let first_ended = (first.at.0 + first.extra_sand_min + one).min(first.at.1);
            Some((before, first_ended + sand_after.clamp(0.0, 5e6) as i64))
        })
    }

    fn ended(&self, step: usize) -> i64 {
        self.done[step].map_or(0, |(_, ends)| ends)
    }

    /// What the maker should know of this placing.
    pub fn notes(&self) -> Vec<Diagnostic> {
        let mut notes = Vec::new();
        let steps = &self.steps.steps;
        // Sandings that make up for a missed window.
        let sanded: Vec<&Step> = steps
            .iter()
            .filter(|step| step.kind == StepKind::Sand && step.zone.is_some())
            .collect();
        if let Some(zone) = sanded.first().and_then(|step| step.zone) {
            let minutes: f64 = sanded.iter().map(|step| step.hands_on_for_min(self.pieces)).sum();
            let (from, to) = self.steps.waits.recoat_min;
            let coats = count(sanded.len(), "pour");
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
        // (when, whether it begins then, part): what ends at a moment ends before another begins.
        let mut turns: Vec<(i64, bool, Option<usize>)> = Vec::new();
        for placed in self.placed.iter().filter(|placed| steps[placed.step].turner_min > 0.0) {
            let part = steps[placed.step].part;
            let ends = placed.at.0 + whole_min(steps[placed.step].turner_min);
            turns.push((placed.at.0, true, part));
            turns.push((ends.max(placed.at.1), false, part));
        }
        turns.sort_unstable();
        let mut turning: BTreeMap<Option<usize>, u32> = BTreeMap::new();
        let mut most = 0;
        for (_, begins, part) in turns {
            let times = turning.entry(part).or_default();
            if begins {
                *times += 1;
            } else if *times > 1 {
                *times -= 1;
            } else {
                turning.remove(&part);
            }
            most = most.max(turning.len() as u32);
        }
        most.saturating_mul(self.pieces)
    }
}
