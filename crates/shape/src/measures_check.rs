//! Whether tape measurements can be those of a wall.

use piece::{Diagnostic, FieldPath, Measure};

/// Lengths this near to each other are the same length, mm.
pub(crate) const SAME_MM: f64 = 1e-6;
/// Parts longer or wider than this are taken for a slip of the pen, mm.
const LARGEST_MM: f64 = 2_000.0;

/// Finds all that keeps the measurements from being a wall. `path` is where their list lives.
pub(crate) fn check_measures(
    measures: &[Measure],
    path: &FieldPath,
) -> Result<(), Vec<Diagnostic>> {
    let mut faults = Vec::new();
    if measures.len() < 2 {
        faults.push(
            Diagnostic::error(
                path.clone(),
                format!(
                    "a revolved part needs at least two measurements, found {}",
                    measures.len()
                ),
            )
            .hint("measure the girth at the rim and at the foot"),
        );
    }
    for (i, measure) in measures.iter().enumerate() {
        let at = path.index(i);
        let sound = |value: f64| value.is_finite() && (0.0..=LARGEST_MM).contains(&value);
        if ![measure.along_mm, measure.radius_mm, measure.radius_step_mm].into_iter().all(sound) {
            faults.push(Diagnostic::error(
                at,
                format!(
                    "found {} mm along and a radius of {} mm read to {} mm, all must be between 0 and {LARGEST_MM} mm",
                    measure.along_mm, measure.radius_mm, measure.radius_step_mm
                ),
            ));
        } else if i == 0 && measure.along_mm != 0.0 {
            faults.push(
                Diagnostic::error(
                    at,
                    format!(
                        "the first measurement is {} mm along, but distances are counted from it",
                        measure.along_mm
                    ),
                )
                .hint("write along = \"0 mm\" for the first and count the others from there"),
            );
        } else if measure.radius_mm == 0.0 && i != 0 && i + 1 != measures.len() {
            faults.push(
                Diagnostic::error(at, "the radius is 0 between two other measurements")
                    .hint("a wall can only close at its first or last measurement"),
            );
        }
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    for (i, pair) in measures.windows(2).enumerate() {
        let at = path.index(i + 1);
        let length_mm = pair[1].along_mm - pair[0].along_mm;
        let change_mm = (pair[1].radius_mm - pair[0].radius_mm).abs();
        if length_mm <= 0.0 {
            faults.push(
                Diagnostic::error(
                    at,
                    format!(
                        "found {} mm along after {} mm, each distance must be larger than the one before",
                        pair[1].along_mm, pair[0].along_mm
                    ),
                )
                .hint("list the measurements in order from the rim down"),
            );
        } else if change_mm > length_mm * (1.0 + 1e-9) + SAME_MM {
            faults.push(
                Diagnostic::error(
                    at,
                    format!(
                        "the wall from {:.1} mm to {:.1} mm is {length_mm:.1} mm long, but its radius changes by {change_mm:.1} mm there, which is more than its length",
                        pair[0].along_mm, pair[1].along_mm
                    ),
                )
                .hint("lay the tape on the wall itself to measure `along`, and check whether a girth was typed as a diameter"),
            );
        }
    }
    if measures.iter().all(|measure| measure.radius_mm == 0.0) {
        faults.push(Diagnostic::error(path.clone(), "every radius is 0, so there is no surface"));
    }
    if faults.is_empty() { Ok(()) } else { Err(faults) }
}
