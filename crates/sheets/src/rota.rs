//! The timetable of many pieces, written down: tables, a calendar for each maker, the chart of pieces
//! by time, and a page for each maker's next seven days.
//!
//! Read first: `write_rota`, then the file named after the sheet; `chart.rs` puts together what
//! `strip.rs` (one week) and `overview.rs` (all weeks) draw.

mod axis;
mod blocks;
mod calendars;
mod captions;
mod chart;
mod lanes;
mod legend;
mod makers;
mod marks;
mod overview;
mod rows;
mod said;
mod strip;
mod tables;
mod week;

use crate::SheetError;
use crate::folder::Desk;
use jiff::Timestamp;
use jiff::civil::DateTime;
use piece::Settings;
use std::path::Path;
use work::rota::Rota;

/// Writes every file of a timetable of many pieces into a folder that exists, and returns their names.
/// `settings` give the paper and the name of the studio. `progress` is told the name of the file it
/// works on, and how many are done of how many; it stops the work by returning false.
///
/// # Errors
/// The first file that could not be written, or [`SheetError::Stopped`].
pub fn write_rota(
    rota: &Rota,
    settings: &Settings,
    folder: &Path,
    progress: &mut dyn FnMut(&str, usize, usize) -> bool,
) -> Result<Vec<String>, SheetError> {
    let calendars = calendars::files(rota);
    let mut desk = Desk::new(folder, 6 + calendars.len(), progress);
    desk.file("timetable.csv", || Ok(tables::timetable_csv(rota)))?;
    desk.file("orders.csv", || Ok(tables::orders_csv(rota)))?;
    for (maker, name) in calendars.iter().enumerate() {
        desk.file(name, || Ok(calendars::calendar_ics(rota, maker)))?;
    }
    let chart = chart::Chart::of(rota, settings);
    let mut svg = String::new();
    desk.file("chart.svg", || {
        svg = chart.svg();
        Ok(svg.clone().into_bytes())
    })?;
    desk.file("chart.png", || chart::png(&svg))?;
    desk.file("chart.pdf", || chart.pdf(rota, settings))?;
    desk.file("this-week.pdf", || week::pdf(rota, settings))?;
    Ok(desk.done)
}

/// A moment on the studio's clock.
fn local(rota: &Rota, at: Timestamp) -> DateTime {
    rota.zone.to_datetime(at)
}
