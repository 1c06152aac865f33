//! Film in the summary: each colour on its sheets.

use crate::Plan;
use crate::numbers::rounded;
use serde::Serialize;

#[derive(Debug, Serialize)]
pub(super) struct FilmSummary {
    colour: String,
    sheets: u32,
    sheets_mm2: f64,
    /// What stays on the pieces.
    film_mm2: f64,
    /// What it takes of a roll as wide as a sheet.
    length_mm: f64,
    /// Share of that length that does not stay on the pieces.
    waste: f64,
}

pub(super) fn film(plan: &Plan) -> Vec<FilmSummary> {
    let of_colour = plan.coats.cutting.of_colour.iter();
    of_colour
        .map(|(&colour, cutting)| FilmSummary {
            colour: plan.piece.colours[colour].name.clone(),
            sheets: cutting.count(),
            sheets_mm2: rounded(cutting.sheets_mm2(), 0),
            film_mm2: rounded(cutting.film_mm2, 1),
            length_mm: rounded(cutting.length_mm(), 2),
            waste: rounded(cutting.waste(), 4),
        })
        .collect()
}
