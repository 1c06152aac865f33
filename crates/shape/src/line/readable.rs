//! Whether a name or a drawing in single stones can be read.

use super::{Strokes, Unreadable};
use crate::Surface;
use crate::readable::{letter_at, too_wide};
use crate::watch::Watch;
use piece::{ArtSize, Diagnostic, FieldPath, PlacedArt, Zone};

/// Warns of strokes too near to each other or too short for the stones, which take their diameter and gap,
/// and of lettering too wide to be read from one side. `at` is the path of the art.
pub(crate) fn readable(
    zone: &Zone,
    art: &PlacedArt,
    stone_mm: (f64, f64),
    strokes: &Strokes,
    surface: &Surface,
    at: &FieldPath,
    watch: &mut Watch<'_>,
) -> Vec<Diagnostic> {
    let letters = strokes.letters.as_ref();
    let wide = letters.and_then(|drawn| too_wide(zone, art, &drawn.ink, surface, at));
    let small = too_small(zone, art, stone_mm, strokes, at, watch);
    wide.into_iter().chain(small).collect()
}

/// Strokes that single stones along them cannot show: nearer to each other than these can lie, or shorter.
fn too_small(
    zone: &Zone,
    art: &PlacedArt,
    (diameter_mm, gap_mm): (f64, f64),
    strokes: &Strokes,
    at: &FieldPath,
    watch: &mut Watch<'_>,
) -> Option<Diagnostic> {
    let (place, why, times) = strokes.too_small(diameter_mm + gap_mm, watch)?;
    let letters = strokes.letters.as_ref();
    let near = letters
        .map_or(String::new(), |drawn| format!(", first in or beside {}", letter_at(place, drawn)));
    let (name, stones) =
        (&zone.name, format!("its stones of {diameter_mm} mm with a gap of {gap_mm} mm"));
    let message = match why {
        Unreadable::Crowded => format!(
            "strokes of zone `{name}` lie nearer to each other than {stones} can{near}: some are left out, and it may not be read"
        ),
        Unreadable::Short => format!(
            "the strokes of zone `{name}` are too short for {stones}{near}: most are left out or have fewer than three stones, and it may not be read"
        ),
    };
    let Some(times) = times else {
        return Some(Diagnostic::warning(at.clone(), message).hint(
            "Choose smaller stones, a plainer typeface, or a drawing with fewer and longer strokes.",
        ));
    };
    let (key, now_mm) = match art.size {
        ArtSize::HeightMm(mm) => ("height", mm),
        ArtSize::WidthMm(mm) => ("width", mm),
        ArtSize::RoundShare(share) => {
            let percent = (share * times * 1e3).ceil() / 10.0;
            let hint = format!(
                "With round = \"{percent} %\" or more it can be read; or choose smaller stones."
            );
            return Some(Diagnostic::warning(at.key("round"), message).hint(hint));
        }
    };
    // Rounded up, so that it is enough.
    let enough_mm = (now_mm * times * 10.0).ceil() / 10.0;
    Some(Diagnostic::warning(at.key(key), message).hint(format!(
        "With {key} = \"{enough_mm} mm\" or more it can be read; or choose smaller stones."
    )))
}
