//! How well the fitted model meets each line of the sheet, and what to say where it cannot.

use super::calibrate::{end_tg_k, full_s, hard_s, pot_life_s};
use super::choices::{GEL, WINDOW, ZERO_C_K};
use super::kinetics::hindered_time_s;
use super::{Model, Sheet};
use piece::{Diagnostic, FieldPath};

/// Lines that are missed by more than this share are told.
const TOLD: f64 = 0.10;

/// Each line of the sheet that the model knows of.
#[derive(Debug, Clone, PartialEq)]
pub struct Fit {
    /// In the order of the sheet.
    pub lines: Vec<FitLine>,
}

/// What one line of the sheet asks, and what the model says of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FitLine {
    /// Its key in the settings.
    pub key: &'static str,
    /// What the sheet says.
    pub asked: f64,
    /// What the model says.
    pub met: f64,
    /// Unit of both: `min` or `°C`.
    pub unit: &'static str,
    /// The model was fitted to it; otherwise it is only compared.
    pub fitted: bool,
}

impl FitLine {
    /// How far the model is above the sheet: a share of a time, or K of a temperature.
    pub fn deviation(&self) -> f64 {
        if self.unit == "min" { self.met / self.asked - 1.0 } else { self.met - self.asked }
    }
}

impl Fit {
    /// The line of a key.
    pub fn line(&self, key: &str) -> Option<&FitLine> {
        self.lines.iter().find(|line| line.key == key)
    }
}

pub(super) fn fit(sheet: &Sheet, model: &Model) -> Result<Fit, Diagnostic> {
    let (kinetics, glass) = (&model.kinetics, &model.glass);
    let time = |key, asked_s: f64, met_s: f64, fitted| FitLine {
        key,
        asked: asked_s / 60.0,
        met: met_s / 60.0,
        unit: "min",
        fitted,
    };
    let film_s = |alpha: f64| hindered_time_s(kinetics, glass, alpha);
    let mut lines = vec![
        time("pot_life", sheet.pot_life_s, pot_life_s(sheet, kinetics)?, true),
        time("tack_free", sheet.tack_free_s, film_s(GEL), true),
        time("recoat_to", sheet.recoat_s.1, film_s(WINDOW), false),
        time("sandable", sheet.sandable_s, hard_s(sheet, kinetics, glass), true),
        time("full_cure", sheet.full_cure_s, full_s(sheet, kinetics, glass), true),
    ];
    lines.extend(sheet.softens_k.map(|softens_k| FitLine {
        key: "softens",
        asked: softens_k - ZERO_C_K,
        met: end_tg_k(sheet, kinetics, glass) - ZERO_C_K,
        unit: "°C",
        fitted: false,
    }));
    Ok(Fit { lines })
}

/// Which lines contradict which. `pot_lives` gives the least and greatest pot life, s, that go with the
/// tack-free time.
pub(super) fn notes(
    sheet: &Sheet,
    fit: &Fit,
    pot_lives: impl Fn() -> Result<(f64, f64), Diagnostic>,
) -> Result<Vec<Diagnostic>, Diagnostic> {
    let path = FieldPath::root().key("resin");
    let missed = |key| fit.line(key).filter(|line| line.deviation().abs() > TOLD);
    let mut notes = Vec::new();
    if let Some(line) = missed("pot_life") {
        let (least_s, greatest_s) = pot_lives()?;
        let message = format!(
            "`pot_life` and `tack_free` contradict each other: of a resin that no longer sticks after \
             {:.0} min, {:.0} g can gel in their cup after {:.0} to {:.0} min, not after {:.0}",
            sheet.tack_free_s / 60.0,
            sheet.pot_life_mass_kg * 1000.0,
            least_s / 60.0,
            greatest_s / 60.0,
            line.asked,
        );
        notes.push(Diagnostic::warning(path.key("pot_life"), message).hint(format!(
            "look up both, and the mass that the pot life holds for (`pot_life_mass`); until then \
             {:.0} min are taken",
            line.met
        )));
    }
    if let Some(line) = missed("sandable") {
        let message = format!(
            "`sandable` does not go with `tack_free`: a resin that no longer sticks after {:.0} min \
             is as hard as that after {:.0} min, not after {:.0}",
            sheet.tack_free_s / 60.0,
            line.met,
            line.asked,
        );
        notes.push(Diagnostic::warning(path.key("sandable"), message).hint(
            "look up both; the time of the sheet is kept for a room at its temperature, and \
             scaled for others",
        ));
    }
    Ok(notes)
}
