//! Cautions of finishes that come near the rim of a body, where lips touch them.

use crate::ZoneShape;
use crate::zones::SAME_MM;
use piece::lip::{LIP_AND_RIM_MM, bare_mm};
use piece::{Diagnostic, FieldPath, PartRole, Piece, Settings};

/// Zones within the studio's own margin, one by one, and for each body those that lie beyond it but may
/// hold pigment or glass within the area that standards for lips and rims look at.
pub(crate) fn lip_cautions(
    piece: &Piece,
    zones: &[ZoneShape],
    settings: &Settings,
) -> Vec<Diagnostic> {
    let mut notes = Vec::new();
    for (part, told) in piece.parts.iter().enumerate() {
        if told.role != PartRole::Body {
            continue;
        }
        let mut pigmented: Vec<(usize, f64)> = Vec::new();
        for (index, shape) in zones.iter().enumerate().filter(|(_, zone)| zone.part == part) {
            let Some((nearest_mm, _)) = shape.area.along_range_mm() else { continue };
            let zone = &piece.zones[index];
            if nearest_mm < settings.lip_mm - SAME_MM {
                notes.push(within_margin(&zone.name, index, nearest_mm, settings.lip_mm));
            } else if nearest_mm < bare_mm(&zone.finish, settings) - SAME_MM {
                pigmented.push((index, nearest_mm));
            }
        }
        notes.extend(within_standards(piece, &pigmented));
    }
    notes
}

/// A zone nearer to the rim than the studio's own margin.
fn within_margin(name: &str, index: usize, nearest_mm: f64, lip_mm: f64) -> Diagnostic {
    let place = if nearest_mm < 0.05 {
        "reaches the rim".to_owned()
    } else {
        format!("begins {nearest_mm:.1} mm below the rim")
    };
    let message =
        format!("zone `{name}` {place}, in the {lip_mm:.0} mm that the studio keeps bare for lips");
    Diagnostic::caution(FieldPath::root().key("zone").index(index), message)
        .hint("Begin it farther down, or tell the customer that lips will touch it.")
        .hint("Standards for lips and rims (ISO 6486, ASTM C927) test the top 20 mm, more than many studios keep bare; check the current text.")
}

/// Zones of one body, with how far below the rim each begins.
fn within_standards(piece: &Piece, zones: &[(usize, f64)]) -> Option<Diagnostic> {
    let (first, _) = zones.first()?;
    let list: Vec<String> = zones
        .iter()
        .map(|(zone, nearest_mm)| format!("`{}` ({nearest_mm:.1} mm)", piece.zones[*zone].name))
        .collect();
    let (what, begin) = if list.len() == 1 { ("zone", "begins") } else { ("zones", "begin") };
    let message = format!(
        "{what} {} {begin} within {LIP_AND_RIM_MM:.0} mm of the rim, the area that standards for lips and rims look at",
        list.join(", ")
    );
    Some(
        Diagnostic::caution(FieldPath::root().key("zone").index(*first), message)
            .hint("Begin farther down, or ask the makers of paint, film, glitter and stones for tests of lead and cadmium (ISO 6486, ASTM C927; check the current text).")
            .hint("Leave out `from`, and such a zone begins there by itself."),
    )
}
