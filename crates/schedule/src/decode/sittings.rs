//! Places a task that is done in several sittings.

use super::serial::Decoder;
use crate::book::{Sittings, Slot};
use crate::plan::Stretch;

impl Decoder<'_> {
    /// Places a task in sittings from a slot on; false if there is no room before the horizon.
    pub(super) fn place_sittings(&mut self, task: usize, from: Slot, only: Option<u32>) -> bool {
        let Some(rules) = self.compiled.sittings[task] else { return false };
        let mut best: Option<(Slot, u32)> = None;
        let mut trial = std::mem::take(&mut self.trial);
        let mut chosen = std::mem::take(&mut self.chosen);
        for &person in self.compiled.hands(task) {
            if only.is_some_and(|only| only != person) {
                continue;
            }
            let before = best.map_or(Slot::MAX, |(ends, _)| ends);
            let Some(ends) = self.sit(task, person, rules, from, before, &mut trial) else {
                continue;
            };
            best = Some((ends, person));
            std::mem::swap(&mut trial, &mut chosen);
        }
        if let Some((ends, person)) = best {
            let state = &mut self.now.state;
            for &sitting in &chosen {
                state.free[person as usize].take(sitting);
                state.free[person as usize].calm_around(sitting, rules.rest);
            }
            state.sat_at[task] = (state.sat.len() as u32, chosen.len() as u32);
            state.sat.extend_from_slice(&chosen);
            state.begins[task] = chosen.first().map_or(from, |sitting| sitting.0);
            state.ends[task] = ends;
            state.person[task] = person;
            state.placed[task] = true;
            state.occupy(self.compiled, task, state.begins[task]);
        }
        (self.trial, self.chosen) = (trial, chosen);
        best.is_some()
    }

    /// The sittings of one person, ending before a slot; `None` if that cannot be.
    fn sit(
        &self,
        task: usize,
        person: u32,
        rules: Sittings,
        from: Slot,
        before: Slot,
        into: &mut Vec<Stretch>,
    ) -> Option<Slot> {
        into.clear();
        let free = &self.now.state.free[person as usize];
        let mut left = self.compiled.work[task].max(1);
        let mut at = from;
        while left > 0 {
            let least = rules.set_up + rules.least.min(left).max(1);
            let most = rules.longest.max(least).min(rules.set_up + left);
            let (begins, ends) = free.find_sitting(at, least, most)?;
            if ends >= before {
                return None;
            }
            into.push((begins, ends));
            left -= ends - begins - rules.set_up;
            at = ends + rules.rest;
        }
        into.last().map(|sitting| sitting.1)
    }
}
