//! Lengths and areas as people read them: fractions of an inch as on the tape, with millimetres beside.
//!
//! A soft tape is marked in sixteenths or thirty-seconds of an inch, so that is what can be measured;
//! the millimetres beside it are what the plan was worked out in.
//! Factor: NIST SP 811 (2008), appendix B.8: 1 in = 25.4 mm exactly.

use crate::inches::Inches;
use crate::settings::LengthUnit;

/// One inch, mm.
const INCH_MM: f64 = 25.4;
/// Marks of the tape in an inch.
const MARKS: u64 = 32;
/// Marks in an inch for what is finer than the tape's.
const FINE_MARKS: u64 = 64;

/// A length for people: `6 11/32 in (161 mm)` or `161 mm`. What is finer than a mark of the tape is
/// told as [`fine`] tells it.
pub fn show(mm: f64, unit: LengthUnit) -> String {
    match unit {
        LengthUnit::Millimetres => format!("{} mm", tenths(mm)),
        LengthUnit::Inches if mm == 0.0 => "0 in (0 mm)".to_owned(),
        LengthUnit::Inches if mm.abs() < INCH_MM / MARKS as f64 => fine(mm, unit),
        LengthUnit::Inches => format!("{} ({} mm)", inches(mm), tenths(mm)),
    }
}

/// The unit that most lengths of the text of a file are in.
pub fn typed_in(text: &str) -> LengthUnit {
    Inches::of(text).unit()
}

/// The inches of [`show`] alone, as they are typed into a piece file: `6 11/32 in`.
pub fn inches(mm: f64) -> String {
    format!("{} in", fraction(mm, MARKS))
}

/// A length that is thought of in millimetres, such as a flake or a gap between stones: `0.4 mm
/// (1/64 in)`, `0.1 mm`. The inches are told only where a 64th is no more than half of it off.
pub fn fine(mm: f64, unit: LengthUnit) -> String {
    let text = format!("{mm:.2}");
    let metric = format!("{} mm", text.trim_end_matches('0').trim_end_matches('.'));
    let marks = mm.abs() / INCH_MM * FINE_MARKS as f64;
    match unit {
        LengthUnit::Inches if (marks.round() - marks).abs() <= 0.5 * marks => {
            format!("{metric} ({} in)", fraction(mm, FINE_MARKS))
        }
        _ => metric,
    }
}

/// An area for people: `45 in²` or `292 cm²`; below ten with a digit after the point.
pub fn area(mm2: f64, unit: LengthUnit) -> String {
    let (area, name) = match unit {
        LengthUnit::Millimetres => (mm2 / 100.0, "cm²"),
        LengthUnit::Inches => (mm2 / (INCH_MM * INCH_MM), "in²"),
    };
    if area < 9.95 { format!("{} {name}", tenths(area)) } else { format!("{area:.0} {name}") }
}

/// Inches to the nearest of so many marks, reduced: `6 11/32`, `3/8`, `-2`.
fn fraction(mm: f64, marks: u64) -> String {
    let count = (mm.abs() / INCH_MM * marks as f64).round().min(1e15) as u64;
    let minus = if mm < 0.0 && count > 0 { "-" } else { "" };
    let (whole, rest) = (count / marks, count % marks);
    // The marks are a power of two, so what both share is a power of two as well.
    let shared = if rest == 0 { 1 } else { 1 << rest.trailing_zeros() };
    let (top, bottom) = (rest / shared, marks / shared);
    match (whole, rest) {
        (whole, 0) => format!("{minus}{whole}"),
        (0, _) => format!("{minus}{top}/{bottom}"),
        (whole, _) => format!("{minus}{whole} {top}/{bottom}"),
    }
}

/// At most one digit after the point.
fn tenths(amount: f64) -> String {
    let text = format!("{amount:.1}");
    let text = text.strip_suffix(".0").unwrap_or(&text);
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::LENGTH;

    #[test]
    fn lengths_read_as_on_the_tape_with_millimetres_beside() {
        // 161 / 25.4 = 6.3386, and 6 11/32 = 6.34375 (NIST SP 811: 1 in = 25.4 mm).
        assert_eq!(show(161.0, LengthUnit::Inches), "6 11/32 in (161 mm)");
        assert_eq!(show(50.8, LengthUnit::Inches), "2 in (50.8 mm)");
        assert_eq!(show(9.525, LengthUnit::Inches), "3/8 in (9.5 mm)");
        assert_eq!(show(0.0, LengthUnit::Inches), "0 in (0 mm)");
        assert_eq!(show(-12.7, LengthUnit::Inches), "-1/2 in (-12.7 mm)");
        assert_eq!(show(161.04, LengthUnit::Millimetres), "161 mm");
    }

    #[test]
    fn what_is_finer_than_the_tape_has_no_false_digits() {
        assert_eq!(fine(0.4, LengthUnit::Inches), "0.4 mm (1/64 in)");
        assert_eq!(fine(0.1, LengthUnit::Inches), "0.1 mm");
        assert_eq!(fine(1.9, LengthUnit::Inches), "1.9 mm (5/64 in)");
        assert_eq!(fine(0.4, LengthUnit::Millimetres), "0.4 mm");
        assert_eq!(show(0.5, LengthUnit::Inches), "0.5 mm (1/64 in)");
    }

    #[test]
    fn areas_keep_to_the_system_of_the_lengths() {
        // 1 in² = 645.16 mm² (NIST SP 811, appendix B.8).
        assert_eq!(area(64516.0, LengthUnit::Inches), "100 in²");
        assert_eq!(area(645.16, LengthUnit::Inches), "1 in²");
        assert_eq!(area(29234.0, LengthUnit::Millimetres), "292 cm²");
    }

    #[test]
    fn inches_shown_are_read_back_within_half_a_mark() {
        for tenth in 8..4000_i32 {
            let mm = f64::from(tenth) / 10.0;
            let read = LENGTH.parse(&inches(mm)).expect("shown as it may be typed");
            assert!((read - mm).abs() <= 25.4 / 64.0 + 1e-9, "{mm} was shown as {read}");
        }
    }
}
