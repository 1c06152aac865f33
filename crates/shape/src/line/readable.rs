//! Whether a name or a drawing in single stones can be read.

use super::Strokes;
use crate::Surface;
use crate::art::{Drawn, inked};
use crate::readable::{letter_at, too_wide};
use crate::watch::Watch;
use piece::{Art, ArtSize, Diagnostic, FieldPath, PlacedArt, Zone};

/// Warns of strokes too near to each other for the stones, which take their diameter and gap, and of
/// lettering too wide to be read from one side. `at` is the path of the art.
pub(crate) fn readable(
    zone: &Zone,
    art: &PlacedArt,
    stone_mm: (f64, f64),
    surface: &Surface,
    at: &FieldPath,
    watch: &mut Watch<'_>,
) -> Vec<Diagnostic> {
    // It could be set before, so it can be again; a drawing of lines alone need not cover anything.
    let letters = match art.art {
        Art::Lettering { .. } => inked(art, surface, at, watch).ok(),
        _ => None,
    };
    let wide = letters.as_ref().and_then(|drawn| too_wide(zone, art, &drawn.ink, surface, at));
    let close = too_close(zone, art, stone_mm, surface, at, letters.as_ref(), watch);
    wide.into_iter().chain(close).collect()
}

/// Strokes that come nearer to each other than single stones along them can lie.
fn too_close(
    zone: &Zone,
    art: &PlacedArt,
    (diameter_mm, gap_mm): (f64, f64),
    surface: &Surface,
    at: &FieldPath,
    letters: Option<&Drawn>,
    watch: &mut Watch<'_>,
) -> Option<Diagnostic> {
    let pitch_mm = diameter_mm + gap_mm;
    let strokes = Strokes::new(art, surface, pitch_mm, at, watch).ok()?;
    let (place, times) = strokes.too_small(pitch_mm)?;
    let near = letters
        .map_or(String::new(), |drawn| format!(", first in or beside {}", letter_at(place, drawn)));
    let message = format!(
        "strokes of zone `{}` lie nearer to each other than its stones of {diameter_mm} mm with a gap of {gap_mm} mm can{near}: some are left out, and it may not be read",
        zone.name
    );
    let Some(times) = times else {
        return Some(Diagnostic::warning(at.clone(), message).hint(
            "Choose smaller stones, a plainer typeface, or a drawing whose strokes lie farther apart.",
        ));
    };
    let (key, now_mm) = match art.size {
        ArtSize::HeightMm(mm) => ("height", mm),
        ArtSize::WidthMm(mm) => ("width", mm),
        ArtSize::RoundShare(share) => {
            let percent = (share * times * 1e3).ceil() / 10.0;
            let hint = format!(
                "With round = \"{percent} %\" or more they keep apart; or choose smaller stones."
            );
            return Some(Diagnostic::warning(at.key("round"), message).hint(hint));
        }
    };
    // Rounded up, so that it is enough.
    let enough_mm = (now_mm * times * 10.0).ceil() / 10.0;
    Some(Diagnostic::warning(at.key(key), message).hint(format!(
        "With {key} = \"{enough_mm} mm\" or more they keep apart; or choose smaller stones."
    )))
}
