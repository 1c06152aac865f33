//! Rows that follow the zone's upper edge.

use crate::bed::Bed;

/// Lays rows from the upper edge inward.
pub fn lay(bed: &mut Bed<'_>, diameter_mm: f64) {
    let _ = (bed, diameter_mm);
}
