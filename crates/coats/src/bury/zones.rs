//! What of a piece clear resin has to bury: its glitter, and the edges of its film and paint.

use super::{Burial, BuryKind, BuryPlan, Relief, bury, bury_plan};
use crate::{Waits, glitter};
use piece::settings::{GLITTER_BED_MM, GlitterProduct};
use piece::{Finish, Piece, Settings};

/// A clear coat where none is planned yet, mm (common practice, no source).
pub(crate) const USUAL_FILM_MM: f64 = 0.2;

/// Thickness of the clear coat under or over a zone, mm, if there is one.
type FilmOf<'a> = &'a dyn Fn(usize) -> Option<f64>;

/// How the edges of a zone of film or paint are buried until it can be sanded.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BuriedEdge {
    /// Index of the zone.
    pub zone: usize,
    /// Height of the step at its edge, mm.
    pub step_mm: f64,
    /// Thickness of the coats over it, mm.
    pub film_mm: f64,
    /// How many of them it takes.
    pub burial: Burial,
}

/// The coats that bury each zone of glitter, with its index. `under` tells how thick the bed of a zone is,
/// `over` how thick the first clear coat over it, mm, if there is one.
pub(crate) fn buried(
    piece: &Piece,
    settings: &Settings,
    waits: &Waits,
    (under, over): (FilmOf<'_>, FilmOf<'_>),
) -> Vec<(usize, BuryPlan)> {
    let GlitterProduct { sanding_mm, cover_mm, .. } = settings.glitter;
    let each = piece.zones.iter().enumerate().filter_map(|(index, zone)| {
        let Finish::Glitter { flake_mm, layers, pressed, .. } = zone.finish else { return None };
        let flakes = glitter::sprinkled(flake_mm, layers, pressed, &settings.glitter);
        let film_mm = over(index).unwrap_or(USUAL_FILM_MM);
        let mut plan = bury_plan(Some(&flakes), film_mm, waits.recoat_min, sanding_mm, cover_mm);
        let beds = plan.coats.iter_mut().filter(|coat| coat.kind == BuryKind::Bed);
        for (layer, bed) in beds.enumerate() {
            let first = if layer == 0 { under(index) } else { None };
            bed.film_mm = first.unwrap_or(GLITTER_BED_MM);
        }
        Some((index, plan))
    });
    each.collect()
}

/// The coats that bury the edges of film and paint that clear resin goes over, as if each shape were small
/// and alone.
pub(crate) fn edges(piece: &Piece, settings: &Settings, over: FilmOf<'_>) -> Vec<BuriedEdge> {
    let GlitterProduct { sanding_mm, cover_mm, .. } = settings.glitter;
    let each = piece.zones.iter().enumerate().filter_map(|(zone, described)| {
        let step_mm = match &described.finish {
            Finish::Vinyl { .. } => settings.vinyl.film_mm,
            Finish::Paint { coats, .. } => settings.paint.film_mm * f64::from(*coats),
            _ => return None,
        };
        let film_mm = over(zone)?;
        let burial = bury(Relief::edge(step_mm, 0.0), film_mm, sanding_mm, cover_mm);
        Some(BuriedEdge { zone, step_mm, film_mm, burial })
    });
    each.collect()
}
