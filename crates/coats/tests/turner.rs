//! The coat on the turning cup against closed forms, papers and a reference in SciPy.

#[path = "turner/always.rs"]
mod always;
#[path = "turner/reference.rs"]
mod reference;
#[path = "turner/worked.rs"]
mod worked;

use coats::turner::Liquid;

/// A clear epoxy, 1.1 g/ml and 35 mN/m (from memory).
const CLEAR: Liquid = Liquid { density_g_per_ml: 1.1, surface_tension_n_per_m: 0.035 };

fn near(found: f64, expected: f64, tolerance: f64) {
    assert!((found - expected).abs() <= tolerance, "{found} is not {expected} within {tolerance}");
}

/// Within a share of what is expected.
fn close(found: f64, expected: f64, share: f64) {
    near(found, expected, share * expected.abs());
}
