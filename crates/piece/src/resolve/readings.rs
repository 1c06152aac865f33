//! Readings of a tape: turned into radii, and checked against each other.

use super::parts::LARGEST_MM;
use super::{Bench, mm};
use crate::file::part::{MeasureFile, RunFile};
use crate::{Diagnostic, FieldPath, Measure, Run};
use std::f64::consts::PI;

/// Largest radius, mm.
const LARGEST_RADIUS_MM: f64 = 500.0;
/// A body thinner than this, mm across, is most often a slip of the unit (common practice, no source).
const LEAST_BODY_MM: f64 = 30.0;
/// Two straight runs that meet at more than this make a crease, radians (5 degrees).
const CREASE_RAD: f64 = 5.0 * PI / 180.0;
/// What two readings may be off against each other: a tape read to 1/16 inch of girth is 0.25 mm of
/// radius, and the distance along the wall is no better; common practice, no source.
const TAPE_MM: f64 = 0.3;

/// The readings of a wall; those of a `body` are looked at more closely. `step_mm` is how finely each was
/// taken.
pub(super) fn revolved(
    file: &[MeasureFile],
    body: bool,
    step_mm: f64,
    path: &FieldPath,
    bench: &mut Bench<'_>,
) -> Vec<Measure> {
    let mut measures: Vec<Measure> = file
        .iter()
        .enumerate()
        .map(|(index, one)| measure(one, (index, file.len()), step_mm, &path.index(index), bench))
        .collect();
    if body {
        for (index, (typed, measure)) in file.iter().zip(&measures).enumerate() {
            girth_of_body(typed, measure, index, file.len(), &path.index(index), bench);
        }
    }
    if let Some(first) = measures.first().filter(|first| first.along_mm != 0.0) {
        bench.error_hint(
            &path.index(0).key("along"),
            format!(
                "the first measurement lies at {}; measuring starts at 0 mm",
                mm(first.along_mm)
            ),
            "set along = \"0 mm\" at the rim (of a lid: at the edge of its hole or in its middle)",
        );
    }
    for index in 1..measures.len() {
        let before = measures[index - 1];
        steepness(&before, &mut measures[index], &path.index(index), bench);
    }
    if let Some(last) = measures.last()
        && last.along_mm > LARGEST_MM
    {
        let message = format!(
            "the wall is {} long; more than {} is not a cup",
            mm(last.along_mm),
            mm(LARGEST_MM)
        );
        bench.error(&path.index(measures.len() - 1).key("along"), message);
    }
    for at in 1..measures.len().saturating_sub(1) {
        let turn_rad = match (
            slope_rad(&measures[at - 1], &measures[at]),
            slope_rad(&measures[at], &measures[at + 1]),
        ) {
            (Some(before), Some(after)) => (after - before).abs(),
            _ => 0.0,
        };
        measures[at].crease |= turn_rad > CREASE_RAD;
    }
    measures
}

fn measure(
    file: &MeasureFile,
    (index, count): (usize, usize),
    step_mm: f64,
    path: &FieldPath,
    bench: &mut Bench<'_>,
) -> Measure {
    let (key, what, typed_mm) = typed_of(file);
    let per_radius = match key {
        "circumference" => 2.0 * PI,
        "diameter" => 2.0,
        _ => 1.0,
    };
    let at_end = index == 0 || index + 1 == count;
    if typed_mm < 0.0 || (typed_mm == 0.0 && !at_end) {
        let message = format!("{what} is {}; it must be more than 0 mm", mm(typed_mm));
        if typed_mm == 0.0 {
            bench.error_hint(
                &path.key(key),
                message,
                "only the first or the last measurement can be 0, in the middle of a lid",
            );
        } else {
            bench.error(&path.key(key), message);
        }
    } else if typed_mm / per_radius > LARGEST_RADIUS_MM {
        let most_mm = LARGEST_RADIUS_MM * per_radius;
        bench.error(
            &path.key(key),
            format!("{what} is {}; more than {} is not a cup", mm(typed_mm), mm(most_mm)),
        );
    }
    Measure {
        along_mm: file.along.0,
        radius_mm: typed_mm / per_radius,
        run: match file.run {
            RunFile::Straight => Run::Straight,
            RunFile::Smooth => Run::Smooth,
        },
        crease: file.crease,
        radius_step_mm: step_mm / per_radius,
    }
}

/// Refuses a body that ends in a point, and asks after one thinner than any cup: most often a slip of
/// the unit.
fn girth_of_body(
    file: &MeasureFile,
    measure: &Measure,
    index: usize,
    count: usize,
    path: &FieldPath,
    bench: &mut Bench<'_>,
) {
    let (key, what, typed_mm) = typed_of(file);
    let at_end = index == 0 || index + 1 == count;
    if typed_mm == 0.0 && at_end {
        let place = if index == 0 { "rim" } else { "foot" };
        bench.error_hint(
            &path.key(key),
            format!("{what} is 0 mm at the {place} of a body, so that it ends in a point"),
            format!("measure across the {place}, where the wall ends"),
        );
    } else if typed_mm > 0.0 && measure.radius_mm < LEAST_BODY_MM / 2.0 {
        let number = mm(typed_mm).replace(" mm", "");
        let hint = if typed_mm * 25.4 < LARGEST_RADIUS_MM {
            format!("check its unit: did you mean \"{number} in\"?")
        } else {
            "check its unit".to_owned()
        };
        let message = format!(
            "{what} is {} here; a body thinner than {LEAST_BODY_MM} mm is no cup",
            mm(typed_mm)
        );
        bench.diagnostics.push(Diagnostic::warning(path.key(key), message).hint(hint));
    }
}

/// The key, the name and the length of what was measured.
fn typed_of(file: &MeasureFile) -> (&'static str, &'static str, f64) {
    match (file.circumference, file.diameter, file.radius) {
        (Some(length), _, _) => ("circumference", "the circumference", length.0),
        (_, Some(length), _) => ("diameter", "the diameter", length.0),
        (_, _, Some(length)) => ("radius", "the radius", length.0),
        (None, None, None) => ("along", "the radius", 0.0),
    }
}

/// Refuses a wall steeper than its length. What a tape can't tell from level becomes level.
fn steepness(before: &Measure, after: &mut Measure, path: &FieldPath, bench: &mut Bench<'_>) {
    let along_mm = after.along_mm - before.along_mm;
    let across_mm = (after.radius_mm - before.radius_mm).abs();
    if along_mm <= 0.0 {
        bench.error_hint(
            &path.key("along"),
            format!("this measurement lies at {}, not beyond the one before it at {}", mm(after.along_mm), mm(before.along_mm)),
            "list the measurements from the rim down; each lies farther along the wall than the one before",
        );
    } else if across_mm > along_mm && across_mm <= along_mm + TAPE_MM {
        let outward = (after.radius_mm - before.radius_mm).signum();
        after.radius_mm = before.radius_mm + outward * along_mm;
    } else if across_mm > along_mm {
        bench.error_hint(
            path,
            format!(
                "the radius changes by {} over only {} of wall, which no wall can do",
                mm(across_mm),
                mm(along_mm)
            ),
            "`along` is measured with the tape on the wall, not straight down: it is at least as long as the change of the radius",
        );
    }
}

/// Angle of a straight run against the axis, radians; `None` for smooth runs and impossible ones.
fn slope_rad(before: &Measure, after: &Measure) -> Option<f64> {
    let along_mm = after.along_mm - before.along_mm;
    let sine = (after.radius_mm - before.radius_mm) / along_mm;
    (after.run == Run::Straight && along_mm > 0.0).then(|| libm::asin(sine.clamp(-1.0, 1.0)))
}
