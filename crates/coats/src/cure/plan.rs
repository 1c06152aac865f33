//! The durations that a timetable needs, for one room.

use super::calibrate::{Calibration, full_s, hard_s};
use super::choices::END;
use super::landmarks::{Marks, marks};
use super::{Model, course, warm_enough};
use crate::pot::{Filling, Pot, pot};
use piece::{Diagnostic, FieldPath};

/// Where a duration comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Way {
    /// The sheet's own figure, scaled by reduced time to the room.
    Sheet,
    /// The model, which is fitted to the sheet; where it misses it, its times are stretched so that
    /// they meet it at the sheet's temperature.
    Model,
}

/// How long something takes, to a hundredth of a min.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Duration {
    /// Likely, min.
    pub min: f64,
    /// Shortest within the range of activation energies, min.
    pub least_min: f64,
    /// Longest within the range of activation energies, min.
    pub most_min: f64,
    /// Where it comes from.
    pub way: Way,
}

/// Durations after a pour in one room.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    /// The mix gels if it is left in its cup.
    pub pot_life: Duration,
    /// The mix is twice as thick as when mixed, or gels: to be on the piece by then.
    pub working: Duration,
    /// A film no longer sticks to a glove.
    pub tack_free: Duration,
    /// The next coat bonds without sanding from.
    pub recoat_from: Duration,
    /// The next coat bonds without sanding until.
    pub recoat_to: Duration,
    /// Keep turning for.
    pub turning: Duration,
    /// Hard enough to sand.
    pub sandable: Duration,
    /// As hard as it gets in this room.
    pub full_cure: Duration,
    /// Glass transition at the end, °C: it softens there.
    pub softens_c: f64,
    /// ∫dt/μ from pour to gel, 1/Pa.
    pub fluidity_per_pa: f64,
}

/// Durations after a pour of a mix of `mix_g`, in a room whose temperature, °C, is told for each min
/// after it.
///
/// # Errors
/// If the room is colder than the resin bears before the film no longer sticks (how warm it must be is
/// told), or too cold for it ever to be hard.
pub fn plan(
    calibration: &Calibration,
    room_c: &dyn Fn(f64) -> f64,
    mix_g: f64,
) -> Result<Plan, Diagnostic> {
    let sheet = &calibration.sheet;
    let longest_min = END * sheet.full_cure_s / 60.0;
    let mut found: Vec<Passed> = Vec::new();
    let mut end = (0.0, 0.0);
    for (index, model) in models(calibration).into_iter().enumerate() {
        let course = course(model, room_c, longest_min)?;
        if index == 0 {
            warm_enough(sheet, &course, room_c)?;
            let last = course.at(longest_min, room_c);
            end = (last.tg_c, last.fluidity_per_pa);
        }
        let cup = pot(model, sheet, Filling::usual(mix_g.max(0.1)), room_c)?;
        let marks = marks(&course, sheet, room_c);
        found.push(Passed { marks, cup, stretch: stretch(calibration, model) });
    }
    let cold = || too_cold(room_c(0.0));
    let over = |way: Way, of: fn(&Passed) -> Option<f64>| {
        let times: Option<Vec<f64>> = found.iter().map(of).collect();
        times.map(|times| spread(&times, way)).ok_or_else(cold)
    };
    let sheet = |of| over(Way::Sheet, of);
    let model = |of| over(Way::Model, of);
    Ok(Plan {
        pot_life: model(|passed| passed.cup.gels_min)?,
        working: model(|passed| passed.cup.doubled_min)?,
        tack_free: sheet(|passed| passed.marks.scaled.tack_free_min)?,
        recoat_from: sheet(|passed| passed.marks.scaled.recoat_from_min)?,
        recoat_to: sheet(|passed| passed.marks.scaled.recoat_to_min)?,
        turning: sheet(|passed| passed.marks.scaled.turning_min)?,
        sandable: model(|passed| Some(passed.marks.sandable_min? * passed.stretch.0))?,
        full_cure: model(|passed| Some(passed.marks.full_min? * passed.stretch.1))?,
        softens_c: hundredths(end.0),
        fluidity_per_pa: hundredths(end.1),
    })
}

/// What one model passes in the room, and how many times longer its sheet is, to hard and to full.
struct Passed {
    marks: Marks,
    cup: Pot,
    stretch: (f64, f64),
}

fn models(calibration: &Calibration) -> Vec<&Model> {
    let mut models = vec![&calibration.likely];
    for other in [&calibration.least, &calibration.greatest] {
        if other != &calibration.likely {
            models.push(other);
        }
    }
    models
}

/// How many times longer than the model the sheet is at its own temperature: to hard, to full.
fn stretch(calibration: &Calibration, model: &Model) -> (f64, f64) {
    let (sheet, kinetics, glass) = (&calibration.sheet, &model.kinetics, &model.glass);
    (
        sheet.sandable_s / hard_s(sheet, kinetics, glass),
        sheet.full_cure_s / full_s(sheet, kinetics, glass),
    )
}

fn spread(times: &[f64], way: Way) -> Duration {
    let least_min = times.iter().copied().fold(f64::INFINITY, f64::min);
    let most_min = times.iter().copied().fold(0.0, f64::max);
    let [min, least_min, most_min] = [times[0], least_min, most_min].map(hundredths);
    Duration { min, least_min, most_min, way }
}

/// The solver is exact to less than this, and its last bits may differ between machines.
fn hundredths(value: f64) -> f64 {
    (value * 100.0).round() / 100.0
}

fn too_cold(room_c: f64) -> Diagnostic {
    Diagnostic::error(
        FieldPath::root().key("resin"),
        format!("this resin, poured at {room_c:.0} °C, does not get hard in the time of its sheet"),
    )
    .hint("warm the room, or take a resin whose sheet allows this temperature")
}

/// Durations of the sheet in one room, min after the pour, with the likely activation energy.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SheetTimes {
    /// The next coat bonds without sanding from, to.
    pub recoat_min: (f64, f64),
    /// Keep turning for.
    pub turning_min: f64,
    /// Hard enough to sand.
    pub sandable_min: f64,
    /// Full cure.
    pub full_cure_min: f64,
}

/// The durations that a timetable needs, in a room whose temperature, °C, is told for each min after
/// the pour: the likely ones of [`plan`], at a fraction of its work.
///
/// # Errors
/// As [`plan`].
pub fn sheet_times(
    calibration: &Calibration,
    room_c: &dyn Fn(f64) -> f64,
) -> Result<SheetTimes, Diagnostic> {
    let (sheet, model) = (&calibration.sheet, &calibration.likely);
    let course = course(model, room_c, END * sheet.full_cure_s / 60.0)?;
    warm_enough(sheet, &course, room_c)?;
    let marks = marks(&course, sheet, room_c);
    let stretch = stretch(calibration, model);
    let found = || {
        Some(SheetTimes {
            recoat_min: (marks.scaled.recoat_from_min?, marks.scaled.recoat_to_min?),
            turning_min: marks.scaled.turning_min?,
            sandable_min: marks.sandable_min? * stretch.0,
            full_cure_min: marks.full_min? * stretch.1,
        })
    };
    found().ok_or_else(|| too_cold(room_c(0.0)))
}
