//! The line of words above each sheet of a cut file.

use crate::Plan;
use crate::drawing::{Anchor, GUIDE, Ink, Layer, Letters, Mark};
use crate::words::percent;
use coats::{CutPlan, CutSheet};
use glam::DVec2;

/// Height of its capitals, mm, and how far above the sheet it stands.
const CAPITAL_MM: f64 = 2.6;
const ABOVE_MM: f64 = 3.0;

/// What is said of a sheet.
pub(super) struct Note<'a> {
    pub(super) plan: &'a Plan,
    pub(super) cutting: &'a CutPlan,
    pub(super) sheet: &'a CutSheet,
    /// Its number.
    pub(super) first: u32,
}

impl Note<'_> {
    pub(super) fn layer(&self, letters: &Letters, corner: DVec2) -> Layer {
        let last = self.first + self.sheet.times - 1;
        let (id, title) = if last == self.first {
            (format!("note-{}", self.first), format!("Words about sheet {last}, not cut"))
        } else {
            (
                format!("note-{}-to-{last}", self.first),
                format!("Words about sheets {} to {last}, not cut", self.first),
            )
        };
        let mut layer = Layer::new(id, title);
        let at = corner - DVec2::new(0.0, ABOVE_MM);
        let words = letters.write(&self.words(last), CAPITAL_MM, Anchor::Start, at, 0.0);
        layer.marks.push(Mark::path(words, Ink::fill(GUIDE)));
        layer
    }

    fn words(&self, last: u32) -> String {
        let settings = &self.plan.settings;
        let length = |mm: f64| piece::lengths::show(mm, settings.lengths);
        let times = self.sheet.times;
        let which = match times {
            1 => format!("Sheet {last} of {}", self.cutting.count()),
            _ => format!("Sheets {} to {last} of {}, all alike", self.first, self.cutting.count()),
        };
        let size =
            format!("{} by {}", length(self.cutting.width_mm), length(self.cutting.height_mm));
        let mirrored =
            self.sheet.pieces.iter().any(|laid| self.plan.coats.films[laid.film].mirrored);
        let mut words = format!(
            "{which}, {size}: used down to {}, of which {} is waste.",
            length(self.sheet.length_mm),
            percent((100.0 * self.cutting.waste_of(self.sheet)).round() / 100.0)
        );
        if times > 1 {
            words.push_str(&format!(" Cut {times} times."));
        }
        if mirrored {
            words.push_str(" MIRRORED, to cut from the back: do not mirror it again.");
        }
        words
    }
}
