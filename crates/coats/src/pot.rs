//! The mixing cup: resin heats itself there, and the more of it the faster.
//!
//! The cup is one lump that passes heat to the room through its wall, its foot and its open top:
//! m c_p dT/dt = m ΔH dα/dt − U A (T − room), A = 2 · πD²/4 + πD · (m/ρ)/(πD²/4).
//! A lump has no hot middle of its own, and loses no heat by boiling or smoke: a peak above 100 °C
//! says that it smokes and may burn, not how hot it gets.

use crate::cure::choices::{COOLING, CUP_MM, GEL, HEAT_CAPACITY, ZERO_C_K};
use crate::cure::{Calibration, Model, Sheet, possible};
use crate::ode::{Pair, Span, Track, follow};
use crate::root::falling;
use piece::{Diagnostic, FieldPath};
use std::f64::consts::PI;

/// Followed for so long at most, s: three days.
const LONGEST_S: f64 = 3.0 * 86_400.0;
/// Steps are no longer than this, s.
const STEP_S: f64 = 3600.0;
/// A filling that loses this share of its excess in a second follows the room within minutes.
const QUICK_PER_S: f64 = 0.01;
/// Hot enough to hurt and to soften a thin plastic cup, °C (common practice, no source).
pub const HOT_C: f64 = 40.0;
/// Above it a mix smokes and burns, °C (common practice, no source).
pub const SMOKING_C: f64 = 100.0;

/// The greatest mass that is looked at, g: what holds for it is taken to hold for any.
pub const MOST_MASS_G: f64 = 5000.0;

/// A mass of resin in a cup.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Filling {
    /// Mass mixed, g.
    pub mass_g: f64,
    /// Inner width of the cup, mm.
    pub width_mm: f64,
    /// Heat passed on by wall, foot and top, W/(m² K).
    pub cooling_w_per_m2_k: f64,
}

impl Filling {
    /// This mass in the usual mixing cup of 70 mm.
    pub fn usual(mass_g: f64) -> Self {
        Self { mass_g, width_mm: CUP_MM, cooling_w_per_m2_k: COOLING }
    }

    /// Share of the excess over the room that is lost in a second.
    fn loss_per_s(&self, density_kg_per_m3: f64) -> f64 {
        let (mass_kg, width_m) = (self.mass_g / 1000.0, self.width_mm / 1000.0);
        let foot_m2 = PI * width_m * width_m / 4.0;
        let depth_m = mass_kg / density_kg_per_m3 / foot_m2;
        let area_m2 = 2.0 * foot_m2 + PI * width_m * depth_m;
        self.cooling_w_per_m2_k * area_m2 / (mass_kg * HEAT_CAPACITY)
    }
}

/// What becomes of a filling that is left in its cup. Times in min after mixing; `None` if it does not
/// come to that within three days.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pot {
    /// It gels: the pot life.
    pub gels_min: Option<f64>,
    /// Its viscosity is twice what it was just mixed: it is then poured and levels badly.
    pub doubled_min: Option<f64>,
    /// It passes 40 °C.
    pub hot_min: Option<f64>,
    /// Hottest it gets, °C; an upper estimate.
    pub peak_c: f64,
    /// It is hottest.
    pub peak_min: f64,
    /// Conversion when it is hottest.
    pub peak_conversion: f64,
}

/// Follows a filling from the pour of A and B together, at the temperature of the room, which is told
/// in °C for each min after it.
///
/// # Errors
/// If the room is colder than -40 °C or hotter than 100 °C, or the figures of the resin are so far off
/// that the cup cannot be followed.
pub fn pot(
    model: &Model,
    sheet: &Sheet,
    filling: Filling,
    room_c: &dyn Fn(f64) -> f64,
) -> Result<Pot, Diagnostic> {
    let track = lump(model, sheet, filling, room_c, |_, _| false)?;
    let min = |s: Option<f64>| s.map(|s| s / 60.0);
    let start_k = track.nodes()[0].y[1];
    let thin = model.flow.fluidity_per_pa_s(0.0, start_k);
    let hottest = track
        .nodes()
        .iter()
        .fold(track.nodes()[0], |best, node| if node.y[1] > best.y[1] { *node } else { best });
    Ok(Pot {
        gels_min: min(track.first(|_, y| y[0] - GEL)),
        doubled_min: min(track.first(|_, y| 0.5 * thin - model.flow.fluidity_per_pa_s(y[0], y[1]))),
        hot_min: min(track.first(|_, y| y[1] - ZERO_C_K - HOT_C)),
        peak_c: hottest.y[1] - ZERO_C_K,
        peak_min: hottest.t_s / 60.0,
        peak_conversion: hottest.y[0],
    })
}

/// Conversion and temperature (K) of a filling until `enough` of both, or three days.
pub(crate) fn lump(
    model: &Model,
    sheet: &Sheet,
    filling: Filling,
    room_c: &dyn Fn(f64) -> f64,
    enough: impl Fn(f64, f64) -> bool,
) -> Result<Track<2>, Diagnostic> {
    possible(room_c(0.0))?;
    let rise_k = sheet.heat_j_per_kg / HEAT_CAPACITY;
    let loss_per_s = filling.loss_per_s(sheet.density_kg_per_m3);
    let slope = |t_s: f64, y: &[f64; 2]| {
        let rate = model.rate_per_s(y[0], y[1]);
        [rate, rise_k * rate - loss_per_s * (y[1] - ZERO_C_K - room_c(t_s / 60.0))]
    };
    let start = [0.0, ZERO_C_K + room_c(0.0)];
    // The explicit pair is several times faster where its steps may be a few minutes long.
    let pair = if loss_per_s > QUICK_PER_S { Pair::Implicit } else { Pair::Explicit };
    let span = Span { to_s: LONGEST_S, step_s: STEP_S, pair };
    follow(slope, start, [1e-8, 1e-5], span, |y| enough(y[0], y[1]))
}

/// Working time of a filling, min: until its viscosity has doubled or it gels; three days at most.
///
/// # Errors
/// As [`pot`].
pub fn working_min(
    model: &Model,
    sheet: &Sheet,
    filling: Filling,
    room_c: &dyn Fn(f64) -> f64,
) -> Result<f64, Diagnostic> {
    let start_k = ZERO_C_K + room_c(0.0);
    let half = 0.5 * model.flow.fluidity_per_pa_s(0.0, start_k);
    let track = lump(model, sheet, filling, room_c, |alpha, t_k| {
        model.flow.fluidity_per_pa_s(alpha, t_k) < half
    })?;
    let doubled = track.first(|_, y| half - model.flow.fluidity_per_pa_s(y[0], y[1]));
    Ok(doubled.unwrap_or(LONGEST_S) / 60.0)
}

/// The most that may be mixed at once in a cup this wide so that it can be worked for `wanted_min`, g;
/// `None` if not even 1 g can, and 5000 g if any mass can.
///
/// # Errors
/// As [`pot`].
pub fn greatest_mass_g(
    calibration: &Calibration,
    width_mm: f64,
    wanted_min: f64,
    room_c: &dyn Fn(f64) -> f64,
) -> Result<Option<f64>, Diagnostic> {
    falling(MASSES_G, |mass_g| {
        let filling = Filling { width_mm, ..Filling::usual(mass_g) };
        Ok(working_min(&calibration.likely, &calibration.sheet, filling, room_c)? - wanted_min)
    })
}

/// Masses looked through, g.
const MASSES_G: (f64, f64) = (1.0, MOST_MASS_G);

/// The mass above which a cup this wide runs away, g: it then heats itself by more than half of what
/// all its heat could. `None` if even 1 g does, and 5000 g if no mass does.
///
/// Below it the heat leaves as fast as it comes; the step between the two is steep (thermal explosion
/// of Semenov: an excess of about R T²/E = 12.7 K at 24 °C is the brink, from memory).
///
/// # Errors
/// As [`pot`].
pub fn runaway_mass_g(
    calibration: &Calibration,
    width_mm: f64,
    room_c: &dyn Fn(f64) -> f64,
) -> Result<Option<f64>, Diagnostic> {
    let (model, sheet) = (&calibration.likely, &calibration.sheet);
    let half_k = 0.5 * sheet.heat_j_per_kg / HEAT_CAPACITY;
    let limit_c = room_c(0.0) + half_k;
    falling(MASSES_G, |mass_g| {
        let filling = Filling { width_mm, ..Filling::usual(mass_g) };
        let hot = |alpha: f64, t_k: f64| alpha > 0.98 || t_k - ZERO_C_K > limit_c;
        let track = lump(model, sheet, filling, room_c, hot)?;
        let most_k = track.nodes().iter().fold(0.0_f64, |most, node| most.max(node.y[1]));
        Ok(limit_c - (most_k - ZERO_C_K))
    })
}

/// What to say of a mix of this mass in the usual cup: nothing below `runaway_g`, the mass that runs away
/// ([`runaway_mass_g`]).
///
/// # Errors
/// As [`pot`].
pub fn heat_caution(
    calibration: &Calibration,
    mass_g: f64,
    runaway_g: Option<f64>,
    room_c: &dyn Fn(f64) -> f64,
) -> Result<Option<Diagnostic>, Diagnostic> {
    let limit_g = runaway_g.unwrap_or(MASSES_G.0);
    if mass_g < limit_g {
        return Ok(None);
    }
    let found = pot(&calibration.likely, &calibration.sheet, Filling::usual(mass_g), room_c)?;
    let heat = if found.peak_c >= SMOKING_C {
        "hot enough to smoke, burn skin and melt the cup".to_owned()
    } else {
        format!("up to about {:.0} °C", found.peak_c)
    };
    let after = found.gels_min.map_or(String::new(), |min| format!(" after about {min:.0} min"));
    Ok(Some(
        Diagnostic::caution(
            FieldPath::root().key("resin"),
            format!("{mass_g:.0} g of this resin left in one cup heats itself{after}, {heat}"),
        )
        .hint(format!(
            "mix less than {:.0} g at once, or pour it out at once into a wide flat tray",
            limit_g.floor()
        ))
        .hint(
            "if a cup grows hot or smokes, keep your face away from it, set it outside on stone, and \
             leave it until it is cold; follow the maker's safety data sheet and local rules",
        ),
    ))
}
