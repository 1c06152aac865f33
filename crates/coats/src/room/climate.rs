//! Temperature and humidity of a room as they go on.

use super::dew::{dew_point_c, judge};
use piece::settings::{Air, Climate, Room};
use piece::{ClimateLog, Diagnostic, FieldPath};
use std::f64::consts::PI;

const DAY_MIN: f64 = 1440.0;
/// When a room is coldest and warmest, min after midnight (common practice, no source: shortly before
/// sunrise, and in the middle of the afternoon).
const COLDEST_MIN: f64 = 300.0;
const WARMEST_MIN: f64 = 900.0;
/// Worst moments are looked for at this distance, min.
const LOOK_MIN: f64 = 10.0;

/// The air of a room from a moment on.
#[derive(Debug, Clone, Copy)]
pub struct RoomCourse<'a> {
    climate: &'a Climate,
    start_clock_min: f64,
}

/// The air at one moment.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Moment {
    /// Time from the start of the course, min.
    pub min: f64,
    /// Air then.
    pub air: Air,
    /// Dew point, °C.
    pub dew_point_c: f64,
}

/// Worst moments of a stretch of time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Worst {
    /// The coldest.
    pub coldest: Moment,
    /// The warmest.
    pub warmest: Moment,
    /// The dampest.
    pub dampest: Moment,
    /// Where the air is nearest to its dew point.
    pub nearest_dew: Moment,
}

impl<'a> RoomCourse<'a> {
    /// The air of `room` from `start_clock_min` after midnight on.
    pub fn new(room: &'a Room, start_clock_min: f64) -> Self {
        Self { climate: &room.climate, start_clock_min: start_clock_min.rem_euclid(DAY_MIN) }
    }

    /// Air at `min` after the start.
    pub fn air(&self, min: f64) -> Air {
        match self.climate {
            Climate::Constant(air) => *air,
            Climate::DayNight { day, night } => {
                let day_share = day_share(self.start_clock_min + min);
                Air {
                    temperature_c: between(night.temperature_c, day.temperature_c, day_share),
                    humidity_pct: between(night.humidity_pct, day.humidity_pct, day_share),
                }
            }
            Climate::Log(log) => logged(log, self.log_min(log, min)),
        }
    }

    /// Temperature at `min` after the start, °C.
    pub fn temperature_c(&self, min: f64) -> f64 {
        self.air(min).temperature_c
    }

    /// Relative humidity at `min` after the start, %.
    pub fn humidity_pct(&self, min: f64) -> f64 {
        self.air(min).humidity_pct
    }

    /// Whether a log ends before `min`, so that its last day is taken to come again.
    pub fn repeats_before(&self, min: f64) -> bool {
        match self.climate {
            Climate::Log(log) => self.offset_min(log) + min > end_min(log),
            _ => false,
        }
    }

    /// Worst moments from `from_min` to `to_min`.
    pub fn worst(&self, from_min: f64, to_min: f64) -> Worst {
        let at = |min: f64| {
            let air = self.air(min);
            Moment { min, air, dew_point_c: dew_point_c(air.temperature_c, air.humidity_pct) }
        };
        let first = at(from_min);
        let mut worst =
            Worst { coldest: first, warmest: first, dampest: first, nearest_dew: first };
        let above_dew = |moment: &Moment| moment.air.temperature_c - moment.dew_point_c;
        let steps = ((to_min - from_min).max(0.0) / LOOK_MIN).ceil() as u32;
        for step in 1..=steps {
            let now = at((from_min + f64::from(step) * LOOK_MIN).min(to_min));
            if now.air.temperature_c < worst.coldest.air.temperature_c {
                worst.coldest = now;
            }
            if now.air.temperature_c > worst.warmest.air.temperature_c {
                worst.warmest = now;
            }
            if now.air.humidity_pct > worst.dampest.air.humidity_pct {
                worst.dampest = now;
            }
            if above_dew(&now) < above_dew(&worst.nearest_dew) {
                worst.nearest_dew = now;
            }
        }
        worst
    }

    /// What to do about the room for resin poured at `from_min`, and poured on until `to_min`, that
    /// bears `resin_least_c` at least, °C; at the worst moments of that time, with the hour where the
    /// room is not always the same.
    pub fn advice(&self, from_min: f64, to_min: f64, resin_least_c: f64) -> Vec<Diagnostic> {
        let worst = self.worst(from_min, to_min);
        let mut told: Vec<Diagnostic> = Vec::new();
        for moment in [worst.coldest, worst.nearest_dew, worst.dampest] {
            // The wall of a cup is as warm as the air that it stands in.
            let surface_c = moment.air.temperature_c;
            for mut note in judge(moment.air, surface_c, resin_least_c).notes {
                // What to do is the same for each fault, and told once, at the worst moment of each.
                if told.iter().any(|other| other.hints == note.hints) {
                    continue;
                }
                if !matches!(self.climate, Climate::Constant(_)) {
                    let hour = clock(self.start_clock_min + moment.min);
                    note.message = format!("at {hour}, {}", note.message);
                }
                told.push(note);
            }
        }
        told
    }

    /// A warning if the room is logged and its log ends before the work does, at `end_min` after the
    /// start.
    pub fn log_ends(&self, end_min: f64) -> Option<Diagnostic> {
        let Climate::Log(log) = self.climate else { return None };
        self.repeats_before(end_min).then(|| {
            Diagnostic::warning(
                FieldPath::root().key("room").key("log"),
                format!(
                    "`{}` ends before the work does: its last day is taken to come again each day",
                    log.name
                ),
            )
            .hint("let the logger run on, and plan again with its newer table")
        })
    }

    /// From the first reading of a log to the first moment at or after it that has the clock time at
    /// which this course starts, min.
    fn offset_min(&self, log: &ClimateLog) -> f64 {
        (self.start_clock_min - log.begins_min).rem_euclid(DAY_MIN)
    }

    /// The moment of a log, min, that stands for `min` of this course.
    fn log_min(&self, log: &ClimateLog, min: f64) -> f64 {
        let (at_min, end_min) = (self.offset_min(log) + min, end_min(log));
        if at_min <= end_min {
            return at_min;
        }
        end_min - DAY_MIN + (at_min - end_min).rem_euclid(DAY_MIN)
    }
}

/// A clock time, min after midnight, as `09:30`.
pub(crate) fn clock(min: f64) -> String {
    let min = min.rem_euclid(DAY_MIN).round() as u32 % 1440;
    format!("{:02}:{:02}", min / 60, min % 60)
}

fn between(from: f64, to: f64, share: f64) -> f64 {
    from + (to - from) * share
}

/// How much of the way from the coldest to the warmest the day has gone at a clock time: half waves of a
/// cosine up from 05:00 to 15:00 and down again (a choice, no source).
fn day_share(clock_min: f64) -> f64 {
    let since_min = (clock_min - COLDEST_MIN).rem_euclid(DAY_MIN);
    let rise_min = WARMEST_MIN - COLDEST_MIN;
    let phase = if since_min <= rise_min {
        since_min / rise_min
    } else {
        1.0 + (since_min - rise_min) / (DAY_MIN - rise_min)
    };
    0.5 * (1.0 - libm::cos(PI * phase))
}

fn end_min(log: &ClimateLog) -> f64 {
    log.readings.last().map_or(0.0, |last| last.min)
}

/// What a log has at one of its moments, straight between two readings.
fn logged(log: &ClimateLog, at_min: f64) -> Air {
    let next = log.readings.partition_point(|reading| reading.min < at_min);
    let of = |index: usize| {
        let reading = &log.readings[index];
        Air { temperature_c: reading.temperature_c, humidity_pct: reading.humidity_pct }
    };
    let last = log.readings.len() - 1;
    if next == 0 || next > last {
        return of(next.min(last));
    }
    let (before, after) = (&log.readings[next - 1], &log.readings[next]);
    let share = (at_min - before.min) / (after.min - before.min);
    Air {
        temperature_c: between(before.temperature_c, after.temperature_c, share),
        humidity_pct: between(before.humidity_pct, after.humidity_pct, share),
    }
}
