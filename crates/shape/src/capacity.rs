//! Whether the measurements fit the capacity that the maker states.

use piece::{Diagnostic, FieldPath};

/// Outside volume over stated capacity of double-walled steel cups: walls, vacuum and headroom take
/// the rest. Common practice, no source.
const USUAL: (f64, f64) = (1.2, 2.2);

/// Compares the volume that a body encloses outside with what it is said to hold.
pub(crate) fn check_capacity(
    outside_ml: f64,
    capacity_ml: Option<f64>,
    part: &FieldPath,
) -> Option<Diagnostic> {
    let capacity_ml = capacity_ml?;
    let path = part.key("capacity");
    let ratio = outside_ml / capacity_ml;
    if !(capacity_ml > 0.0 && capacity_ml.is_finite()) {
        let message = format!("found a capacity of {capacity_ml} ml, it must be more than 0");
        return Some(Diagnostic::error(path, message));
    }
    let measured = format!(
        "by its measurements the outside encloses {outside_ml:.0} ml, and {capacity_ml:.0} ml are said to fit in"
    );
    let hint =
        "check whether a girth was typed as a diameter, and whether lengths are in inches or mm";
    if ratio < 1.0 {
        return Some(
            Diagnostic::error(path, format!("{measured}, which is impossible")).hint(hint),
        );
    }
    if ratio < USUAL.0 || ratio > USUAL.1 {
        let usual = format!(
            "{measured}; double-walled cups usually enclose {} to {} times what they hold",
            USUAL.0, USUAL.1
        );
        return Some(Diagnostic::warning(path, usual).hint(hint));
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;
    use piece::Severity;

    fn severity(outside_ml: f64, capacity_ml: f64) -> Option<Severity> {
        check_capacity(outside_ml, Some(capacity_ml), &FieldPath::root()).map(|d| d.severity)
    }

    #[test]
    fn a_cup_cannot_hold_more_than_its_outside() {
        assert_eq!(severity(500.0, 591.0), Some(Severity::Error));
        assert_eq!(severity(650.0, 591.0), Some(Severity::Warning));
        assert_eq!(severity(828.0, 591.0), None);
        assert_eq!(severity(1400.0, 591.0), Some(Severity::Warning));
        assert_eq!(severity(1400.0, f64::NAN), Some(Severity::Error));
        assert_eq!(severity(1400.0, 0.0), Some(Severity::Error));
    }
}
