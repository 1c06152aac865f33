//! Zones in the summary: how they are filled, and how their film lies.

use crate::Plan;
use crate::filled::QualitySummary;
use crate::numbers::rounded;
use crate::words;
use coats::FilmLie;
use serde::Serialize;

#[derive(Debug, Serialize)]
pub(super) struct ZoneSummary<'a> {
    name: &'a str,
    part: &'a str,
    finish: &'static str,
    area_mm2: f64,
    /// Null if it has another finish, as are all that follow.
    stones: Option<usize>,
    /// Sum of the stones' circles over the area.
    coverage: Option<f64>,
    /// The same with each diameter grown by the gap.
    effective_coverage: Option<f64>,
    quality: Option<QualitySummary>,
    /// Null but for film on a wall that is curved both ways.
    film: Option<LieSummary>,
}

/// How film lies where the wall is curved both ways: shares of a length, places round from the front in degrees and along the wall.
#[derive(Debug, Serialize)]
struct LieSummary {
    stretch: f64,
    stretch_around_deg: f64,
    stretch_along_mm: f64,
    squeeze: f64,
    squeeze_around_deg: f64,
    squeeze_along_mm: f64,
    /// Stretch of the same film laid so taut that nothing is squeezed.
    taut: f64,
    /// What the studio's film bears.
    bears: f64,
    relief_cuts: usize,
    wedge_mm: f64,
}

impl LieSummary {
    fn of(lie: &FilmLie, bears: f64) -> Self {
        let strain = &lie.strain;
        Self {
            stretch: rounded(strain.stretch, 5),
            stretch_around_deg: rounded(strain.stretch_at.around.to_degrees(), 1),
            stretch_along_mm: rounded(strain.stretch_at.along_mm, 1),
            squeeze: rounded(strain.squeeze, 5),
            squeeze_around_deg: rounded(strain.squeeze_at.around.to_degrees(), 1),
            squeeze_along_mm: rounded(strain.squeeze_at.along_mm, 1),
            taut: rounded(strain.taut(), 5),
            bears,
            relief_cuts: lie.cuts,
            wedge_mm: rounded(lie.wedge_mm, 2),
        }
    }
}

pub(super) fn zones(plan: &Plan) -> Vec<ZoneSummary<'_>> {
    plan.piece
        .zones
        .iter()
        .zip(&plan.shape.zones)
        .enumerate()
        .map(|(index, (zone, shape))| {
            let filled = plan.stones.zones.iter().find(|filled| filled.zone == index);
            let film = plan.coats.films.iter().find(|film| film.zone == index);
            ZoneSummary {
                name: &zone.name,
                part: &plan.piece.parts[zone.part].name,
                finish: words::finish(&zone.finish),
                area_mm2: rounded(shape.area_mm2, 1),
                stones: filled.map(|filled| filled.count),
                coverage: filled.map(|filled| rounded(filled.coverage, 4)),
                effective_coverage: filled.map(|filled| rounded(filled.effective_coverage, 4)),
                quality: filled.map(QualitySummary::of),
                film: film
                    .and_then(|film| film.lie.as_ref())
                    .map(|lie| LieSummary::of(lie, plan.settings.vinyl.stretch)),
            }
        })
        .collect()
}
