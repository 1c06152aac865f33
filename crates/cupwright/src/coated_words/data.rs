//! The coats of a piece as data.

use super::stack::{named, on_the_piece};
use super::{Coated, durations};
use coats::cure::Duration;
use serde_json::{Value, json};
use work::StepKind;

/// Everything that `coats` tells, for a script.
pub fn json(coated: &Coated) -> Value {
    let range = |duration: &Duration| json!({ "min": duration.min, "least_min": duration.least_min, "most_min": duration.most_min });
    let pours = coated.coats.pours.as_ref().map(|pours| {
        let each = pours.pours.iter().map(|pour| {
            let coat = &coated.coats.coats[pour.coat];
            let level_rad = pour.on_turner.as_ref().and_then(|on| on.level_rad);
            let level_deg = level_rad.map(f64::to_degrees);
            json!({
                "zone": coated.piece.zones[coat.zone].name,
                "coat": coat.number,
                "of": coat.of,
                "film_mm": coat.film_mm,
                "area_mm2": coat.area_mm2,
                "working": range(&pour.plan.working),
                "pot_life": range(&pour.plan.pot_life),
                "ratio_off": pour.ratio.worst(),
                "share_of_what_stays_on": pour.on_turner.as_ref().map(|on| on.allowed.share),
                "safe_film_mm": pour.on_turner.as_ref().map(|on| on.allowed.safe_film_mm),
                "safe_rpm": pour.on_turner.as_ref().map(|on| on.allowed.safe_rpm),
                "creep_mm": pour.on_turner.as_ref().map(|on| on.creep_mm),
                "level_deg": level_deg,
                "standing_s": pour.on_turner.as_ref().map(|on| on.standing_s),
                "levels_mm": pour.levels_mm,
                "bubble_mm": pour.bubble_mm,
                "ring_at_mm": pour.edge.ridge_at_mm,
                "ring_mm": pour.edge.ridge_mm,
                "heat_until_min": pour.heat.until_min(),
            })
        });
        let lines = pours.calibration.fit.lines.iter().map(|line| {
            json!({ "key": line.key, "unit": line.unit, "asked": line.asked, "met": line.met })
        });
        let likely = pours.pours.first().map(|pour| {
            let entries = durations(&pour.plan).map(|(name, d)| (name.replace(' ', "_"), range(d)));
            entries.into_iter().collect::<serde_json::Map<String, Value>>()
        });
        json!({
            "sheet": lines.collect::<Vec<_>>(),
            "pour_clock_min": pours.pour_clock_min,
            "after_a_pour": likely,
            "softens_c": pours.pours.first().map(|pour| pour.plan.softens_c),
            "taken_as_usual": coated.settings.resin.usual,
            "greatest_mix_g": pours.greatest_mix_g,
            "runaway_g": pours.runaway_g,
            "least_mix_g": pours.least_mix_g,
            "pours": each.collect::<Vec<_>>(),
        })
    });
    let waits = &coated.coats.waits;
    let steps = coated.steps.steps.iter().filter(|step| on_the_piece(step)).map(|step| {
        json!({
            "name": named(coated, step),
            "hands_on_min": (step.kind != StepKind::Set).then_some(step.hands_on_min),
            "turner_min": step.turner_min,
            "wait_min": step.wait_min,
            "sand_after_min": step.sand_after_min,
        })
    });
    let checks = coated.coats.fits.checks.iter().map(|check| {
        json!({
            "part": coated.piece.parts[check.part].name,
            "what": check.kind.name(),
            "coated_mm": check.coated_mm,
            "room_mm": check.room_mm,
            "fits": check.fits(),
        })
    });
    json!({
        "waits": {
            "recoat_from_min": waits.recoat_min.0,
            "recoat_to_min": waits.recoat_min.1,
            "turning_min": waits.turning_min,
            "sandable_min": waits.sandable_min,
            "full_cure_min": waits.full_cure_min,
        },
        "resin": pours,
        "steps": steps.collect::<Vec<_>>(),
        "fits": checks.collect::<Vec<_>>(),
        "buried": coated.coats.buried.iter().map(|(zone, plan)| json!({
            "zone": coated.piece.zones[*zone].name,
            "clear_coats": plan.clear(),
            "over_flakes_mm": plan.over_peaks_mm,
        })).collect::<Vec<_>>(),
        "edges": coated.coats.edges.iter().map(|edge| json!({
            "zone": coated.piece.zones[edge.zone].name,
            "step_mm": edge.step_mm,
            "film_mm": edge.film_mm,
            "clear_coats": edge.burial.coats,
        })).collect::<Vec<_>>(),
        "air": coated.coats.air.days.iter().map(|day| json!({
            "work": day.work,
            "peak_of_limits": day.report.peak.0,
            "near_of_limits": day.report.near,
            "shift_of_limits": day.report.shift,
            "explosive_share": day.report.explosive,
            "resin_vapour_mg_m3": day.report.unlisted_mg_m3,
        })).collect::<Vec<_>>(),
        "dust": coated.coats.air.dust.as_ref().map(|dust| json!({
            "near_mg_m3": dust.near_mg_m3.0,
            "near_respirable_mg_m3": dust.near_mg_m3.1,
        })),
    })
}
