//! What to say of flat backs that stand off a curved wall where no bond line is set.

use crate::Stone;
use crate::asked::Asked;
use crate::limits::{rise_mm, widest_mm};
use piece::{Diagnostic, FieldPath};
use shape::Surface;
use std::collections::BTreeMap;

/// What glue commonly fills under the edge of a flat back, mm (common practice, no source).
const FILLED_MM: f64 = 0.2;

/// Stones of one size so near to each other along the wall, mm, stand off it alike.
const ALIKE_MM: f64 = 0.5;

/// No stones are set by hand that are smaller, mm (common practice, no source).
const LEAST_STONE_MM: f64 = 1.0;

/// Steps in which a bond line is proposed, mm.
const STEP_MM: f64 = 0.05;

/// A warning of stones whose flat backs stand higher off a curved wall than glue commonly fills; a finish
/// with a rule on its bond line has said what its own glue fills.
pub fn off_the_curve(
    surface: &Surface,
    asked: &Asked<'_>,
    stones: &[Stone],
    path: &FieldPath,
    zone: &str,
) -> Option<Diagnostic> {
    if asked.finish.rules.bond_line_mm.is_some() || surface.period().is_none() {
        return None;
    }
    let mut known: BTreeMap<(usize, i64), f64> = BTreeMap::new();
    let mut worst: Option<(f64, &Stone)> = None;
    let mut count = 0;
    for stone in stones {
        let along_mm = stone.at.along_mm;
        let place = (stone.size, (along_mm / ALIKE_MM).floor() as i64);
        let rise_mm = *known
            .entry(place)
            .or_insert_with(|| rise_mm(surface, along_mm, stone.diameter_mm / 2.0));
        if rise_mm <= FILLED_MM {
            continue;
        }
        count += 1;
        if worst.is_none_or(|(most_mm, _)| rise_mm > most_mm) {
            worst = Some((rise_mm, stone));
        }
    }
    let (most_mm, stone) = worst?;
    let size = asked.finish.sizes[stone.size].in_words();
    let stand = if count == 1 { "1 stone stands" } else { &format!("{count} stones stand") };
    let text = format!(
        "{stand} off the curved wall in zone \"{zone}\": the flat back of {size} by up to \
         {most_mm:.2} mm under its edge (about r² ÷ 2R), more than the {FILLED_MM} mm that glue \
         commonly fills"
    );
    let widest_mm = widest_mm(surface, stone.at.along_mm, FILLED_MM);
    let bond_mm = (most_mm / STEP_MM).ceil() * STEP_MM;
    let fitting = if widest_mm < LEAST_STONE_MM {
        "Begin the zone farther from the tip".to_owned()
    } else {
        format!("Choose stones up to {:.1} mm there", (10.0 * widest_mm).floor() / 10.0)
    };
    Some(Diagnostic::warning(path.clone(), text).hint(format!(
        "{fitting}; or, if your glue fills as much, write bond_line = \"{bond_mm:.2} mm\" in \
         stone_rules, which keeps any that would stand higher out"
    )))
}
