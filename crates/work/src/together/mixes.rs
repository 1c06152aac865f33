//! Which pours may share a mix of resin, and how much of it may stand in one cup.

use super::clock::slots_down;
use super::unit::Unit;
use crate::StepKind;
use coats::cure::choices::CUP_MM;
use coats::cure::{Calibration, Model};
use coats::pot::{Filling, greatest_mass_g, runaway_mass_g, working_min};
use coats::pours::Pours;
use coats::room::RoomCourse;
use piece::Settings;
use schedule::{Mix, Slot};

/// Weighing and stirring, of the time for a pour, min (from a seller's guide: 6 of 20 min).
const STIR_MIN: f64 = 6.0;

/// What one cup of the studio's resin can serve.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Pot {
    stir: Slot,
    stands: Slot,
    most_tenth_ml: u32,
}

impl Pot {
    /// The largest mix that serves two pours and stays cool, in the usual cup of 70 mm and the studio's
    /// room, with whichever activation energy within the sheet's range is worst; `None` if none does.
    pub fn of(settings: &Settings, pours: &Pours) -> Option<Self> {
        let pour_min = settings.times.pour_min;
        if pour_min <= STIR_MIN {
            return None;
        }
        let room = RoomCourse::new(&settings.room, pours.pour_clock_min);
        let room_c = |min: f64| room.temperature_c(min);
        let fitted = &pours.calibration;
        let wanted_min = 2.0 * pour_min - STIR_MIN;
        let mut models: Vec<Model> = vec![fitted.likely];
        for model in [fitted.least, fitted.greatest] {
            if !models.contains(&model) {
                models.push(model);
            }
        }
        let mut most_g = f64::INFINITY;
        for model in &models {
            let with = Calibration { likely: *model, ..fitted.clone() };
            let works_g = greatest_mass_g(&with, CUP_MM, wanted_min, &room_c).ok()??;
            let cool_g = runaway_mass_g(&with, CUP_MM, &room_c).ok()??;
            most_g = most_g.min(works_g).min(cool_g);
        }
        let most_ml = (most_g / settings.resin.density_mixed_g_per_ml()).floor();
        let whole_g = most_ml * settings.resin.density_mixed_g_per_ml();
        let mut stands_min = f64::INFINITY;
        for model in &models {
            let filling = Filling::usual(whole_g);
            let works_min = working_min(model, &fitted.sheet, filling, &room_c).ok()?;
            stands_min = stands_min.min(works_min - STIR_MIN);
        }
        let stir = slots_down(STIR_MIN);
        let stands = slots_down(stands_min);
        (most_ml >= 1.0 && stands >= 1).then_some(Self {
            stir,
            stands,
            most_tenth_ml: (10.0 * most_ml) as u32,
        })
    }

    /// What a pour of so many ml for each piece may share; nothing if one cup does not even serve it
    /// alone.
    pub fn mix(&self, unit: &Unit<'_>, ml: f64, work: Slot) -> Option<Mix> {
        if unit.steps[0].kind != StepKind::Pour {
            return None;
        }
        let amount = (10.0 * ml * f64::from(unit.pieces)).ceil() as u32;
        let watch = slots_down(unit.watch_min());
        let used = work - self.stir - watch;
        let serves = amount <= self.most_tenth_ml && used >= 1 && used <= self.stands;
        serves.then_some(Mix {
            // One studio works with one resin.
            kind: 0,
            stir: self.stir,
            watch,
            stands: self.stands,
            amount,
            most: self.most_tenth_ml,
        })
    }
}
