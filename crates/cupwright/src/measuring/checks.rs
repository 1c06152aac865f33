//! Whether an answer fits those before it.

use super::ask::Typed;
use piece::units::Complaint;
use std::f64::consts::{PI, TAU};

/// Thinnest and thickest cup, mm across (common practice, no source).
const ACROSS_MM: (f64, f64) = (30.0, 200.0);
/// Longest wall, mm (common practice, no source).
const LONGEST_MM: f64 = 500.0;
/// Outside volume over stated capacity of double-walled cups, and height over diameter of any cup
/// (common practice, no source).
const OUTSIDE: (f64, f64) = (1.2, 2.2);
const SLENDER: (f64, f64) = (0.8, 5.0);
/// The mouth of a bottle over its body (common practice, no source).
const BOTTLE_MOUTH: f64 = 0.5;
/// How far off a tape and its hand may be, mm of radius.
const TAPE_MM: f64 = 0.3;

/// A girth by itself.
pub fn girth(typed: &Typed) -> Result<(), Complaint> {
    let across_mm = typed.value / PI;
    if (ACROSS_MM.0..=ACROSS_MM.1).contains(&across_mm) {
        return Ok(());
    }
    let complaint = Complaint::new(format!(
        "{} round is {across_mm:.0} mm across, and cups are {:.0} to {:.0} mm across",
        typed.text, ACROSS_MM.0, ACROSS_MM.1
    ));
    let meant = [
        (typed.value, "was it measured across instead of round? Lay the tape round the wall"),
        (typed.value * 25.4 / PI, "was it read in inches? Then add `in`"),
        (typed.value / 25.4 / PI, "was it read in mm? Then add `mm`"),
    ];
    let likely =
        meant.iter().find(|(across_mm, _)| (ACROSS_MM.0..=ACROSS_MM.1).contains(across_mm));
    Err(likely.into_iter().fold(complaint, |complaint, (_, hint)| complaint.hint(*hint)))
}

/// The girth of the mouth against what the cup is said to hold: a doubt, not a refusal.
pub fn mouth(typed: &Typed, capacity_ml: f64) -> Option<String> {
    // Of a cylinder of volume V and slenderness s, the diameter is the cube root of 4 V / (π s).
    let across = |outside: f64, slender: f64| {
        libm::cbrt(4.0 * outside * capacity_ml * 1000.0 / (PI * slender))
    };
    let (least_mm, most_mm) =
        (BOTTLE_MOUTH * across(OUTSIDE.0, SLENDER.1), across(OUTSIDE.1, SLENDER.0));
    let across_mm = typed.value / PI;
    (!(least_mm..=most_mm).contains(&across_mm)).then(|| {
        format!(
            "a cup that holds {capacity_ml:.0} ml has a mouth of {least_mm:.0} to {most_mm:.0} mm across, and this is {across_mm:.0} mm"
        )
    })
}

/// A distance from the mouth against the one before.
pub fn along(typed: &Typed, before_mm: f64) -> Result<(), Complaint> {
    if typed.value <= before_mm {
        return Err(Complaint::new(format!(
            "{} is not beyond the place before, at {before_mm:.1} mm",
            typed.text
        ))
        .hint("each distance is counted from the mouth, not from the place before"));
    }
    if typed.value > LONGEST_MM {
        return Err(Complaint::new(format!(
            "{} of wall is {:.0} mm, and no cup is longer than {LONGEST_MM:.0} mm",
            typed.text, typed.value
        ))
        .hint("check its unit"));
    }
    Ok(())
}

/// A girth against the one before, with the wall between them.
pub fn step(typed: &Typed, before: &Typed, wall_mm: f64) -> Result<(), Complaint> {
    girth(typed)?;
    let change_mm = (typed.value - before.value).abs() / TAU;
    if change_mm > wall_mm + TAPE_MM {
        return Err(Complaint::new(format!(
            "from {} to {} round, the radius changes by {change_mm:.1} mm over only {wall_mm:.1} mm of wall, which no wall can do",
            before.text, typed.text
        ))
        .hint("measure again, with the tape level and on the wall"));
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn typed(value: f64) -> Typed {
        Typed { text: format!("{value} mm"), value }
    }

    #[test]
    fn a_girth_that_was_measured_across_is_known_by_it() {
        let refused = girth(&typed(87.0)).expect_err("28 mm across");
        assert!(refused.message.contains("28 mm across"), "{refused:?}");
        assert!(refused.hints[0].contains("across instead of round"), "{refused:?}");
        let refused = girth(&typed(10.75)).expect_err("3 mm across");
        assert!(refused.hints[0].contains("inches"), "{refused:?}");
        assert!(girth(&typed(273.0)).is_ok());
    }

    #[test]
    fn the_mouth_of_every_generic_blank_fits_what_it_holds() {
        for blank in &piece::blanks::BLANKS {
            let girth_mm = blank.readings[0].diameter_mm * PI;
            let doubt = mouth(&typed(girth_mm), blank.capacity_ml());
            assert_eq!(doubt, None, "{}", blank.name);
        }
        assert!(mouth(&typed(273.0), 59.0).is_some());
    }

    #[test]
    fn a_wall_is_at_least_as_long_as_its_change_of_radius() {
        assert!(step(&typed(250.0), &typed(273.0), 3.7).is_ok());
        assert!(step(&typed(250.0), &typed(273.0), 3.0).is_err());
        assert!(along(&typed(20.0), 20.0).is_err() && along(&typed(21.0), 20.0).is_ok());
    }
}
