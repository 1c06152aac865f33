//! Laying film where the wall is curved both ways, in words.

use super::How;
use super::spot::turn;
use crate::words::{count, length};
use coats::FilmLie;

impl How<'_> {
    /// How film goes on where the wall is curved both ways; nothing if it hardly strains.
    pub(super) fn lying(&self, lie: &FilmLie) -> Option<String> {
        // Less than a hair over the length of a hand, which no one feels.
        let felt = lie.strain.taut() > 0.001;
        let strain = &lie.strain;
        let place = |along_mm: f64, around_rad: f64| {
            format!("{} from the rim at {}", length(self.settings, along_mm), turn(around_rad))
        };
        let stretch = format!(
            "The wall is curved both ways here: lay it without creases by stretching it, by up to {:.1} %. Laid evenly it stretches most {}, by {:.1} %, and would crease first {}, squeezed by {:.1} %.",
            100.0 * strain.taut(),
            place(strain.stretch_at.along_mm, strain.stretch_at.around),
            100.0 * strain.stretch,
            place(strain.squeeze_at.along_mm, strain.squeeze_at.around),
            100.0 * strain.squeeze
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
