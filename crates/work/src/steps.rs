//! The steps of a piece, generated from the stack of each part.
//!
//! Each part is walked in the order of its zones; what lies beneath decides how long to wait and
//! whether to sand first. Parts do not wait for each other except where the customer is asked, and
//! at the end.

use crate::how::How;
use crate::stack::{GLITTER_GLUE_MIN, OVER_GLITTER_MIN, PartRoad, Top};
use crate::{Step, StepKind, Steps, cautions};
use coats::Coats;
use piece::{PartRole, Piece, Settings};
use std::collections::{BTreeMap, BTreeSet};
use stones::{Stones, plan_setting};

/// Photographs and the question to the customer, hands-on, min (common practice, no source).
const APPROVE_MIN: f64 = 10.0;
/// For the customer's answer, min (common practice: a day).
pub(crate) const ANSWER_MIN: f64 = 1440.0;

/// The steps of a piece, if every recoat window is kept; [`crate::plan_work`] sands where hours miss
/// one.
pub fn plan_steps(piece: &Piece, settings: &Settings, coats: &Coats, stones: &Stones) -> Steps {
    let setting = &plan_setting(piece, settings, stones);
    steps_with_sanding(How { piece, settings, coats, stones, setting }, &BTreeSet::new())
}

/// The steps, with a sanding before each of these coats of resin.
pub(crate) fn steps_with_sanding(how: How, sanded: &BTreeSet<usize>) -> Steps {
    let (piece, settings) = (how.piece, how.settings);
    let mut road = Road { how, sanded, steps: Vec::new(), waits: Vec::new() };
    let order =
        road.add(StepKind::Order, "Settle the order and buy", settings.times.order_min, &[]);
    road.steps[order].set_up_min = settings.times.order_min;
    road.steps[order].how = road.how.order();

    let mut parts: Vec<PartRoad> =
        (0..piece.parts.len()).filter_map(|part| road.begin_part(part, order)).collect();
    for part in &mut parts {
        for zone in part.before_approval.clone() {
            road.zone(part, zone);
        }
    }
    // Parts with nothing but stones or resin on them have nothing to show yet: they go on meanwhile.
    let asked: Vec<(usize, f64)> = parts
        .iter()
        .filter(|part| part.shown)
        .map(|part| (part.last, road.before_photo_min(part)))
        .collect();
    let from_plan = asked.is_empty();
    let after = if from_plan { vec![(order, 0.0)] } else { asked };
    let approve = road.approve(&after, from_plan);
    for part in &mut parts {
        part.gate = (part.shown || from_plan).then_some(approve);
        for zone in part.after_approval.clone() {
            road.zone(part, zone);
        }
    }
    let packed_after = road.finish(&parts, approve);
    road.pack(&parts, packed_after);
    road.done()
}

/// The steps so far.
pub(crate) struct Road<'a> {
    pub how: How<'a>,
    /// Coats of resin before which the recoat window is missed, by their index.
    pub sanded: &'a BTreeSet<usize>,
    pub steps: Vec<Step>,
    /// For each step, the steps it waits for and how long, min.
    waits: Vec<BTreeMap<usize, f64>>,
}

impl Road<'_> {
    /// Adds a step that waits for others, each for so many min.
    pub fn add(
        &mut self,
        kind: StepKind,
        name: &str,
        hands_on_min: f64,
        after: &[(usize, f64)],
    ) -> usize {
        let mut waits = BTreeMap::new();
        for &(step, wait_min) in after {
            let wait = waits.entry(step).or_insert(0.0_f64);
            *wait = wait.max(wait_min);
        }
        self.waits.push(waits);
        self.steps.push(Step {
            kind,
            name: name.to_owned(),
            part: None,
            zone: None,
            coat: None,
            hands_on_min,
            set_up_min: 0.0,
            sitting_min: None,
            idle_min: 0.0,
            wait_min: 0.0,
            sand_after_min: None,
            turner_min: 0.0,
            at_once: false,
            after: Vec::new(),
            other_waits: Vec::new(),
            how: Vec::new(),
            cautions: Vec::new(),
        });
        self.steps.len() - 1
    }

    /// From the last step on a part until it may be photographed, min.
    fn before_photo_min(&self, part: &PartRoad) -> f64 {
        let settings = self.how.settings;
        match part.top {
            Top::Resin => (self.how.coats.waits.recoat_min.0 - settings.times.watch_min).max(0.0),
            Top::Glitter { wet: true } => {
                let held_min = self.how.coats.waits.recoat_min.0.max(OVER_GLITTER_MIN);
                (held_min - settings.times.watch_min).max(0.0)
            }
            Top::Paint => settings.paint.between_coats_min,
            _ => 0.0,
        }
    }

    fn approve(&mut self, after: &[(usize, f64)], from_plan: bool) -> usize {
        let step = self.add(StepKind::Approve, "Ask for the customer's yes", APPROVE_MIN, after);
        self.steps[step].set_up_min = APPROVE_MIN;
        self.steps[step].how = self.how.approve(from_plan);
        step
    }

    fn finish(&mut self, parts: &[PartRoad], gate: usize) -> usize {
        let settings = self.how.settings;
        let hard_min = (self.how.coats.waits.sandable_min - settings.times.watch_min).max(0.0);
        let mut after = vec![(gate, ANSWER_MIN)];
        for part in parts {
            let wait_min = match part.top {
                Top::Prepared | Top::Sanded => 0.0,
                Top::Paint => settings.paint.before_resin_min,
                Top::Resin | Top::Glitter { wet: true } => hard_min,
                Top::Glitter { wet: false } => GLITTER_GLUE_MIN,
                Top::Film => settings.times.vinyl_rest_min,
                Top::Stones => settings.glue.full_min,
            };
            after.push((part.last, wait_min));
        }
        let min = settings.times.finish_min;
        let step = self.add(StepKind::Finish, "Check, put together and photograph", min, &after);
        self.steps[step].how = self.how.finish();
        step
    }

    fn pack(&mut self, parts: &[PartRoad], finish: usize) {
        let (settings, piece) = (self.how.settings, self.how.piece);
        let glued =
            piece.parts.iter().any(|part| part.role == PartRole::Topper && part.seat.is_some());
        let mut after = vec![(finish, if glued { settings.glue.full_min } else { 0.0 })];
        let cured_min = (self.how.coats.waits.full_cure_min - settings.times.watch_min).max(0.0);
        after.extend(parts.iter().filter_map(|part| part.last_pour).map(|pour| (pour, cured_min)));
        let step = self.add(StepKind::Pack, "Pack", settings.times.pack_min, &after);
        self.steps[step].how = self.how.pack();
    }

    /// A step's own wait is the one before the first step that needs it; others are said apart.
    fn done(mut self) -> Steps {
        let has_body = self.how.piece.parts.iter().any(|part| part.role == PartRole::Body);
        let whole = has_body.then_some(PartRole::Body);
        for step in 0..self.steps.len() {
            for (&before, &wait_min) in &self.waits[step] {
                let first = (before + 1..self.steps.len())
                    .find(|later| self.waits[*later].contains_key(&before));
                if first == Some(step) {
                    self.steps[before].wait_min = wait_min;
                } else if (self.steps[before].wait_min - wait_min).abs() > f64::EPSILON {
                    self.steps[step].other_waits.push((before, wait_min));
                }
                self.steps[step].after.push(before);
            }
            let told = &mut self.steps[step];
            let role = told.part.map(|part| self.how.piece.parts[part].role);
            told.cautions = cautions::of(told.kind, role.or(whole));
        }
        Steps { steps: self.steps, waits: self.how.coats.waits }
    }
}
