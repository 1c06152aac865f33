//! The first steps on a part: made ready, and masked where a coat ends.

use crate::StepKind;
use crate::stack::{PartRoad, Top};
use crate::steps::Road;
use piece::Finish;

/// A day, min.
const DAY_MIN: f64 = 1440.0;

impl Road<'_> {
    /// Prepares and masks a part; `None` if nothing is laid on it.
    pub fn begin_part(&mut self, part: usize, order: usize) -> Option<PartRoad> {
        let piece = self.how.piece;
        let zones: Vec<usize> =
            (0..piece.zones.len()).filter(|&zone| piece.zones[zone].part == part).collect();
        let is = |zone: usize, test: fn(&Finish) -> bool| test(&piece.zones[zone].finish);
        zones.first()?;
        let decor = zones.iter().rposition(|&zone| {
            is(zone, |f| {
                matches!(f, Finish::Paint { .. } | Finish::Glitter { .. } | Finish::Vinyl { .. })
            })
        });
        let first_stones =
            zones.iter().position(|&zone| is(zone, |f| matches!(f, Finish::Stones(_))));
        let cut = decor.map_or(first_stones.unwrap_or(zones.len()), |last| last + 1);
        let (before, after) = zones.split_at(cut);
        let name = &piece.parts[part].name;
        let prepare_min = self.how.settings.times.prepare_min;
        let delivery_min = f64::from(self.how.settings.times.delivery_days) * DAY_MIN;
        let prepare = self.add(
            StepKind::Prepare,
            &format!("Prepare {name}"),
            prepare_min,
            &[(order, delivery_min)],
        );
        self.steps[prepare].part = Some(part);
        self.steps[prepare].how = self.how.prepare(part);
        let mut road = PartRoad {
            part,
            top: Top::Prepared,
            last: prepare,
            last_pour: None,
            gate: None,
            shown: decor.is_some(),
            before_approval: before.to_vec(),
            after_approval: after.to_vec(),
        };
        let coated: Vec<usize> = zones
            .iter()
            .copied()
            .filter(|&zone| {
                is(zone, |f| {
                    matches!(
                        f,
                        Finish::Paint { .. } | Finish::Glitter { .. } | Finish::Resin { .. }
                    )
                })
            })
            .collect();
        if !coated.is_empty() {
            let mask_min = self.how.settings.times.mask_min;
            let mask =
                self.add_on(&mut road, StepKind::Mask, &format!("Mask {name}"), mask_min, 0.0);
            self.steps[mask].how = self.how.mask(part, &coated);
        }
        Some(road)
    }
}
