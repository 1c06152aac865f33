//! Where the copies of repeated art lie.

use crate::lie::middle_scale;
use crate::{Surface, SurfacePoint};
use piece::{Diagnostic, FieldPath, PlacedArt};
use std::f64::consts::{PI, TAU};

/// Copies closer than this, middle to middle, mm, are a slip of the pen.
const LEAST_PITCH_MM: f64 = 1.0;

/// Copies side by side.
pub(crate) struct Row {
    /// Where their middles lie along the wall, mm.
    pub(crate) along_mm: f64,
    /// Where their middles lie round the part.
    pub(crate) around: Vec<f64>,
}

/// The middles of all copies of art on a surface, row by row.
pub fn copies(art: &PlacedArt, surface: &Surface) -> Vec<SurfacePoint> {
    let round = surface.period().is_some();
    let rows = (0..art.rows.count.max(1)).map(|index| row(art, index, round));
    rows.flat_map(|row| {
        let along_mm = row.along_mm;
        row.around.into_iter().map(move |around| SurfacePoint { around, along_mm })
    })
    .collect()
}

/// The rows of art.
///
/// # Errors
/// Copies on a flat part, or more than fit round it.
pub(crate) fn rows(
    art: &PlacedArt,
    surface: &Surface,
    at: &FieldPath,
) -> Result<Vec<Row>, Vec<Diagnostic>> {
    let copies = art.repeat.max(1);
    let round = surface.period().is_some();
    if !round && (copies > 1 || art.rows.count > 1) {
        let key = if copies > 1 { "repeat" } else { "rows" };
        let message = "copies are spread round a revolved part, but this part is flat";
        return Err(vec![
            Diagnostic::error(at.key(key), message).hint("Write one zone for each copy."),
        ]);
    }
    let rows: Vec<Row> = (0..art.rows.count.max(1)).map(|index| row(art, index, round)).collect();
    let girths = rows.iter().map(|row| TAU * middle_scale(surface, row.along_mm));
    let girth = girths.fold(f64::INFINITY, f64::min);
    if round && girth < LEAST_PITCH_MM * f64::from(copies) {
        let message = format!("{copies} copies do not fit round a girth of {girth:.0} mm");
        return Err(vec![Diagnostic::error(at.key("repeat"), message).hint("Use fewer copies.")]);
    }
    if art.rows.count > 1 && art.rows.apart_mm < LEAST_PITCH_MM {
        let message = format!(
            "rows {} mm apart lie on each other; at least {LEAST_PITCH_MM} mm is possible",
            art.rows.apart_mm
        );
        return Err(vec![
            Diagnostic::error(at.key("rows").key("apart"), message).hint("Move them apart."),
        ]);
    }
    Ok(rows)
}

/// The row with this index.
fn row(art: &PlacedArt, index: u32, round: bool) -> Row {
    let along_mm = art.along_mm + f64::from(index) * art.rows.apart_mm;
    if !round {
        return Row { along_mm, around: vec![art.around] };
    }
    let n_copies = art.repeat.max(1);
    let step = TAU / f64::from(n_copies);
    let shift = if art.rows.half_drop && index % 2 == 1 { 0.5 * step } else { 0.0 };
    let turn = |around: f64| (around + PI).rem_euclid(TAU) - PI;
    let around = (0..n_copies)
        .map(|copy| turn(art.around + shift + TAU * f64::from(copy) / f64::from(n_copies)))
        .collect();
    Row { along_mm, around }
}
