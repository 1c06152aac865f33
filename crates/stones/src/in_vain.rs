//! What to say of a layout that lays nothing, and of a key that changes nothing.

use crate::asked::Asked;
use piece::{Diagnostic, FieldPath, Layout};

/// A warning of small stones that found no pocket to lie in.
pub fn no_pocket(asked: &Asked<'_>, path: &FieldPath, zone: &str) -> Option<Diagnostic> {
    if asked.layer.layout != Layout::Pockets {
        return None;
    }
    let sizes: Vec<String> = asked.sizes().iter().map(|(size, _)| size.in_words()).collect();
    let text = format!(
        "no stone is laid in the pockets of zone \"{zone}\": none of them takes {}",
        sizes.join(" or ")
    );
    Some(
        Diagnostic::warning(path.clone(), text)
            .hint("Leave this layout out, or choose a smaller size."),
    )
}

/// A warning of single stones whose least distance is no more than what they keep anyway.
pub fn apart(asked: &Asked<'_>, path: &FieldPath, zone: &str) -> Option<Diagnostic> {
    let Layout::Sparse { apart_mm, .. } = asked.layer.layout else { return None };
    let widest = asked.sizes().first().map(|(size, _)| *size)?;
    let touching_mm = widest.diameter_mm + asked.layer.gap_mm;
    (apart_mm < touching_mm - 1e-9).then(|| {
        let text = format!(
            "apart = \"{apart_mm} mm\" changes nothing in zone \"{zone}\": the middles of two stones of \
             {} with their gap are {} mm apart anyway",
            widest.in_words(),
            (100.0 * touching_mm).round() / 100.0
        );
        Diagnostic::warning(path.key("apart"), text)
            .hint("Write more for single stones, or choose layout = \"scatter\" to fill the zone.")
    })
}
