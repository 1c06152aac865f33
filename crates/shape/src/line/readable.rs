//! Whether a name or a drawing in single stones can be read.

use super::{Strokes, Unreadable};
use crate::Surface;
use crate::art::Drawn;
use crate::readable::{letter_at, too_wide};
use crate::watch::Watch;
use glam::DVec2;
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
    // What lies too near or is too short is told already.
    let short = letters.filter(|_| small.is_none()).and_then(|letters| {
        cut_short(zone, art, &strokes.cut_short(stone_mm.0 + stone_mm.1), letters, at)
    });
    wide.into_iter().chain(small).chain(short).collect()
}

/// Letters that lose the end of a stroke.
fn cut_short(
    zone: &Zone,
    art: &PlacedArt,
    ends: &[(DVec2, f64)],
    letters: &Drawn,
    at: &FieldPath,
) -> Option<Diagnostic> {
    let mut named: Vec<String> = ends.iter().map(|(place, _)| letter_at(*place, letters)).collect();
    named.sort_unstable();
    named.dedup();
    let (last, others) = named.split_last()?;
    let list =
        if others.is_empty() { last.clone() } else { format!("{} and {last}", others.join(", ")) };
    let message = format!(
        "in zone `{}` a short end of a stroke has no room for a stone in {list}: it is left out, and the \
         word may be read otherwise",
        zone.name
    );
    let times = ends.iter().map(|end| end.1).fold(1.0, f64::max);
    let plainer = "choose smaller stones or a plainer typeface";
    let hint = match art.size {
        // Rounded up, so that it is enough.
        ArtSize::HeightMm(mm) => {
            let enough_mm = (mm * times * 10.0).ceil() / 10.0;
            format!("With height = \"{enough_mm} mm\" or more it has; or {plainer}.")
        }
        ArtSize::WidthMm(_) | ArtSize::RoundShare(_) => {
            format!(
                "Make the letters {:.0} % larger, or {plainer}.",
                (100.0 * (times - 1.0)).ceil()
            )
        }
    };
    Some(Diagnostic::warning(at.clone(), message).hint(hint))
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
