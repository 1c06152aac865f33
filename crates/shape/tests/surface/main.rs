//! Surfaces: measured, grown, unrolled, and refused.

mod bad_input;
mod closed_forms;
mod cups;
mod measuring;
mod properties;
mod reference;
mod unrolling;

use piece::{Measure, Run};
use shape::{Surface, SurfacePoint};

/// Measurements (along, radius) in mm, all joined in the same way.
fn measures(points: &[(f64, f64)], run: Run) -> Vec<Measure> {
    let measure = |(along_mm, radius_mm): &(f64, f64)| Measure {
        along_mm: *along_mm,
        radius_mm: *radius_mm,
        run,
        crease: false,
        radius_step_mm: 0.0,
    };
    points.iter().map(measure).collect()
}

fn wall(points: &[(f64, f64)], run: Run) -> Surface {
    Surface::revolved(&measures(points, run)).expect("sound measurements")
}

fn at(around: f64, along_mm: f64) -> SurfacePoint {
    SurfacePoint { around, along_mm }
}
