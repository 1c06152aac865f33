//! What to say of spirals: where none winds, and where level rows cover more.

use crate::asked::Asked;
use crate::fill::{Engine, Ground, Order, Spot};
use crate::room::{HONEYCOMB, widest_mm};
use crate::rows::Rows;
use crate::rows::spiral::begins_mm;
use piece::{Diagnostic, FieldPath, Follow, Layout, Stagger, Taper};
use std::f64::consts::PI;

/// A spiral that covers less than this share of its zone is compared with level rows: on cups it covers
/// 0.74 and more (own trials).
const COVERS: f64 = 0.70;
/// It is worth a word where it holds less than this share of the stones of level rows.
const HOLDS: f64 = 0.9;

/// A zone too low for one turn of a spiral, which must sink by a row before it is under itself, or a part
/// too thin for one.
pub fn no_thread(
    ground: &Ground<'_>,
    asked: &Asked<'_>,
    path: &FieldPath,
    zone: &str,
) -> Option<Diagnostic> {
    let Layout::Rows { follow: Follow::Spiral, stagger, .. } = asked.layer.layout else {
        return None;
    };
    let (size, _) = asked.sizes().first().copied()?;
    let pitch_mm = size.diameter_mm + asked.layer.gap_mm;
    let sinks_mm = match stagger {
        Stagger::Offset => HONEYCOMB * pitch_mm,
        Stagger::Aligned => pitch_mm,
    };
    let (least_mm, stone) = (size.diameter_mm + sinks_mm, size.in_words());
    let widest_mm = widest_mm(ground);
    // The widest place of a band all round is as wide as the band.
    if ground.surface.period().is_some()
        && widest_mm >= size.diameter_mm
        && begins_mm(ground, pitch_mm, ground.along_mm).is_none()
    {
        let text = format!(
            "a spiral of {stone} has no room for one turn in zone \"{zone}\": nowhere in it do six \
             stones go round the part"
        );
        return Some(
            Diagnostic::error(path.key("size"), text)
                .hint("Choose a smaller size, or write follow = \"level\" for closed rows."),
        );
    }
    (ground.all_round() && widest_mm >= size.diameter_mm && widest_mm < least_mm).then(|| {
        let text = format!(
            "a spiral of {stone} has no room for one turn in zone \"{zone}\": a turn sinks by \
             {sinks_mm:.1} mm, so the zone must be at least {least_mm:.1} mm wide, and its widest place \
             takes {widest_mm:.1} mm"
        );
        Diagnostic::error(path.key("size"), text).hint(
            "Make the zone wider, choose a smaller size, or write follow = \"level\" for closed rows.",
        )
    })
}

/// A warning of a spiral that holds clearly fewer stones than level rows would, as on a flat ring, where
/// every turn has a few stones more than the one inside it and cannot lie in its pockets. Says nothing when
/// no longer `going`.
pub fn loose(
    ground: &Ground<'_>,
    order: &Order,
    spots: &[Spot],
    path: &FieldPath,
    zone: &str,
    going: &mut dyn FnMut() -> bool,
) -> Option<Diagnostic> {
    let Layout::Rows { follow: Follow::Spiral, stagger, .. } = order.layout else { return None };
    let (diameter_mm, _) = order.sizes.first().copied()?;
    let covers = spots.len() as f64 * PI / 4.0 * diameter_mm * diameter_mm / ground.area_mm2;
    if covers >= COVERS || order.most.iter().any(Option::is_some) {
        return None;
    }
    let layout = Layout::Rows { follow: Follow::Level, stagger, taper: Taper::Spread };
    let level = Rows.fill(ground, &Order { layout, ..order.clone() }, &mut |_| going());
    if (spots.len() as f64) >= HOLDS * level.len() as f64 || !going() {
        return None;
    }
    let text = format!(
        "the spiral of zone \"{zone}\" holds {} stones and covers {:.0} % of it; level rows hold {}",
        spots.len(),
        100.0 * covers,
        level.len()
    );
    Some(Diagnostic::warning(path.key("follow"), text).hint(
        "Where a part widens or narrows this much turns do not nest: write follow = \"level\" for \
         closer rows.",
    ))
}
