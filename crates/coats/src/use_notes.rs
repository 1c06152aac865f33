//! Cautions and warnings about the stack as a whole: who will use it, for what, in which order.

use piece::{Diagnostic, Drinks, FieldPath, Finish, PartRole, Piece, StoneMaterial};

/// What the maker should know before she begins.
pub(crate) fn about(piece: &Piece) -> Vec<Diagnostic> {
    let mut notes = Vec::new();
    child(piece, &mut notes);
    hot(piece, &mut notes);
    order_of_zones(piece, &mut notes);
    notes
}

fn zone_path(index: usize) -> FieldPath {
    FieldPath::root().key("zone").index(index)
}

fn child(piece: &Piece, notes: &mut Vec<Diagnostic>) {
    if !piece.for_child {
        return;
    }
    let mut small_parts = piece.parts.iter().any(|part| part.role == PartRole::Topper);
    for (index, zone) in piece.zones.iter().enumerate() {
        let Finish::Stones(stones) = &zone.finish else { continue };
        small_parts = true;
        let path = zone_path(index).key("stones").key("material");
        match stones.material {
            StoneMaterial::LeadCrystal => notes.push(
                Diagnostic::caution(
                    path,
                    format!("the stones of `{}` are lead crystal and the piece is for a child: do not make it so", zone.name),
                )
                .hint("Use stones of resin or of glass with a lead test for this very lot")
                .hint("United States law allows at most 100 ppm of lead in a child's product, and a coat of resin over the stones does not change that; lead crystal has about 240,000 ppm (check the current text)"),
            ),
            StoneMaterial::Glass => notes.push(
                Diagnostic::caution(
                    path,
                    format!("the stones of `{}` are glass and the piece is for a child", zone.name),
                )
                .hint("Ask the seller for a lead test of this lot: some glass stones are far over the 100 ppm that United States law allows (check the current text)"),
            ),
            StoneMaterial::Resin => {}
        }
    }
    if small_parts {
        notes.push(
            Diagnostic::caution(
                FieldPath::root().key("for_child"),
                "stones and toppers that come off are small parts that a child can choke on",
            )
            .hint("Do not sell it for a child under 3, and look up the tests and marks a child's product needs where you sell"),
        );
    }
}

fn hot(piece: &Piece, notes: &mut Vec<Diagnostic>) {
    let coated = piece.zones.iter().any(|zone| matches!(zone.finish, Finish::Resin { .. }));
    if piece.drinks == Drinks::Hot && coated {
        notes.push(
            Diagnostic::caution(
                FieldPath::root().key("drinks"),
                "many clear resins soften from about 50 to 60 °C, and this piece is for hot drinks",
            )
            .hint("Only coat a double wall that stays cool outside, and ask the resin's maker how long to wait before hot use; three to four weeks are usual"),
        );
    }
}

fn order_of_zones(piece: &Piece, notes: &mut Vec<Diagnostic>) {
    for (index, zone) in piece.zones.iter().enumerate() {
        let wet = matches!(
            zone.finish,
            Finish::Paint { .. } | Finish::Resin { .. } | Finish::Glitter { .. }
        );
        let stones_before = piece.zones[..index]
            .iter()
            .find(|other| other.part == zone.part && matches!(other.finish, Finish::Stones(_)));
        if let (true, Some(stones)) = (wet, stones_before) {
            notes.push(
                Diagnostic::warning(
                    zone_path(index),
                    format!("`{}` goes on after the stones of `{}` on the same part", zone.name, stones.name),
                )
                .hint(format!("Zones are worked in the order of the file: put `{}` after `{}` unless it is meant so", stones.name, zone.name)),
            );
        }
    }
}
