//! Whether air and surface are fit for a pour.

use piece::settings::Air;
use piece::{Diagnostic, FieldPath};

/// Magnus formula over water, −45 to 60 °C: b and c in °C (from memory; agrees within 0.02 K with the
/// steam pressure of IAPWS between 15 and 30 °C).
const MAGNUS_B: f64 = 17.62;
const MAGNUS_C: f64 = 243.12;
/// Air is never drier than this, %; the formula has no dew point for none at all.
const DRIEST_PCT: f64 = 0.1;

/// Readings of a thermometer may be this far off, K (our choice).
pub(crate) const SLACK_K: f64 = 0.05;

/// A surface is this much warmer than the dew point, and air no damper than this: coatings practice
/// with ISO 8502-4, as quoted; the standard itself gives the probability of condensation.
const ABOVE_DEW_K: f64 = 3.0;
const MOST_HUMIDITY_PCT: f64 = 85.0;

/// Below and above these amine blush is to be reckoned with (common practice, no source).
const BLUSH_BELOW_C: f64 = 18.0;
const BLUSH_ABOVE_PCT: f64 = 70.0;

/// Dew point of air, °C.
pub fn dew_point_c(temperature_c: f64, humidity_pct: f64) -> f64 {
    let humidity = humidity_pct.clamp(DRIEST_PCT, 100.0) / 100.0;
    let gamma = libm::log(humidity) + MAGNUS_B * temperature_c / (MAGNUS_C + temperature_c);
    MAGNUS_C * gamma / (MAGNUS_B - gamma)
}

/// What air and surface mean for a pour.
#[derive(Debug, Clone, PartialEq)]
pub struct PourAir {
    /// Dew point, °C.
    pub dew_point_c: f64,
    /// The surface must be at least this warm, °C: by the dew point and by the resin.
    pub surface_least_c: f64,
    /// Nothing here forbids a pour.
    pub fit: bool,
    /// Amine blush is likely enough to wash the coat before the next.
    pub blush: bool,
    /// What to do, in words.
    pub notes: Vec<Diagnostic>,
}

fn note(message: String, hint: &str) -> Diagnostic {
    Diagnostic::warning(FieldPath::root().key("room"), message).hint(hint)
}

/// Judges air and the temperature of the surface, °C, for a resin that bears `resin_least_c` at least.
pub fn judge(air: Air, surface_c: f64, resin_least_c: f64) -> PourAir {
    let Air { temperature_c, humidity_pct } = air;
    let dew_point_c = dew_point_c(temperature_c, humidity_pct);
    let by_dew_c = dew_point_c + ABOVE_DEW_K;
    let too_cold = temperature_c.min(surface_c) < resin_least_c - SLACK_K;
    let wet = surface_c < by_dew_c;
    let too_damp = humidity_pct > MOST_HUMIDITY_PCT;
    let blush = temperature_c < BLUSH_BELOW_C || humidity_pct > BLUSH_ABOVE_PCT;
    let mut notes = Vec::new();
    if too_cold {
        notes.push(note(
            format!(
                "no pour at {:.1} °C: this resin needs {resin_least_c:.1} °C at least, cup and air",
                temperature_c.min(surface_c)
            ),
            "Warm the room first, and keep it so until the coat is hard; vent gas heaters outside, their damp and carbon dioxide spoil the surface",
        ));
    }
    if wet {
        notes.push(note(
            format!(
                "a surface of {surface_c:.1} °C is too near the dew point of {dew_point_c:.1} °C: it must be {by_dew_c:.1} °C at least"
            ),
            "Warm cup and room, or dry the air, until the surface is 3 °C above the dew point; a cup from a cold place is left to warm up first",
        ));
    }
    if too_damp {
        notes.push(note(
            format!("the air has {humidity_pct:.0} % humidity: more than 85 % is too damp to coat"),
            "Dry the air, and wait until the hygrometer shows less",
        ));
    }
    if blush {
        notes.push(note(
            format!(
                "amine blush, a waxy film, is likely at {temperature_c:.1} °C and {humidity_pct:.0} % humidity (common practice: below 18 °C or above 70 %)"
            ),
            "Wash each coat with plain warm water and a pad, dry it and sand it before the next; the next coat does not hold on the film",
        ));
    }
    PourAir {
        dew_point_c,
        surface_least_c: by_dew_c.max(resin_least_c),
        fit: !(too_cold || wet || too_damp),
        blush,
        notes,
    }
}
