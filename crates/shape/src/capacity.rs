//! Whether the measurements fit the capacity that the maker states.

use piece::{Diagnostic, FieldPath, Part, PartRole, Walls};

/// Outside volume over stated capacity. Of double-walled steel cups walls, vacuum and headroom take the
/// rest; of single-walled ones a wall of 0.5 to 6 mm and headroom. Common practice, no source.
const DOUBLE: (f64, f64) = (1.2, 2.2);
const SINGLE: (f64, f64) = (1.0, 1.7);

/// What a body usually encloses, and which kind it is told as. A part with a handle whose wall nobody told
/// may be a mug or a travel cup.
fn usual(part: &Part) -> ((f64, f64), &'static str) {
    match part.walls {
        Some(Walls::Single) => (SINGLE, "single-walled cups"),
        None if part.handle.is_some() => ((SINGLE.0, DOUBLE.1), "cups with a handle"),
        Some(Walls::Double) | None => (DOUBLE, "double-walled cups"),
    }
}

/// Compares the volume that a body encloses outside with what it is said to hold. `path` is that of the
/// part.
pub(crate) fn check_capacity(outside_ml: f64, part: &Part, path: &FieldPath) -> Option<Diagnostic> {
    let capacity_ml = part.capacity_ml.filter(|_| part.role == PartRole::Body)?;
    let path = path.key("capacity");
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
    let ((least, most), which) = usual(part);
    if ratio < least || ratio > most {
        let usual = format!(
            "{measured}; {which} usually enclose {least:.1} to {most:.1} times what they hold"
        );
        let warning = Diagnostic::warning(path, usual).hint(hint);
        // A thin wall is what else can be meant.
        let thin = part.walls.is_none() && ratio < least && ratio >= SINGLE.0;
        return Some(if thin {
            warning.hint("if its wall is a single one, say wall = \"single\"")
        } else {
            warning
        });
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;
    use piece::{Form, Handle, Severity};

    fn cup(capacity_ml: f64, walls: Option<Walls>) -> Part {
        Part {
            name: "body".to_owned(),
            role: PartRole::Body,
            capacity_ml: Some(capacity_ml),
            walls,
            form: Form::Revolved(Vec::new()),
            blank_colour: None,
            seat: None,
            handle: None,
            fit: piece::Fit::default(),
        }
    }

    fn severity(outside_ml: f64, part: &Part) -> Option<Severity> {
        check_capacity(outside_ml, part, &FieldPath::root()).map(|found| found.severity)
    }

    #[test]
    fn a_cup_cannot_hold_more_than_its_outside() {
        let cup_of = |capacity_ml| cup(capacity_ml, None);
        assert_eq!(severity(500.0, &cup_of(591.0)), Some(Severity::Error));
        assert_eq!(severity(650.0, &cup_of(591.0)), Some(Severity::Warning));
        assert_eq!(severity(828.0, &cup_of(591.0)), None);
        assert_eq!(severity(1400.0, &cup_of(591.0)), Some(Severity::Warning));
        assert_eq!(severity(1400.0, &cup_of(f64::NAN)), Some(Severity::Error));
        assert_eq!(severity(1400.0, &cup_of(0.0)), Some(Severity::Error));
    }

    /// An enamel mug of 90 mm across and 80 mm high with a wall of 0.8 mm encloses
    /// π/4 · 90² · 80 = 509 ml, and holds π/4 · 88.4² · 79.2 = 486 ml to the brim.
    #[test]
    fn a_thin_mug_may_hold_nearly_all_that_it_encloses() {
        assert_eq!(severity(509.0, &cup(486.0, Some(Walls::Single))), None);
        assert_eq!(severity(509.0, &cup(486.0, Some(Walls::Double))), Some(Severity::Warning));
        let told = check_capacity(509.0, &cup(486.0, None), &FieldPath::root()).expect("a warning");
        assert!(told.hints.iter().any(|hint| hint.contains("single")), "{told:?}");
        let mut mug = cup(486.0, None);
        mug.handle = Some(Handle {
            along_mm: (10.0, 70.0),
            around_rad: 1.57,
            width_mm: 20.0,
            clearance_mm: 0.0,
            beneath: Vec::new(),
        });
        assert_eq!(severity(509.0, &mug), None);
        assert_eq!(severity(1000.0, &mug), None);
        assert_eq!(severity(1000.0, &cup(486.0, Some(Walls::Single))), Some(Severity::Warning));
    }
}
