//! The fat ring inside a rim or a line of tape.
//!
//! Surface tension draws resin from the thin edge into a ridge beside it; by turning, gravity averages
//! out. The film equation `h_t + (σ h³ h_xxx)_x / 3μ = 0` with an edge that stays where it is has one
//! shape, which widens with `ℓ = (σ h³ Φ / 3)^¼` as the fluidity Φ adds up.
//! Source of its numbers: own simulation, `tests/reference/turner.py`, with an edge a tenth as high as
//! the coat; edges of a fifth and a twentieth move them by less than 4 %.

use super::Liquid;

/// Where the ridge is highest, in `ℓ` from the edge, and how high, in films.
const RIDGE: (f64, f64) = (2.80, 1.227);
/// Where the shallow trough behind it is lowest, and how low.
const TROUGH: (f64, f64) = (6.54, 0.978);
/// Up to here the film is thinner than nine tenths.
const THIN: f64 = 1.14;

/// A coat beside an edge when it gels.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Edge {
    /// `ℓ`, mm, which all its lengths go with.
    pub scale_mm: f64,
    /// From the edge to where the ring is fattest, mm.
    pub ridge_at_mm: f64,
    /// Thickness there, mm.
    pub ridge_mm: f64,
    /// From the edge to the shallow trough behind the ring, mm.
    pub trough_at_mm: f64,
    /// Thickness there, mm.
    pub trough_mm: f64,
    /// So far from the edge the film is thinner than nine tenths of the coat, mm.
    pub thin_to_mm: f64,
}

/// What a coat of `film_mm` looks like beside a rim or a line of tape, once the resin has had this
/// fluidity. It holds while the ring is far from the other edge.
pub fn edge(liquid: &Liquid, film_mm: f64, fluidity_per_pa: f64) -> Edge {
    let film_m = film_mm * 1e-3;
    let drawn = liquid.surface_tension_n_per_m * film_m * film_m * film_m * fluidity_per_pa / 3.0;
    let scale_mm = 1e3 * drawn.sqrt().sqrt();
    Edge {
        scale_mm,
        ridge_at_mm: RIDGE.0 * scale_mm,
        ridge_mm: RIDGE.1 * film_mm,
        trough_at_mm: TROUGH.0 * scale_mm,
        trough_mm: TROUGH.1 * film_mm,
        thin_to_mm: THIN * scale_mm,
    }
}
