//! Steps that are one task: a pour, the glitter shaken into it, and the watch by the turner.

use super::clock::slots_up;
use crate::place::whole_min;
use crate::{Step, StepKind, Steps};
use piece::{Form, Piece};
use schedule::Slot;
use std::ops::Range;

/// Steps without a pause between them.
#[derive(Debug, Clone)]
pub(crate) struct Unit<'a> {
    /// Their indices.
    pub range: Range<usize>,
    /// The steps.
    pub steps: &'a [Step],
    /// Pieces made together.
    pub pieces: u32,
}

/// All units of a group, in the order of its steps.
pub(crate) fn units(steps: &Steps, pieces: u32) -> Vec<Unit<'_>> {
    let steps = &steps.steps;
    let mut units = Vec::new();
    let mut first = 0;
    while first < steps.len() {
        let chained = steps[first + 1..].iter().take_while(|step| step.at_once).count();
        let range = first..first + 1 + chained;
        first = range.end;
        units.push(Unit { steps: &steps[range.clone()], range, pieces });
    }
    units
}

impl Unit<'_> {
    /// Kinds of its steps, each once.
    pub fn kinds(&self) -> Vec<StepKind> {
        let mut kinds: Vec<StepKind> = Vec::new();
        for step in self.steps {
            if !kinds.contains(&step.kind) {
                kinds.push(step.kind);
            }
        }
        kinds
    }

    /// Hands-on and idle of each step for all pieces, without the set-up of sittings, min.
    pub fn parts_min(&self) -> Vec<i64> {
        let times = f64::from(self.pieces);
        let part = |step: &Step| match step.sitting_min {
            Some(_) => whole_min(step.work_min() * times + step.idle_for_min(self.pieces)).max(1),
            None => whole_min(times * step.work_min() + step.set_up_min),
        };
        self.steps.iter().map(part).collect()
    }

    /// Hands-on and idle of all steps, slots.
    pub fn work(&self) -> Slot {
        slots_up(self.parts_min().iter().sum::<i64>() as f64).max(1)
    }

    /// Watching at its end, min.
    pub fn watch_min(&self) -> f64 {
        match self.steps.last() {
            Some(last) if last.turner_min > 0.0 => last.set_up_min,
            _ => 0.0,
        }
    }

    /// How long its pieces turn from its beginning, min: until the one that was wet last is still.
    pub fn turning_min(&self) -> Option<f64> {
        let parts_min = self.parts_min();
        let mut begins_min = 0;
        let mut turning_min: Option<f64> = None;
        for (step, part_min) in self.steps.iter().zip(parts_min) {
            if step.turner_min > 0.0 {
                let others = f64::from(self.pieces - 1);
                let until = begins_min as f64 + others * step.work_min() + step.turner_min;
                turning_min = Some(turning_min.map_or(until, |longest| longest.max(until)));
            }
            begins_min += part_min;
        }
        turning_min
    }

    /// Whether its part is round and turns; others lie level.
    pub fn turns(&self, piece: &Piece) -> bool {
        let part = self.steps.iter().find_map(|step| step.part);
        part.is_some_and(|part| matches!(piece.parts[part].form, Form::Revolved(_)))
    }

    /// Whether it is done once for all groups of an order: it is not about the pieces.
    pub fn is_once(&self) -> bool {
        matches!(self.steps[0].kind, StepKind::Order | StepKind::Approve)
    }

    /// May be laid aside and taken up again.
    pub fn may_pause(&self) -> bool {
        self.steps.len() == 1 && self.steps[0].kind.may_pause()
    }

    /// What it is called: its steps, one after the other.
    pub fn name(&self) -> String {
        let names: Vec<&str> = self.steps.iter().map(|step| step.name.as_str()).collect();
        names.join(", then ")
    }
}
