//! The air of the days on which a piece gives something off: painting, pouring, sanding, gluing.

use super::{
    AirReport, Release, RoomAir, Sanding, SandingDust, advice, paint_releases, report,
    resin_release, sanding_dust, step_releases,
};
use crate::{Coat, Matter};
use piece::settings::SolventStep;
use piece::{Diagnostic, Finish, Piece, Settings};

/// The air of one kind of day.
#[derive(Debug, Clone, PartialEq)]
pub struct AirDay {
    /// What is done, such as `painting`.
    pub work: &'static str,
    /// What gets into the air, and how it stands against the limits.
    pub report: AirReport,
    /// What to do about it.
    pub notes: Vec<Diagnostic>,
}

/// The air of all kinds of days, and the dust of sanding.
#[derive(Debug, Clone, PartialEq)]
pub struct PieceAir {
    /// Days on which something gets into the air.
    pub days: Vec<AirDay>,
    /// The largest sanding between coats; `None` if nothing is sanded.
    pub dust: Option<SandingDust>,
}

/// What a piece gives off, all copies of it made together: every coat of paint on one day, the largest
/// pour on another. `gel_min` is how long after a pour the resin gels.
pub(crate) fn air_of(piece: &Piece, settings: &Settings, coats: &[Coat], gel_min: f64) -> PieceAir {
    let copies = f64::from(piece.quantity.max(1));
    let mut painting = Vec::new();
    let mut at_min = 0.0;
    for coat in coats {
        let Matter::Paint { wet_ml, .. } = coat.matter else { continue };
        if painting.is_empty() {
            painting.extend(used(settings, SolventStep::Wipe, 0.0, copies));
        }
        let dries_min = settings.paint.between_coats_min;
        painting.extend(paint_releases(wet_ml * copies, &settings.paint, at_min, dries_min));
        painting.extend(used(settings, SolventStep::Paint, at_min, copies));
        at_min += settings.times.paint_coat_min * copies + dries_min;
    }
    painting.extend(ended(settings, at_min, !painting.is_empty()));

    let poured = coats.iter().filter_map(|coat| match &coat.matter {
        Matter::Resin(mix) => Some(mix.mixed_ml()),
        Matter::Paint { .. } | Matter::Glitter { .. } => None,
    });
    let most_ml = poured.fold(0.0, f64::max) * copies;
    let mut pouring = Vec::new();
    if most_ml > 0.0 {
        pouring.extend(used(settings, SolventStep::Wipe, 0.0, copies));
        pouring.push(resin_release(most_ml, settings.resin.voc_g_per_l, 0.0, gel_min));
        let min = settings.times.pour_min * copies;
        pouring.extend(ended(settings, min, true));
    }

    let stones = piece.zones.iter().any(|zone| matches!(zone.finish, Finish::Stones(_)));
    let gluing = if stones { used(settings, SolventStep::Glue, 0.0, copies) } else { Vec::new() };

    let room = RoomAir::from(&settings.room);
    let days = [("painting", painting), ("pouring", pouring), ("gluing stones", gluing)];
    let days = days.into_iter().filter(|(_, releases)| releases.iter().any(|one| one.mass_g > 0.0));
    let days = days.map(|(work, releases)| AirDay {
        work,
        report: report(room, &releases, &settings.air_limits),
        notes: advice(room, &releases, &settings.air_limits),
    });
    let sanded = coats.iter().filter(|coat| matches!(coat.matter, Matter::Resin(_)));
    let dust = sanded.map(|coat| coat.area_mm2).reduce(f64::max).map(|area_mm2| {
        let lasts_min = settings.times.sand_min;
        let depth_mm = settings.glitter.sanding_mm;
        sanding_dust(&Sanding { area_mm2, depth_mm, lasts_min, wet: false }, room)
    });
    PieceAir { days: days.collect(), dust }
}

/// Tools are cleaned when all is done, once for all copies.
fn ended(settings: &Settings, at_min: f64, any: bool) -> Vec<Release> {
    if any { step_releases(&settings.solvents, SolventStep::Clean, at_min) } else { Vec::new() }
}

/// What a step gives off for all copies.
fn used(settings: &Settings, step: SolventStep, at_min: f64, copies: f64) -> Vec<Release> {
    let one = step_releases(&settings.solvents, step, at_min).into_iter();
    one.map(|release| Release { mass_g: release.mass_g * copies, ..release }).collect()
}
