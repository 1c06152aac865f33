//! Laying film where the wall is curved both ways, in words.

use super::How;
use crate::words::{count, length};
use coats::FilmLie;

impl How<'_> {
    /// How film goes on where the wall is curved both ways; nothing if it hardly strains.
    pub(super) fn lying(&self, lie: &FilmLie) -> Option<String> {
        // Less than a hair over the length of a hand, which no one feels.
        let felt = lie.strain.taut() > 0.001;
        let stretch = format!(
            "The wall is curved both ways here: lay it without creases by stretching it towards its edges, by up to {:.1} %.",
            100.0 * lie.strain.taut()
        );
        let cuts = (lie.cuts > 0).then(|| {
            let wedge = if lie.wedge_mm > 0.05 {
                format!(
                    " (the widest wedge cut out is {})",
                    length(self.settings, lie.wedge_mm)
                )
            } else {
                String::new()
            };
            format!(
                "It has {}{wedge}: lay the middle first, then bring the sides of each cut together edge to edge.",
                count(lie.cuts, "relief cut")
            )
        });
        match (felt, cuts) {
            (true, Some(cuts)) => Some(format!("{stretch} {cuts}")),
            (true, None) => Some(stretch),
            (false, cuts) => cuts,
        }
    }
}
