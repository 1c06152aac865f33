//! One pour: what stays on, how it levels, and how long its mix can be worked.

use super::Bench;
use crate::cure::{Plan, plan};
use crate::mixing::{self, RatioError};
use crate::pot::heat_caution;
use crate::turner::bubble::{HeatWindow, heat_window, least_leaving_mm};
use crate::turner::level::{drift_mm, most_tilt_rad, standing_s};
use crate::turner::{
    Allowed, Along, Edge, Liquid, TurnedCoat, Turning, allowed, allowed_along, edge, flat, ripple,
};
use crate::{Coat, Mix};
use piece::{Diagnostic, FieldPath, Finish};
use std::f64::consts::FRAC_PI_3;

/// A film may creep so far along the axis until it gels, mm (our choice: a band of bare wall that wide
/// is masked anyway).
const CREEP_MM: f64 = 5.0;
/// Angle at the edge of a level part at which resin begins to run over it, rad (from memory: 50 to 70
/// degrees on smooth plastic and paint; a sharp edge holds more).
const EDGE_RAD: f64 = FRAC_PI_3;

/// One pour, poured at the studio's usual hour.
#[derive(Debug, Clone, PartialEq)]
pub struct Pour {
    /// Index into [`crate::Coats::coats`].
    pub coat: usize,
    /// Durations after this pour, as ranges.
    pub plan: Plan,
    /// How far the scale may throw its ratio off.
    pub ratio: RatioError,
    /// What the turner does with it; `None` for a part that lies level.
    pub on_turner: Option<OnTurner>,
    /// Where a fat ring stands beside rim and tape.
    pub edge: Edge,
    /// The longest marks of glove or brush that level out before it gels, mm; `None` if none do.
    pub levels_mm: Option<f64>,
    /// The thickest that a level part holds before it runs over its edge, mm; `None` on the turner.
    pub dome_mm: Option<f64>,
    /// When bubbles at the surface still burst by heat.
    pub heat: HeatWindow,
    /// The smallest bubble that leaves by itself, mm; `None` if none does.
    pub bubble_mm: Option<f64>,
}

/// A coat on the turner.
#[derive(Debug, Clone, PartialEq)]
pub struct OnTurner {
    /// What stays on as time goes on, where least does.
    pub allowed: Allowed,
    /// What stays on along the wall, at the moment at which least does.
    pub along: Along,
    /// How far the coat creeps along the axis until it gels, on this turner, mm.
    pub creep_mm: f64,
    /// How level the axis must be for it to creep at most 5 mm, rad; `None` if it never creeps so far.
    pub level_rad: Option<f64>,
    /// How long the turner may stand just after the pour, s, until a tenth has run off the top.
    pub standing_s: f64,
}

impl Bench<'_> {
    pub(super) fn pour(
        &self,
        index: usize,
        coat: &Coat,
        mix: &Mix,
        notes: &mut Vec<Diagnostic>,
    ) -> Result<Pour, Diagnostic> {
        let resin = &self.settings.resin;
        let room_c = |min: f64| self.room.temperature_c(min);
        let plan = plan(self.calibration, &room_c, mix.mixed_g())?;
        let until_min = plan.tack_free.min;
        // The last bits of the solver may differ between machines.
        let settled = |pa_s: f64| (pa_s * 1e9).round() * 1e-9;
        let viscosity =
            |min: f64| self.course.at(min, &room_c).viscosity_pa_s.map_or(f64::INFINITY, settled);
        let liquid = Liquid {
            density_g_per_ml: resin.density_mixed_g_per_ml(),
            surface_tension_n_per_m: resin.surface_tension_mn_per_m / 1000.0,
        };
        let fluidity = plan.fluidity_per_pa;
        let zone = &self.piece.zones[coat.zone];
        let path = FieldPath::root().key("zone").index(coat.zone);
        let path = match zone.finish {
            Finish::Resin { .. } => path.key("resin").key("film"),
            _ => path.key("glitter").key("layers"),
        };
        let on_turner = self.on_turner(coat, liquid, &viscosity, until_min, fluidity);
        let first = coat.number == 1;
        if let (Some(on_turner), true) = (&on_turner, first) {
            notes.extend(on_turner.allowed.note(&zone.name, &path));
            notes.extend(creeps(on_turner, &zone.name, &path));
        }
        let dome_mm = on_turner.is_none().then(|| flat::most_dome_mm(&liquid, EDGE_RAD));
        if let Some(dome_mm) = dome_mm.filter(|dome_mm| first && coat.film_mm > *dome_mm) {
            notes.push(runs_over(coat.film_mm, dome_mm, &zone.name, &path));
        }
        if first {
            notes.extend(mixing::scale_note(mix, resin, self.settings.scale));
            notes.extend(heat_caution(self.calibration, mix.mixed_g(), self.runaway_g, &room_c)?);
        }
        let levels =
            if on_turner.is_some() { ripple::longest_gone_mm } else { flat::longest_gone_mm };
        Ok(Pour {
            coat: index,
            ratio: mixing::weighed(mix, self.settings.scale),
            edge: edge(&liquid, coat.film_mm, fluidity),
            levels_mm: levels(&liquid, coat.film_mm, ripple::GONE, fluidity),
            dome_mm,
            heat: heat_window(&viscosity, until_min),
            bubble_mm: on_turner
                .is_some()
                .then(|| {
                    least_leaving_mm(
                        &liquid,
                        coat.film_mm,
                        viscosity(0.0),
                        self.settings.turner.rpm,
                    )
                })
                .flatten(),
            on_turner,
            plan,
        })
    }

    fn on_turner(
        &self,
        coat: &Coat,
        liquid: Liquid,
        viscosity: &dyn Fn(f64) -> f64,
        until_min: f64,
        fluidity: f64,
    ) -> Option<OnTurner> {
        let turner = &self.settings.turner;
        let shaped = &self.shape.zones[coat.zone];
        let (from, to) =
            shaped.area.along_range_mm().unwrap_or_else(|| shaped.surface.along_range_mm());
        let planned = |along_mm: f64| {
            if from - 1e-6 <= along_mm && along_mm <= to + 1e-6 { coat.film_mm } else { 0.0 }
        };
        let pour = Turning { rpm: turner.rpm, liquid, viscosity_pa_s: viscosity(0.0) };
        let along = allowed_along(&shaped.surface, &pour, &planned)?;
        let radius_mm = along.worst.radius_mm;
        // A coat that only lies on what faces along the axis does not turn.
        if along.worst.planned_mm <= 0.0 {
            return None;
        }
        let allowed = allowed(
            &TurnedCoat {
                rpm: turner.rpm,
                safe_share: turner.share,
                liquid,
                viscosity,
                radius_mm,
                film_mm: coat.film_mm,
                area_mm2: coat.area_mm2,
            },
            until_min,
        );
        let tightest = Turning { viscosity_pa_s: viscosity(allowed.tightest.min), ..pour };
        let along = allowed_along(&shaped.surface, &tightest, &planned).unwrap_or(along);
        Some(OnTurner {
            creep_mm: drift_mm(&liquid, coat.film_mm, turner.out_of_level_rad, fluidity),
            level_rad: most_tilt_rad(&liquid, coat.film_mm, CREEP_MM, fluidity),
            standing_s: standing_s(&liquid, coat.film_mm, radius_mm, viscosity(0.0)),
            allowed,
            along,
        })
    }
}

/// A warning where a coat creeps too far on this turner.
fn creeps(on_turner: &OnTurner, name: &str, path: &FieldPath) -> Option<Diagnostic> {
    if on_turner.creep_mm <= CREEP_MM {
        return None;
    }
    let level_deg = on_turner.level_rad?.to_degrees();
    let message = format!(
        "the coat of `{name}` creeps {:.0} mm along the axis until it gels, as far as the turner is out of level",
        on_turner.creep_mm
    );
    Some(
        Diagnostic::warning(path.clone(), message)
            .hint(format!(
                "Level the axis, not the wall, to {level_deg:.2} deg or better, and write in `[turner]` what you reach"
            ))
            .hint("Plan a thinner coat: how far it creeps goes with the square of its thickness"),
    )
}

/// A warning of a coat that a level part does not hold.
fn runs_over(film_mm: f64, dome_mm: f64, name: &str, path: &FieldPath) -> Diagnostic {
    let message = format!(
        "the coat of `{name}` is planned {film_mm:.2} mm thick, and its edge holds about {dome_mm:.1} mm before it runs over"
    );
    Diagnostic::warning(path.clone(), message).hint(
        "Pour thinner coats, or put a rim of tape round it and pull that while the resin is soft",
    )
}
