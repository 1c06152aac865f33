//! Whether art can be made and read: strokes that film or stones can hold, words that one sees at once
//! from one side.

use crate::Surface;
use crate::art::{Drawn, Filled};
use crate::ink::Ink;
use crate::lie::middle_scale;
use crate::strokes::{self, thinnest};
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
            let at = at.key(size_key(art));
            low_letters(zone, drawn, &at)
                .or_else(|| Thin::of(drawn, limit_mm).map(|thin| thin.letters(zone, drawn, &at)))
        }
        Finish::Vinyl { .. } => Thin::of(drawn, limit_mm).map(|thin| thin.lines(zone, drawn, at)),
        Finish::Stones(stones) if lettering => {
            let least_mm = stones.sizes.last().map(|least| least.diameter_mm);
            least_mm
                .and_then(|least_mm| Thin::of(drawn, least_mm))
                .map(|thin| thin.letters_for_stones(zone, drawn, &at.key(size_key(art))))
        }
        _ => None,
    });
    if matches!(zone.finish, Finish::Vinyl { .. }) {
        notes.extend(specks(zone, drawn, limit_mm, at));
    }
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

/// Islands of film smaller than a stroke that is weeded with ease, both ways: they have no strokes.
fn specks(zone: &Zone, drawn: &Drawn, limit_mm: f64, at: &FieldPath) -> Option<Diagnostic> {
    let small = drawn.ink.loops.iter().filter_map(|one| {
        // Holes turn the other way.
        let turns = one.iter().zip(one.iter().cycle().skip(1));
        let island = turns.map(|(a, b)| a.perp_dot(*b)).sum::<f64>() > 0.0;
        let low = one.iter().copied().reduce(DVec2::min)?;
        let size = one.iter().copied().reduce(DVec2::max)? - low;
        let wide_mm = size.max_element();
        (island && wide_mm < limit_mm).then_some((wide_mm, low + 0.5 * size))
    });
    let small: Vec<(f64, DVec2)> = small.collect();
    let (wide_mm, place) = small.iter().min_by(|a, b| a.0.total_cmp(&b.0))?;
    let count = match small.len() {
        1 => "an island".to_owned(),
        many => format!("{many} islands"),
    };
    let message = format!(
        "{count} of film in zone `{}` {} smaller than {limit_mm} mm both ways; the smallest is {} mm across, {} of the art as you drew it, and is lost in weeding",
        zone.name,
        if small.len() == 1 { "is" } else { "are" },
        below(*wide_mm, limit_mm),
        from_middle(*place - middle(drawn))
    );
    Some(
        Diagnostic::warning(at.clone(), message)
            .hint("Make the art larger, take them out of it, or give it an `outline`."),
    )
}

/// The key that tells the size of art.
fn size_key(art: &PlacedArt) -> &'static str {
    match art.size {
        ArtSize::WidthMm(_) => "width",
        ArtSize::HeightMm(_) => "height",
        ArtSize::RoundShare(_) => "round",
    }
}

/// The thinnest stroke of art, and the least that is wanted, mm.
struct Thin {
    stroke: strokes::Thin,
    limit_mm: f64,
}

impl Thin {
    fn of(drawn: &Drawn, limit_mm: f64) -> Option<Self> {
        let stroke = thinnest(&drawn.ink.outlines(), limit_mm)?;
        Some(Self { stroke, limit_mm })
    }

    /// How wide it is and where.
    fn message(&self, what: &str, place: &str, why: &str) -> String {
        let width = below(self.stroke.width_mm, self.limit_mm);
        format!("the thinnest stroke of {what} is {width} mm wide, {place}; {why}")
    }

    /// Letters of film with a stroke below what is weeded with ease.
    fn letters(&self, zone: &Zone, drawn: &Drawn, at: &FieldPath) -> Diagnostic {
        let message = self.message(
            &format!("zone `{}`", zone.name),
            &format!("in {}", letter_at(self.stroke.at, drawn)),
            &format!("film below {} mm is hard to weed", self.limit_mm),
        );
        Diagnostic::warning(at.clone(), message)
            .hint("Make the letters higher, give them an `outline`, or choose a sturdier typeface.")
    }

    /// A drawing of film with such a stroke.
    fn lines(&self, zone: &Zone, drawn: &Drawn, at: &FieldPath) -> Diagnostic {
        let place = from_middle(self.stroke.at - middle(drawn));
        let message = self.message(
            &format!("the drawing of zone `{}`", zone.name),
            &format!("{place} of the drawing as you drew it"),
            &format!("film below {} mm is hard to weed", self.limit_mm),
        );
        Diagnostic::warning(at.clone(), message)
            .hint("Make the drawing larger, thicken that stroke in it, or give it an `outline`.")
    }

    /// Letters with a stroke that holds no stone.
    fn letters_for_stones(&self, zone: &Zone, drawn: &Drawn, at: &FieldPath) -> Diagnostic {
        let message = self.message(
            &format!("zone `{}`", zone.name),
            &format!("in {}", letter_at(self.stroke.at, drawn)),
            &format!("its smallest stones are {} mm wide and do not fit there", self.limit_mm),
        );
        Diagnostic::warning(at.clone(), message)
            .hint("Make the letters higher, choose a sturdier typeface, or smaller stones.")
    }
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

/// Capitals of film that are too low. `at` is the path of their size.
fn low_letters(zone: &Zone, drawn: &Drawn, at: &FieldPath) -> Option<Diagnostic> {
    let height_mm = drawn.capital_mm.filter(|height_mm| *height_mm < LEAST_LETTER_MM - 1e-9)?;
    // Rounded down, so that it shows that it is below.
    let message = format!(
        "the film letters of zone `{}` have capitals {:.1} mm high; below {LEAST_LETTER_MM} mm they are hard to weed by hand",
        zone.name,
        (height_mm * 10.0 + 1e-6).floor() / 10.0
    );
    Some(
        Diagnostic::warning(at.clone(), message)
            .hint("Make the letters higher, or choose a sturdier typeface."),
    )
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
    // Letters of a script lie within each other's bounds.
    let at = kurbo::Point::new(place.x, place.y);
    let holds = |letter: &&Filled| (drawn.ink.to_mm * letter.path.clone()).contains(at);
    let near = || drawn.paths.iter().min_by(|a, b| off(a).total_cmp(&off(b)));
    let nearest = drawn.paths.iter().find(holds).or_else(near);
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
    (width_mm > seen_mm).then(|| {
        let message = format!(
            "the lettering of zone `{}` is {width_mm:.0} mm wide, but from one side one reads about {seen_mm:.0} mm of the round here",
            zone.name
        );
        let border_mm = art.outline.map_or(0.0, |outline| 2.0 * outline.width_mm * rise);
        let share = (seen_mm - border_mm) / (width_mm - border_mm).max(f64::MIN_POSITIVE);
        // Rounded down, so that it fits.
        let fits = |value: f64| (value * share * 10.0).floor() / 10.0;
        let size = match art.size {
            ArtSize::HeightMm(mm) | ArtSize::WidthMm(mm) => format!("{} mm", fits(mm)),
            ArtSize::RoundShare(round) => format!("{} %", fits(100.0 * round)),
        };
        let key = size_key(art);
        Diagnostic::warning(at.key(key), message).hint(format!(
            "With {key} = \"{size}\" it is read at once; if it is to run round the cup, leave it."
        ))
    })
}
