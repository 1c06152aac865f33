//! Cautions and warnings about the stack as a whole: who will use it, for what, in which order.

use piece::{Diagnostic, Drinks, FieldPath, Finish, PartRole, Piece, StoneMaterial};

/// What the maker should know before she begins.
/// `softens_c` is where the resin softens, if its data sheet says so.
pub fn about(piece: &Piece, softens_c: Option<f64>) -> Vec<Diagnostic> {
    let mut notes = Vec::new();
    child(piece, &mut notes);
    hot(piece, softens_c, &mut notes);
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
                .hint("United States law allows at most 100 ppm of lead in a child's product, and a coat of resin over the stones does not change that; lead crystal, a quarter of it oxide of lead, has more than 200,000 ppm (check the current text)"),
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
    let painted = piece.zones.iter().position(|zone| matches!(zone.finish, Finish::Paint { .. }));
    if let Some(index) = painted {
        notes.push(
            Diagnostic::caution(
                zone_path(index).key("paint"),
                format!("`{}` is painted and the piece is for a child", piece.zones[index].name),
            )
            .hint("United States law allows at most 90 ppm of lead in paint on a child's product (16 CFR 1303; check the current text): keep the maker's proof for this very paint"),
        );
    }
    if small_parts {
        notes.push(
            Diagnostic::caution(
                FieldPath::root().key("for_child"),
                "stones and toppers that come off are small parts that a child can choke on",
            )
            .hint("What fits whole into a cylinder 31.7 mm wide and 25.4 to 57.1 mm deep is a small part (16 CFR 1501, inch values rule): every loose stone does, and so does what comes off in use")
            .hint("Do not sell it for a child under 3, and look up the tests and marks a child's product needs where you sell"),
        );
    }
}

fn hot(piece: &Piece, softens_c: Option<f64>, notes: &mut Vec<Diagnostic>) {
    let coated = piece.zones.iter().any(|zone| matches!(zone.finish, Finish::Resin { .. }));
    if piece.drinks == Drinks::Hot && coated {
        notes.push(
            Diagnostic::caution(FieldPath::root().key("drinks"), softening(softens_c))
            .hint("Only coat a double wall that stays cool outside, and ask the resin's maker how long to wait before hot use; three to four weeks are usual"),
        );
    }
}

/// Hot drinks are poured at about this, °C (from memory: 80 to 90).
const HOT_DRINK_C: f64 = 85.0;

fn softening(softens_c: Option<f64>) -> String {
    match softens_c {
        None => "many clear resins soften from about 50 to 60 °C, and this piece is for hot drinks"
            .to_owned(),
        Some(softens_c) if softens_c < HOT_DRINK_C => format!(
            "this resin softens at {softens_c:.0} °C, and hot drinks are poured at about {HOT_DRINK_C:.0} °C: where they warm the wall so far, it takes prints and lets go of stones"
        ),
        Some(softens_c) => format!(
            "this resin softens at {softens_c:.0} °C, fully cured; this piece is for hot drinks of about {HOT_DRINK_C:.0} °C"
        ),
    }
}

/// What to know of coatings and food, for sheets; never that a coating is safe for it.
pub const FOOD_CONTACT: [&str; 3] = [
    "United States rules let a coating touch food only if all of it is made of listed substances and it passes limits on what it gives off (21 CFR 175.300; check the current text); what is mixed at a bench has not been tested, whatever the resin's maker says of it.",
    "Keep resin, paint, glitter and stones off the inside and off the top 20 mm outside, the lip and rim area by which decorated glass is tested for lead and cadmium (ASTM C927, ISO 6486).",
    "For a clean wall draw the part upright out of overflowing water: where the draining film breaks within a minute, wash again (ASTM F22).",
];

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
