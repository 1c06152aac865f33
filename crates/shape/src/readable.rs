//! Whether art can be made and read: strokes that film or stones can hold, words that one sees at once
//! from one side.

use crate::Surface;
use crate::art::{Drawn, Filled};
use crate::ink::Ink;
use crate::lie::middle_scale;
use crate::strokes::thinnest;
use glam::DVec2;
use kurbo::Shape as _;
use piece::{Art, ArtSize, Diagnostic, FieldPath, Finish, Lie, PlacedArt, Settings, Zone};
use std::f64::consts::PI;

/// Lowest capitals of film that a hand weeds with ease, mm (common practice among cutters of film: 6
/// to 8 mm; no source).
const LEAST_LETTER_MM: f64 = 6.0;

/// How far round to each side of the front one reads with ease: there a letter looks a quarter as wide
/// as it is (the cosine of 75 degrees is 0.26). What lies beyond is a margin of 15 degrees to the edge
/// of what one sees at all (common practice, no source).
pub(crate) const SEEN_RAD: f64 = 75.0 / 180.0 * PI;

/// Warns of strokes too thin for the finish and of lettering too wide to be read from one side. `at` is
/// the path of the art.
pub(crate) fn readable(
    zone: &Zone,
    art: &PlacedArt,
    drawn: &Drawn,
    surface: &Surface,
    settings: &Settings,
    at: &FieldPath,
) -> Vec<Diagnostic> {
    let lettering = matches!(art.art, Art::Lettering { .. });
    let limit_mm = settings.vinyl.least_stroke_mm;
    let mut notes = Vec::new();
    if lettering {
        notes.extend(too_wide(zone, art, &drawn.ink, surface, at));
    }
    notes.extend(match &zone.finish {
        Finish::Vinyl { .. } if lettering => {
            low_letters(zone, art, at).or_else(|| thin_letters(zone, drawn, limit_mm, at))
        }
        Finish::Vinyl { .. } => thin_lines(zone, drawn, limit_mm, at),
        Finish::Stones(stones) if lettering => stones
            .sizes
            .last()
            .and_then(|least| narrow_for_stones(zone, drawn, least.diameter_mm, at)),
        _ => None,
    });
    notes
}

/// A width as far as it is told, with digits enough to show that it is below the limit.
fn below(width_mm: f64, limit_mm: f64) -> String {
    let tenths = (width_mm * 10.0).round() / 10.0;
    if tenths < limit_mm {
        format!("{tenths:.1}")
    } else {
        format!("{:.2}", (width_mm * 100.0).floor() / 100.0)
    }
}

/// Letters of film with a stroke below what is weeded with ease.
fn thin_letters(zone: &Zone, drawn: &Drawn, limit_mm: f64, at: &FieldPath) -> Option<Diagnostic> {
    let thin = thinnest(&drawn.ink.outlines(), limit_mm)?;
    let message = format!(
        "the thinnest stroke of zone `{}` is {} mm wide, in {}; film below {limit_mm} mm is hard to weed",
        zone.name,
        below(thin.width_mm, limit_mm),
        letter_at(thin.at, drawn)
    );
    Some(
        Diagnostic::warning(at.key("height"), message).hint(
            "Make the letters higher, give them an `outline`, or choose a sturdier typeface.",
        ),
    )
}

/// A drawing of film with such a stroke.
fn thin_lines(zone: &Zone, drawn: &Drawn, limit_mm: f64, at: &FieldPath) -> Option<Diagnostic> {
    let thin = thinnest(&drawn.ink.outlines(), limit_mm)?;
    let message = format!(
        "the thinnest stroke of the drawing of zone `{}` is {} mm wide, {} of the drawing as you drew it; film below {limit_mm} mm is hard to weed",
        zone.name,
        below(thin.width_mm, limit_mm),
        from_middle(thin.at - middle(drawn))
    );
    Some(
        Diagnostic::warning(at.clone(), message)
            .hint("Make the drawing larger, thicken that stroke in it, or give it an `outline`."),
    )
}

/// Letters with a stroke that holds no stone.
fn narrow_for_stones(
    zone: &Zone,
    drawn: &Drawn,
    least_mm: f64,
    at: &FieldPath,
) -> Option<Diagnostic> {
    let thin = thinnest(&drawn.ink.outlines(), least_mm)?;
    let message = format!(
        "the thinnest stroke of zone `{}` is {} mm wide, in {}; its smallest stones are {least_mm} mm wide and do not fit there",
        zone.name,
        below(thin.width_mm, least_mm),
        letter_at(thin.at, drawn)
    );
    Some(
        Diagnostic::warning(at.key("height"), message)
            .hint("Make the letters higher, choose a sturdier typeface, or smaller stones."),
    )
}

/// Middle of the rectangle about a drawing, mm.
fn middle(drawn: &Drawn) -> DVec2 {
    let middle = drawn.ink.bounds().center();
    DVec2::new(middle.x, middle.y)
}

/// `12 mm left of and 4 mm above the middle`.
fn from_middle(off: DVec2) -> String {
    let side = |mm: f64, before: &str, after: &str| {
        (mm.abs() >= 0.5)
            .then(|| format!("{:.0} mm {}", mm.abs(), if mm < 0.0 { before } else { after }))
    };
    match (side(off.x, "left", "right"), side(off.y, "above", "below")) {
        (Some(across), Some(down)) => format!("{across} of and {down} the middle"),
        (Some(across), None) => format!("{across} of the middle"),
        (None, Some(down)) => format!("{down} the middle"),
        (None, None) => "in the middle".to_owned(),
    }
}

/// Capitals of film that are too low.
fn low_letters(zone: &Zone, art: &PlacedArt, at: &FieldPath) -> Option<Diagnostic> {
    let ArtSize::HeightMm(height_mm) = art.size else { return None };
    (height_mm < LEAST_LETTER_MM).then(|| {
        let message = format!(
            "the film letters of zone `{}` have capitals {height_mm:.1} mm high; below {LEAST_LETTER_MM} mm they are hard to weed by hand",
            zone.name
        );
        Diagnostic::warning(at.key("height"), message)
            .hint("Make the letters higher, or choose a sturdier typeface.")
    })
}

/// The letter in which a place lies, in quotation marks.
pub(crate) fn letter_at(place: DVec2, drawn: &Drawn) -> String {
    let off = |letter: &Filled| {
        let bounds = (drawn.ink.to_mm * letter.path.clone()).bounding_box();
        let at = kurbo::Point::new(place.x, place.y);
        let nearest =
            kurbo::Point::new(at.x.clamp(bounds.x0, bounds.x1), at.y.clamp(bounds.y0, bounds.y1));
        nearest.distance_squared(at)
    };
    let nearest = drawn.paths.iter().min_by(|a, b| off(a).total_cmp(&off(b)));
    let name = nearest.and_then(|letter| letter.mark.names.first());
    name.map_or_else(|| "one of its letters".to_owned(), |name| format!("the letter `{name}`"))
}

/// Words that reach farther round than one reads from the front.
pub(crate) fn too_wide(
    zone: &Zone,
    art: &PlacedArt,
    ink: &Ink,
    surface: &Surface,
    at: &FieldPath,
) -> Option<Diagnostic> {
    if surface.period().is_none() || art.turn_rad != 0.0 || art.lie == Lie::Column {
        return None;
    }
    let rise = match art.lie {
        Lie::Rising { rise_rad } => libm::cos(rise_rad),
        _ => 1.0,
    };
    let width_mm = ink.bounds().width() * rise;
    let seen_mm = 2.0 * SEEN_RAD * middle_scale(surface, art.along_mm);
    let ArtSize::HeightMm(height_mm) = art.size else { return None };
    (width_mm > seen_mm).then(|| {
        let message = format!(
            "the lettering of zone `{}` is {width_mm:.0} mm wide, but from one side one reads about {seen_mm:.0} mm of the round here",
            zone.name
        );
        let border_mm = art.outline.map_or(0.0, |outline| 2.0 * outline.width_mm * rise);
        let share = (seen_mm - border_mm) / (width_mm - border_mm).max(f64::MIN_POSITIVE);
        // Rounded down, so that it fits.
        let fits_mm = (height_mm * share * 10.0).floor() / 10.0;
        Diagnostic::warning(at.key("height"), message).hint(format!(
            "With height = \"{fits_mm} mm\" it is read at once; if it is to run round the cup, leave it."
        ))
    })
}
