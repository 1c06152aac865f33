//! How a piece is turned while its stones are set.

use super::How;
use crate::words::{list, span};
use std::collections::BTreeSet;

impl How<'_> {
    /// How the piece is turned while the stones of a zone are set, and how long that makes wait.
    pub(super) fn turning(&self, zone: usize, (first, last): (u32, u32)) -> Vec<String> {
        let part = self.piece.zones[zone].part;
        let glue = &self.settings.glue;
        let on_part = || self.setting.patches.iter().filter(|patch| patch.part == part);
        let mut how = Vec::new();
        let between: BTreeSet<usize> = on_part()
            .filter(|patch| (first..=last).contains(&patch.number) && patch.zone != zone)
            .map(|patch| patch.zone)
            .collect();
        if !between.is_empty() {
            let names: Vec<String> =
                between.iter().map(|&other| self.piece.zones[other].name.clone()).collect();
            how.push(format!("Patches of {} come in between: follow the numbers.", list(&names)));
        }
        if on_part().any(|patch| patch.zone == zone && patch.up_rad.is_some()) {
            how.push(format!(
                "Keep the patch at work facing up; a patch set less than {} ago may lean no more than {:.0} deg from that and may not lie in the rest.",
                span(glue.set_min),
                glue.tilt_rad.to_degrees()
            ));
        }
        let idle_min: f64 =
            on_part().filter(|patch| patch.zone == zone).map(|patch| patch.wait_before_min).sum();
        if idle_min >= 0.5 {
            how.push(format!(
                "For the glue to hold before the next turn you wait {} in all, which the timetable counts; set stones on another part meanwhile if one is ready.",
                span(idle_min.round())
            ));
        }
        how
    }
}
