//! The room, checked and brought into our units.

use crate::climate_log;
use crate::file::scalars::{Share, Temperature};
use crate::file::settings::RoomFile;
use crate::resolve::bounds::Desk;
use crate::settings::{Air, Climate, Room};
use crate::units::shorten;
use crate::{Diagnostic, FieldPath};

/// Humidity where none is typed, % (common practice with resins: about 50 %).
const USUAL_PCT: f64 = 50.0;

/// Volume of a small room, m³, and its air changes an hour with door and window shut (a choice; from
/// memory 0.2 to 1).
const USUAL_M3: f64 = 30.0;
const USUAL_CHANGES: f64 = 0.5;

/// The room; where nothing is typed it is as warm as `usual_c`.
pub(super) fn room(file: &RoomFile, path: &FieldPath, usual_c: f64, on: &mut Desk<'_, '_>) -> Room {
    Room {
        climate: climate(file, path, usual_c, on),
        volume_m3: file
            .volume
            .map_or(USUAL_M3, |volume| on.space(&path.key("volume"), volume, (1.0, 100_000.0))),
        air_changes_per_h: file.air_changes_per_h.unwrap_or(USUAL_CHANGES),
        air_stated: file.volume.is_some() && file.air_changes_per_h.is_some(),
    }
}

fn climate(file: &RoomFile, path: &FieldPath, usual_c: f64, on: &mut Desk<'_, '_>) -> Climate {
    let constant = file.temperature.is_some() || file.humidity.is_some();
    let warmths = (file.day.is_some(), file.night.is_some());
    let damps = (file.day_humidity.is_some(), file.night_humidity.is_some());
    let swinging = warmths != (false, false) || damps != (false, false);
    if usize::from(constant) + usize::from(swinging) + usize::from(file.log.is_some()) > 1 {
        on.bench.error_hint(
            path,
            "the room is described in more than one way",
            "keep `temperature` and `humidity`, or `day`, `night` and their humidities, or `log`",
        );
    }
    if let Some(log) = &file.log {
        return logged(&log.0, &path.key("log"), usual_c, on);
    }
    if !swinging {
        let (warmth, damp) = (("temperature", file.temperature), ("humidity", file.humidity));
        return Climate::Constant(air(warmth, damp, usual_c, path, on));
    }
    let pairs = [("day", "night", warmths), ("day_humidity", "night_humidity", damps)];
    for (one, other, (has_one, has_other)) in pairs {
        if has_one != has_other {
            let (there, missing) = if has_one { (one, other) } else { (other, one) };
            on.bench.error_hint(
                &path.key(there),
                format!("`{there}` has no `{missing}` beside it"),
                format!("add `{missing}`, as a thermometer shows it at its time of day"),
            );
        }
    }
    let day = (("day", file.day), ("day_humidity", file.day_humidity));
    let night = (("night", file.night), ("night_humidity", file.night_humidity));
    Climate::DayNight {
        day: air(day.0, day.1, usual_c, path, on),
        night: air(night.0, night.1, usual_c, path, on),
    }
}

/// A key and what was typed for it.
type Typed<T> = (&'static str, Option<T>);

fn air(
    (warmth_key, warmth): Typed<Temperature>,
    (damp_key, damp): Typed<Share>,
    usual_c: f64,
    path: &FieldPath,
    on: &mut Desk<'_, '_>,
) -> Air {
    Air {
        temperature_c: warmth.map_or(usual_c, |typed| {
            on.temperature(&path.key(warmth_key), typed, climate_log::TEMPERATURE_C)
        }),
        humidity_pct: damp
            .map_or(USUAL_PCT, |typed| 100.0 * on.share(&path.key(damp_key), typed, 1.0)),
    }
}

fn logged(name: &str, path: &FieldPath, usual_c: f64, on: &mut Desk<'_, '_>) -> Climate {
    let read = match on.bench.art.text(name) {
        Ok(text) => climate_log::read(name, &text),
        Err(unread) => {
            let message = format!("`{}` cannot be read: {}", shorten(name), unread.why);
            let hint = "put the table beside the studio file, as text with commas between columns";
            Err(vec![Diagnostic::error(path.clone(), message).hint(hint)])
        }
    };
    match read {
        Ok(log) => Climate::Log(log),
        Err(faults) => {
            let at = |fault| Diagnostic { path: path.clone(), ..fault };
            on.bench.diagnostics.extend(faults.into_iter().map(at));
            Climate::Constant(Air { temperature_c: usual_c, humidity_pct: USUAL_PCT })
        }
    }
}
