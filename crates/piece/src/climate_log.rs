//! A table that a logger of temperature and humidity wrote.

use crate::units::shorten;
use crate::{Diagnostic, FieldPath};
use jiff::Timestamp;
use jiff::civil::DateTime;

/// What a logger in a room measured.
#[derive(Debug, Clone, PartialEq)]
pub struct ClimateLog {
    /// Name of its file.
    pub name: String,
    /// Clock time of its first reading, min after midnight.
    pub begins_min: f64,
    /// In order of time, over at least a day, no two farther apart than two hours.
    pub readings: Vec<ClimateReading>,
}

/// One line of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ClimateReading {
    /// Time since the first, min.
    pub min: f64,
    /// Temperature, °C.
    pub temperature_c: f64,
    /// Relative humidity, %.
    pub humidity_pct: f64,
}

/// From where to where the temperature of a room may lie, °C.
pub(crate) const TEMPERATURE_C: (f64, f64) = (-30.0, 60.0);
/// Longest time between two readings, min: beyond it nobody knows what the room did.
const GAP_MIN: f64 = 120.0;
const DAY_MIN: f64 = 1440.0;
/// Most faults that are told.
const MOST_FAULTS: usize = 5;

fn fault(name: &str, line: Option<u64>, message: &str, hint: &str) -> Diagnostic {
    let place = line.map_or(String::new(), |line| format!("line {line} of "));
    let message = format!("{place}`{}`: {message}", shorten(name));
    Diagnostic::error(FieldPath::root(), message).hint(hint)
}

/// Which column is what.
struct Columns {
    time: usize,
    temperature: usize,
    fahrenheit: bool,
    humidity: usize,
}

fn columns(header: &csv::StringRecord) -> Result<Columns, String> {
    let at = |name: &str| header.iter().position(|cell| cell == name);
    let (celsius, fahrenheit) = (at("temperature_c"), at("temperature_f"));
    if celsius.is_some() && fahrenheit.is_some() {
        return Err("both `temperature_c` and `temperature_f` are there".to_owned());
    }
    let missing = |name: &str| format!("there is no column `{name}`");
    Ok(Columns {
        time: at("time").ok_or_else(|| missing("time"))?,
        temperature: celsius.or(fahrenheit).ok_or_else(|| missing("temperature_c"))?,
        fahrenheit: fahrenheit.is_some(),
        humidity: at("humidity_pct").ok_or_else(|| missing("humidity_pct"))?,
    })
}

/// A moment in minutes, and its clock time in minutes after midnight. A time with an offset from UTC
/// is put on that scale, and keeps its own clock.
fn moment(cell: &str) -> Option<(f64, f64)> {
    let clock: DateTime = cell.trim_end_matches('Z').parse().ok()?;
    let midnight = clock.start_of_day();
    let utc = |time: DateTime| jiff::tz::TimeZone::UTC.to_timestamp(time).ok();
    let min = |stamp: Timestamp| stamp.as_millisecond() as f64 / 60_000.0;
    let local = utc(clock)?;
    let stamp = cell.parse::<Timestamp>().unwrap_or(local);
    Some((min(stamp), min(local) - min(utc(midnight)?)))
}

/// Half a sentence on what is wrong, and what to do.
type Fault = (String, &'static str);

fn number(cell: &str, what: &str) -> Result<f64, Fault> {
    let found: Option<f64> = cell.parse().ok();
    found.filter(|number| number.is_finite()).ok_or_else(|| {
        let message = format!("`{}` is no number for the {what}", shorten(cell));
        (message, "write a number with a point and without its unit, or take the line out")
    })
}

/// Moment and clock time of a line in minutes, °C and % of humidity.
fn reading(record: &csv::StringRecord, columns: &Columns) -> Result<(f64, f64, f64, f64), Fault> {
    let cell = |at: usize| record.get(at).unwrap_or("");
    let time = cell(columns.time);
    let (stamp_min, clock_min) = moment(time).ok_or_else(|| {
        let message = format!("`{}` is no time", shorten(time));
        (message, "write times as 2026-07-18T14:30 (ISO 8601)")
    })?;
    let typed = number(cell(columns.temperature), "temperature")?;
    let temperature_c = if columns.fahrenheit { (typed - 32.0) * 5.0 / 9.0 } else { typed };
    if !(TEMPERATURE_C.0..=TEMPERATURE_C.1).contains(&temperature_c) {
        let message = format!("a temperature of {typed} is not expected in a room");
        let hint = "check the unit in the head of the column, `temperature_c` or `temperature_f`";
        return Err((message, hint));
    }
    let humidity_pct = number(cell(columns.humidity), "humidity")?;
    if !(0.0..=100.0).contains(&humidity_pct) {
        let message = format!("a humidity of {humidity_pct} % cannot be");
        return Err((message, "it is from 0 to 100 %; take the line out if the logger failed"));
    }
    Ok((stamp_min, clock_min, temperature_c, humidity_pct))
}

/// What stands between the columns of a head that has no comma.
pub(crate) fn other_mark(head: &str) -> Option<&'static str> {
    let marks = [(';', "semicolons"), ('\t', "tabs"), ('|', "bars")];
    let found = marks.into_iter().find(|(mark, _)| head.contains(*mark) && !head.contains(','));
    found.map(|(_, name)| name)
}

/// Hours to a tenth.
fn hours(min: f64) -> f64 {
    (min / 6.0).round() / 10.0
}

/// Reads the table. Errors: what is wrong with it, up to a few, each with its line.
pub(crate) fn read(name: &str, text: &str) -> Result<ClimateLog, Vec<Diagnostic>> {
    let needs = "it needs a first line with the columns time,temperature_c,humidity_pct";
    let mut table = csv::ReaderBuilder::new()
        .trim(csv::Trim::All)
        .flexible(true)
        .from_reader(text.trim_start_matches('\u{feff}').as_bytes());
    let columns = match table.headers().map(columns) {
        Ok(Ok(columns)) => columns,
        Ok(Err(message)) => {
            let error = fault(name, Some(1), &message, needs);
            let columns = text.lines().next().unwrap_or("");
            return Err(vec![match other_mark(columns) {
                Some(mark) => error.hint(format!(
                    "its columns seem to be parted by {mark}: save it with commas between them, and \
                     a point in numbers"
                )),
                None => error,
            }]);
        }
        Err(_) => return Err(vec![fault(name, Some(1), "it is no table", needs)]),
    };
    let mut faults = Vec::new();
    let mut readings: Vec<ClimateReading> = Vec::new();
    let mut first: Option<(f64, f64)> = None;
    for record in table.records() {
        if faults.len() >= MOST_FAULTS {
            break;
        }
        let Ok(record) = record else {
            faults.push(fault(name, None, "it is no table", needs));
            break;
        };
        let line = record.position().map(csv::Position::line);
        let (stamp_min, clock_min, temperature_c, humidity_pct) = match reading(&record, &columns) {
            Ok(found) => found,
            Err((message, hint)) => {
                faults.push(fault(name, line, &message, hint));
                continue;
            }
        };
        let (zero_min, _) = *first.get_or_insert((stamp_min, clock_min));
        let min = stamp_min - zero_min;
        if let Some(last) = readings.last() {
            let step_min = min - last.min;
            if step_min <= 0.0 {
                let message = "the time is not after that of the line before";
                let hint = "sort the lines by time, and keep one for each moment";
                faults.push(fault(name, line, message, hint));
                continue;
            }
            if step_min > GAP_MIN {
                let message = format!(
                    "{} h lie between this line and the one before; at most 2 h are bridged",
                    hours(step_min)
                );
                let hint = "use a stretch of the log without gaps";
                faults.push(fault(name, line, &message, hint));
            }
        }
        readings.push(ClimateReading { min, temperature_c, humidity_pct });
    }
    let span_min = readings.last().map_or(0.0, |last| last.min);
    if faults.is_empty() && span_min < DAY_MIN {
        let message = format!("it covers {} h, and a whole day is needed", hours(span_min));
        let hint = "let the logger run for a day and a night at least";
        faults.push(fault(name, None, &message, hint));
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    let begins_min = first.map_or(0.0, |(_, clock_min)| clock_min);
    Ok(ClimateLog { name: name.to_owned(), begins_min, readings })
}
