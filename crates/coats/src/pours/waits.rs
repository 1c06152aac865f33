//! How long resin must be left, whenever in the maker's hours it is poured.

use crate::cure::{Calibration, SheetTimes, sheet_times};
use crate::room::{RoomCourse, clock};
use piece::Diagnostic;
use piece::Settings;
use piece::settings::{Climate, ResinProduct};
use std::collections::BTreeSet;

/// Pours are tried at clock times so far apart, min.
const EVERY_MIN: u16 = 180;

/// What a timetable needs to know of a resin in its room, min after the pour. Whole minutes, rounded
/// to the safe side.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Waits {
    /// The next coat bonds without sanding from, to.
    pub recoat_min: (f64, f64),
    /// Keep turning for.
    pub turning_min: f64,
    /// Hard enough to sand.
    pub sandable_min: f64,
    /// Full cure.
    pub full_cure_min: f64,
}

impl Waits {
    /// What the sheet says, at the temperature of the sheet.
    pub fn of_sheet(resin: &ResinProduct) -> Self {
        Self {
            recoat_min: resin.recoat_min,
            turning_min: resin.turning_min,
            sandable_min: resin.sandable_min,
            full_cure_min: resin.full_cure_min,
        }
    }
}

/// The longest of each wait, and the earliest end of the recoat window, over the clock times at which
/// the maker works: in a room that cools by night an evening's pour takes longer than a morning's.
///
/// # Errors
/// If the room is too cold for the resin at one of them; in a room that warms and cools, with the hour
/// and those that would do.
pub(super) fn waits(calibration: &Calibration, settings: &Settings) -> Result<Waits, Diagnostic> {
    let mut all: Option<Waits> = None;
    for at in clocks(settings) {
        let found = poured_at(calibration, settings, at)
            .map_err(|error| with_hours(error, at, calibration, settings))?;
        let found = Waits {
            recoat_min: (least(found.recoat_min.0), latest(found.recoat_min.1)),
            turning_min: least(found.turning_min),
            sandable_min: least(found.sandable_min),
            full_cure_min: least(found.full_cure_min),
        };
        all = Some(all.map_or(found, |all| all.and(&found)));
    }
    Ok(all.unwrap_or_else(|| Waits::of_sheet(&settings.resin)))
}

fn poured_at(
    calibration: &Calibration,
    settings: &Settings,
    clock_min: u16,
) -> Result<SheetTimes, Diagnostic> {
    let room = RoomCourse::new(&settings.room, f64::from(clock_min));
    sheet_times(calibration, &|min| room.temperature_c(min))
}

/// What is wrong with a pour at `failed_min` after midnight, with its hour and the hours that would do.
fn with_hours(
    mut error: Diagnostic,
    failed_min: u16,
    calibration: &Calibration,
    settings: &Settings,
) -> Diagnostic {
    if matches!(settings.room.climate, Climate::Constant(_)) {
        return error;
    }
    error.message = format!("poured at {}: {}", clock(f64::from(failed_min)), error.message);
    let would_do = |clocks: Vec<u16>| -> Vec<String> {
        let good = clocks.into_iter().filter(|at| poured_at(calibration, settings, *at).is_ok());
        good.map(|at| clock(f64::from(at))).collect()
    };
    let of_maker = would_do(clocks(settings));
    if !of_maker.is_empty() {
        return error.hint(format!(
            "of the hours looked at, a pour would do at {}: leave the others out of `maker.hours`, \
             or keep the room warm for them",
            of_maker.join(", ")
        ));
    }
    let of_day = would_do(every_three_hours().collect());
    error.hint(if of_day.is_empty() {
        "a pour would do at no hour of the day".to_owned()
    } else {
        format!(
            "a pour would do at none of the hours in `maker.hours`, but at {}",
            of_day.join(", ")
        )
    })
}

impl Waits {
    fn and(&self, other: &Self) -> Self {
        let (from, to) = self.recoat_min;
        let from = from.max(other.recoat_min.0);
        Self {
            recoat_min: (from, to.min(other.recoat_min.1).max(from)),
            turning_min: self.turning_min.max(other.turning_min),
            sandable_min: self.sandable_min.max(other.sandable_min),
            full_cure_min: self.full_cure_min.max(other.full_cure_min),
        }
    }
}

/// A shortest wait: up to the next whole minute, but for what rounding of numbers adds.
fn least(min: f64) -> f64 {
    (min - 0.05).ceil()
}

/// A latest moment: down to a whole minute.
fn latest(min: f64) -> f64 {
    (min + 0.05).floor()
}

/// Clock times to look at, min after midnight: every three hours within the maker's hours, and the
/// beginning of each stretch; one alone where the room is always the same.
fn clocks(settings: &Settings) -> Vec<u16> {
    if matches!(settings.room.climate, Climate::Constant(_)) {
        return vec![0];
    }
    let mut clocks = BTreeSet::new();
    for (from, to) in settings.maker.hours.iter().flatten() {
        clocks.insert(*from);
        clocks.extend(every_three_hours().filter(|at| from <= at && at < to));
    }
    clocks.into_iter().collect()
}

fn every_three_hours() -> impl Iterator<Item = u16> {
    (0..1440 / EVERY_MIN).map(|k| k * EVERY_MIN)
}

/// When the maker's week begins, min after midnight.
pub(super) fn usual_clock_min(settings: &Settings) -> f64 {
    let first = settings.maker.hours.iter().flatten().next();
    first.map_or(0.0, |(from, _)| f64::from(*from))
}
