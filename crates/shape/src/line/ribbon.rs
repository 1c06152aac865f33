//! Lines of single stones laid on a part, and the zone about them.

use super::Strokes;
use crate::SurfacePoint;
use crate::art::{Place, turn};
use crate::boolean::{Loop, Region};
use crate::copies::rows;
use crate::lie::laid_lines;
use crate::margin::ribbon;
use crate::reach::{check_corners, check_outside, check_plate};
use crate::watch::Watch;
use piece::{Diagnostic, FieldPath, PlacedArt};

/// The zone is wider than its stones by this on each side, mm, so that they lie whole inside it also where
/// it is laid over coats.
const HAIR_MM: f64 = 0.1;

/// The region that stones along the `strokes` of placed art take, and the lines on the bare part that they
/// follow. A stone takes `stone_mm`: its diameter and its gap. `at` is the path of the art.
///
/// # Errors
/// What is wrong with it; nothing once `watch` is stopped.
pub(crate) fn placed(
    art: &PlacedArt,
    stone_mm: (f64, f64),
    strokes: &Strokes,
    place: &Place,
    at: &FieldPath,
    watch: &mut Watch<'_>,
) -> Result<(Region, Vec<Vec<SurfacePoint>>), Vec<Diagnostic>> {
    let (diameter_mm, gap_mm) = stone_mm;
    let mut flat = strokes.lines(diameter_mm + gap_mm);
    turn(flat.iter_mut().flatten(), art);
    let rows = rows(art, place.surface, at)?;
    let (mut loops, mut lines): (Vec<Loop>, Vec<_>) = (Vec::new(), Vec::new());
    for (index, row) in rows.iter().enumerate() {
        let laid = laid_lines(&flat, art.lie, row.along_mm, place.surface);
        let on_wall = |p: &SurfacePoint| SurfacePoint { along_mm: row.along_mm + p.along_mm, ..*p };
        let laid: Vec<Vec<SurfacePoint>> =
            laid.iter().map(|line| line.iter().map(on_wall).collect()).collect();
        let half_mm = 0.5 * diameter_mm + HAIR_MM;
        let about: Vec<Vec<SurfacePoint>> =
            laid.iter().map(|line| ribbon(place.surface, line, half_mm)).collect();
        check_corners(&about, rows.iter().map(|row| row.around.len()).sum(), at)?;
        let row_at = if index == 0 { at.clone() } else { at.key("rows") };
        // The stones themselves may reach to the rim.
        let from_middle = |line: &Vec<SurfacePoint>| {
            let middle =
                |p: &SurfacePoint| SurfacePoint { along_mm: p.along_mm - row.along_mm, ..*p };
            line.iter().map(middle).collect::<Vec<_>>()
        };
        let reach: Vec<Vec<SurfacePoint>> = laid
            .iter()
            .map(|line| from_middle(&ribbon(place.surface, line, 0.5 * diameter_mm)))
            .collect();
        check_outside(&reach, row, place, at, &row_at)?;
        for around in &row.around {
            let turned = |p: &SurfacePoint| SurfacePoint { around: around + p.around, ..*p };
            loops.extend(about.iter().map(|one| {
                let corner = |p: &SurfacePoint| place.plane.corner(around + p.around, p.along_mm);
                one.iter().map(corner).collect::<Loop>()
            }));
            lines.extend(laid.iter().map(|line| line.iter().map(turned).collect::<Vec<_>>()));
        }
    }
    let region = place.plane.wrapped(&loops);
    if place.plane.half_turn.is_none() {
        check_plate(&region, place, at, watch)?;
    }
    Ok((region, lines))
}
