//! How much resin a turning cup holds, and how evenly.
//!
//! Source: the steady film on a turning cylinder, H. K. Moffatt, Behaviour of a viscous film on the
//! outer surface of a rotating cylinder, Journal de Mécanique 16 (1977) 651: the limit of a thin film.
//! With curvature, the weight across the film, surface tension and the pull outward the greatest mean
//! thickness on a cup is the same within 0.3 %, and its volume 0.6 to 4 % more, since the film lies on
//! a wider circle than the cup (own simulation, `tests/reference/turner.py`).

use super::Liquid;
use super::quadrature::integral;
use crate::root::sign_change;
use std::f64::consts::{PI, TAU};

/// Greatest flux that a closed film can carry, in units of `h* Ω R`.
pub const MOST_FLUX: f64 = 2.0 / 3.0;

/// Greatest load, the integral of the film round the cup in units of `h*`: [`load`] of [`MOST_FLUX`]
/// (4.44272 in Duffy & Wilson, J. Fluid Mech. 394 (1999) 29, from memory).
pub const MOST_LOAD: f64 = 4.442_723_530_91;

/// Halvings towards the place where the film bends most sharply as the load nears its limit.
const HALVINGS: u32 = 14;

/// Film at a place of a cup that carries `flux`, in units of `h*`; `theta` is counted from the
/// horizontal on the side that moves up. `None` if no closed film carries that much.
///
/// It is the smallest positive root of `η − η³/3 · cos θ = flux`.
pub fn film(flux: f64, theta: f64) -> Option<f64> {
    (0.0..=MOST_FLUX).contains(&flux).then(|| thinnest_root(flux, libm::cos(theta)))
}

fn thinnest_root(flux: f64, cos: f64) -> f64 {
    // The root by a third of an angle, written so that it loses no digits where cos is small.
    if cos > 0.0 {
        let scale = cos.sqrt();
        2.0 / scale * libm::sin(libm::asin((1.5 * flux * scale).min(1.0)) / 3.0)
    } else if cos < 0.0 {
        let scale = (-cos).sqrt();
        2.0 / scale * libm::sinh(libm::asinh(1.5 * flux * scale) / 3.0)
    } else {
        flux
    }
}

/// Load of a cup that carries `flux`: the integral of the film round it in units of `h*`. `None` if
/// no closed film carries that much.
pub fn load(flux: f64) -> Option<f64> {
    (0.0..=MOST_FLUX).contains(&flux).then(|| load_within(flux))
}

fn load_within(flux: f64) -> f64 {
    let film = |theta: f64| thinnest_root(flux, libm::cos(theta));
    let (mut sum, mut to) = (0.0, PI);
    for _ in 0..HALVINGS {
        sum += integral(&film, 0.5 * to, to);
        to *= 0.5;
    }
    // The lower half mirrors the upper one.
    2.0 * (sum + integral(&film, 0.0, to))
}

/// How far the film of a turning cup is from even.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pattern {
    /// Thickest over mean: level with the axis on the side that moves up.
    pub most: f64,
    /// Thinnest over mean: level with the axis on the side that moves down.
    pub least: f64,
}

/// Pattern of a film with this share (0 to 1) of the greatest mean thickness; `None` beyond 1. It
/// stands still in the room while the cup turns beneath it, so every spot of the cup gets the mean.
pub fn pattern(share: f64) -> Option<Pattern> {
    if !(0.0..=1.0).contains(&share) {
        return None;
    }
    if share == 0.0 {
        return Some(Pattern { most: 1.0, least: 1.0 });
    }
    let wanted = share * MOST_LOAD;
    let flux = sign_change(&|flux| load_within(flux) - wanted, 0.0, MOST_FLUX).unwrap_or(MOST_FLUX);
    let mean = wanted / TAU;
    Some(Pattern { most: thinnest_root(flux, 1.0) / mean, least: thinnest_root(flux, -1.0) / mean })
}

/// A cup that turns with its axis level, and the resin on it as it is at one moment.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Turning {
    /// Turns a minute.
    pub rpm: f64,
    /// The resin.
    pub liquid: Liquid,
    /// Its viscosity at that moment, Pa·s.
    pub viscosity_pa_s: f64,
}

impl Turning {
    /// The film that a cup of this radius carries in proportion to: `h* = √(Ω R μ / ρ g)`, mm.
    pub fn scale_mm(&self, radius_mm: f64) -> f64 {
        let speed_m_per_s = TAU * self.rpm / 60.0 * radius_mm * 1e-3;
        let scale_m = (speed_m_per_s * self.viscosity_pa_s / self.liquid.weight_n_per_m3()).sqrt();
        1e3 * scale_m
    }

    /// Greatest mean thickness that stays on a cup of this radius, mm. It is a law for each place:
    /// a slice of a tapered cup counts by itself, and a thick stripe sags even on a thin coat.
    pub fn most_film_mm(&self, radius_mm: f64) -> f64 {
        MOST_LOAD / TAU * self.scale_mm(radius_mm)
    }

    /// The slowest turning, turns a minute, that carries a mean thickness of `film_mm` at this radius,
    /// using `share` (more than 0) of the greatest that it could; [`Turning::rpm`] does not matter.
    pub fn least_rpm(&self, radius_mm: f64, film_mm: f64, share: f64) -> f64 {
        let at_one = Self { rpm: 1.0, ..*self }.most_film_mm(radius_mm);
        let times = film_mm / (share * at_one);
        times * times
    }
}
