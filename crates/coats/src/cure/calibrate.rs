//! Fits the model to a data sheet.
//!
//! Two lines of the sheet give the two rate constants: a thin film, which stays at the temperature of
//! the room, gels when the sheet says that it no longer sticks; a cup of the stated mass, which heats
//! itself, gels at the end of the pot life. The times to hard and to full cure give the two constants
//! of the glass transition. No measurement of a resin stands behind the figures for other rooms.

use super::choices::{END, FULL_K, GEL, HARD_K, TG_START_K};
use super::fit::{self, Fit};
use super::kinetics::{Glass, Kinetics, closed, hindered_time_s};
use super::{Model, Sheet};
use crate::pot::{Filling, lump};
use crate::root::rising;
use piece::Diagnostic;
use piece::settings::ResinProduct;
use std::convert::Infallible;

/// β = k₂/k₁ looked through: from hardly autocatalysed to hardly anything else.
const BETAS: (f64, f64) = (1e-3, 1e3);
/// Shapes of the glass transition looked through.
const LAMBDAS: (f64, f64) = (0.2, 1.0);
/// Highest glass transition of resin that cures in a room, K: 200 °C (our choice).
const MOST_END_K: f64 = 473.15;
/// Conversion that counts as whole.
const WHOLE: f64 = 0.9999;
/// Times are fitted to this share.
const WITHIN: f64 = 1e-5;
/// Glass transition taken while the rate constants are fitted; gel comes long before glass.
const USUAL_GLASS: Glass = Glass { end_k: 333.15, lambda: 0.40 };

/// A resin fitted to its sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct Calibration {
    /// What was taken from the sheet.
    pub sheet: Sheet,
    /// With the likely activation energy.
    pub likely: Model,
    /// With the least: warmth changes it least.
    pub least: Model,
    /// With the greatest: warmth changes it most.
    pub greatest: Model,
    /// Each line of the sheet: asked, met.
    pub fit: Fit,
    /// Lines of the sheet that contradict each other.
    pub notes: Vec<Diagnostic>,
}

/// Fits a resin to its sheet. What cannot be met is met as nearly as can be, and told in the notes.
///
/// # Errors
/// If the figures are so far off that the mixing cup cannot be followed.
pub fn calibrate(resin: &ResinProduct) -> Result<Calibration, Diagnostic> {
    let sheet = Sheet::of(resin);
    let (likely, least, greatest) = sheet.activation_j_per_mol;
    let likely = model(&sheet, likely)?;
    let least = if least == sheet.activation_j_per_mol.0 { likely } else { model(&sheet, least)? };
    let greatest =
        if greatest == sheet.activation_j_per_mol.0 { likely } else { model(&sheet, greatest)? };
    let fit = fit::fit(&sheet, &likely)?;
    let notes = fit::notes(&sheet, &fit, || {
        let end = |beta: f64| pot_life_s(&sheet, &film(&sheet, sheet.activation_j_per_mol.0, beta));
        Ok((end(BETAS.0)?, end(BETAS.1)?))
    })?;
    Ok(Calibration { sheet, likely, least, greatest, fit, notes })
}

/// The model of a sheet for one activation energy, J/mol.
fn model(sheet: &Sheet, e_j_per_mol: f64) -> Result<Model, Diagnostic> {
    let of = |log_beta: f64| film(sheet, e_j_per_mol, libm::exp(log_beta));
    let bounds = (libm::log(BETAS.0), libm::log(BETAS.1));
    // The more of the cure is autocatalysed, the later the cup takes off.
    let log_beta = rising(bounds, WITHIN, |log_beta| {
        Ok(libm::log(pot_life_s(sheet, &of(log_beta))? / sheet.pot_life_s))
    })?;
    let kinetics = of(log_beta);
    Ok(Model { kinetics, glass: glass(sheet, &kinetics), flow: sheet.flow })
}

/// The constants of a β with which a film gels when the sheet says.
fn film(sheet: &Sheet, e_j_per_mol: f64, beta: f64) -> Kinetics {
    Kinetics::of(closed(GEL, beta) / sheet.tack_free_s, beta, e_j_per_mol, sheet.at_k)
}

/// When the sheet's mass gels in its cup, s.
pub(super) fn pot_life_s(sheet: &Sheet, kinetics: &Kinetics) -> Result<f64, Diagnostic> {
    let model = Model { kinetics: *kinetics, glass: USUAL_GLASS, flow: sheet.flow };
    let filling = Filling::usual(sheet.pot_life_mass_kg * 1000.0);
    let room_c = sheet.at_k - super::choices::ZERO_C_K;
    let track = lump(&model, sheet, filling, &|_| room_c, |alpha, _| alpha >= GEL)?;
    Ok(track.first(|_, y| y[0] - GEL).unwrap_or(track.last().t_s))
}

/// The glass transition with which it is hard and fully cured when the sheet says.
fn glass(sheet: &Sheet, kinetics: &Kinetics) -> Glass {
    let of = |lambda: f64| hard_when_asked(sheet, kinetics, lambda);
    let Ok(lambda) = rising::<Infallible>(LAMBDAS, WITHIN, |lambda| {
        Ok(libm::log(sheet.full_cure_s / full_s(sheet, kinetics, &of(lambda))))
    });
    of(lambda)
}

/// For one shape, the end of the glass transition with which it can be sanded when the sheet says.
fn hard_when_asked(sheet: &Sheet, kinetics: &Kinetics, lambda: f64) -> Glass {
    // Resin gels before it turns to glass: a room-temperature sheet is never told of one that does not.
    let at_gel = lambda * GEL / (1.0 - (1.0 - lambda) * GEL);
    let most_k = (TG_START_K + (sheet.at_k - TG_START_K) / at_gel).min(MOST_END_K);
    let bounds = (sheet.at_k + HARD_K + 0.5, most_k);
    let Ok(end_k) = rising::<Infallible>(bounds, WITHIN, |end_k| {
        let glass = Glass { end_k, lambda };
        Ok(libm::log(sheet.sandable_s / hard_s(sheet, kinetics, &glass)))
    });
    Glass { end_k, lambda }
}

/// When a film can be sanded at the sheet's temperature, s.
pub(super) fn hard_s(sheet: &Sheet, kinetics: &Kinetics, glass: &Glass) -> f64 {
    let alpha = glass.conversion(sheet.at_k + HARD_K).min(WHOLE);
    hindered_time_s(kinetics, glass, alpha)
}

/// When a film is fully cured at the sheet's temperature, s.
pub(super) fn full_s(sheet: &Sheet, kinetics: &Kinetics, glass: &Glass) -> f64 {
    let alpha = glass.conversion(end_tg_k(sheet, kinetics, glass) - FULL_K).min(WHOLE);
    hindered_time_s(kinetics, glass, alpha)
}

/// Where the glass transition ends at the sheet's temperature, K.
pub(super) fn end_tg_k(sheet: &Sheet, kinetics: &Kinetics, glass: &Glass) -> f64 {
    let Ok(alpha) = rising::<Infallible>((GEL, WHOLE), WITHIN, |alpha| {
        Ok(libm::log(hindered_time_s(kinetics, glass, alpha) / (END * sheet.full_cure_s)))
    });
    glass.tg_k(alpha)
}
