//! The care card for the customer and the cautions for the maker.
//!
//! The advice is common practice of the trade; limits are shown as limits, never as permission.

use super::note;
use crate::Plan;
use crate::words;
use coats::Matter;
use piece::{Drinks, Finish, PartRole, Severity, StoneMaterial};
use serde_json::{Value, json};

/// What of a piece asks for care.
struct Has {
    resin: bool,
    paint: bool,
    glitter: bool,
    film: bool,
    stones: bool,
    hard_stones: bool,
    leaded: bool,
    body: bool,
    lid: bool,
    topper: bool,
}

impl Has {
    fn of(plan: &Plan) -> Self {
        let coat = |matches: fn(&Matter) -> bool| {
            plan.coats.coats.iter().any(|coat| matches(&coat.matter))
        };
        let stone = |matches: fn(StoneMaterial) -> bool| {
            let finishes = plan.piece.zones.iter().map(|zone| &zone.finish);
            let mut materials = finishes.filter_map(|finish| match finish {
                Finish::Stones(stones) => Some(stones.material),
                _ => None,
            });
            materials.any(matches)
        };
        let part = |role: PartRole| plan.piece.parts.iter().any(|part| part.role == role);
        Self {
            resin: coat(|matter| matches!(matter, Matter::Resin(_))),
            paint: coat(|matter| matches!(matter, Matter::Paint { .. })),
            glitter: coat(|matter| matches!(matter, Matter::Glitter { .. })),
            film: !plan.coats.films.is_empty(),
            stones: !plan.stones.stones.is_empty(),
            hard_stones: stone(|material| material != StoneMaterial::Resin),
            leaded: stone(|material| material == StoneMaterial::LeadCrystal),
            body: part(PartRole::Body),
            lid: part(PartRole::Lid),
            topper: part(PartRole::Topper),
        }
    }
}

/// Data of the card that goes with the piece: no prices, nothing of the workshop.
pub(super) fn care_card(plan: &Plan) -> Value {
    let has = Has::of(plan);
    let mut care = vec![
        "Wash by hand with mild soap and a soft cloth; dry at once.",
        "No dishwasher, no microwave, no soaking, no scouring.",
        "Keep out of long sun, hot cars and away from flame.",
    ];
    if has.lid {
        care.push(
            "Take the gasket out of the lid to wash it, and let both dry before you close it.",
        );
    }
    match plan.piece.drinks {
        Drinks::Cold if has.body => care.push("For cold drinks: heat softens the coating."),
        Drinks::Hot if has.body => care.push(
            "Hot drinks warm the outside: never pour boiling water over the coating, and let the cup \
             cool before you wash it.",
        ),
        Drinks::Cold => care.push("Heat softens the coating: nothing hot against it."),
        Drinks::Hot if has.lid => {
            care.push("A hot drink warms the lid: lift it by its bare edge, and let it cool first.");
        }
        Drinks::Hot => care.push("Heat softens the coating: keep it out of steam."),
    }
    if has.stones {
        care.push("Wipe the stones, do not scrub; if one sits loose, press, do not pick.");
        care.push("Spare stones for repairs are in the small bag.");
    }
    let mut warnings = Vec::new();
    if has.hard_stones {
        warnings.push("If a stone is chipped or sharp, stop using the piece until it is replaced.");
    }
    if has.stones || has.topper {
        warnings.push("Small parts: not for children under 3.");
    }
    if !plan.piece.for_child {
        warnings.push("Not made for children.");
    }
    if has.leaded {
        warnings
            .push("Its stones are lead crystal: keep them away from mouths, food and children.");
    }
    if has.body {
        warnings.push("Drink only from the bare rim; nothing on the outside is meant for food.");
    } else if has.lid {
        warnings.push(
            "Keep the opening and the underside bare and clean; nothing on top is meant for food.",
        );
    } else {
        warnings.push("Take it off before you drink; nothing on it is meant for food.");
    }
    json!({
        "title": plan.piece.title,
        "quantity": plan.piece.quantity,
        "studio": plan.settings.studio,
        "notes": plan.piece.notes,
        "care": care,
        "warnings": warnings,
        "colours": plan.piece.colours.iter().map(|colour| colour.name.as_str()).collect::<Vec<_>>(),
        "ready": plan.timetable.as_ref().map(|timetable| words::day(timetable.ready.date())),
    })
}

/// The same for a parcel, with what it is covered with and what goes before the card.
pub(crate) fn care_card_for_sale(plan: &Plan) -> Value {
    let has = Has::of(plan);
    let mut card = care_card(plan);
    let mut more = Vec::new();
    if has.paint || has.glitter || has.film {
        more.push(match (has.glitter, has.resin) {
            (true, true) => {
                "The glitter lies under clear resin: if the coat chips and flakes come off, stop using it and \
                 ask us."
            }
            (false, true) => {
                "Its colours lie under clear resin: if the coat chips or lifts, keep it dry and ask us."
            }
            (_, false) => "Its colours lie bare: wipe them gently, and never rub.",
        });
    }
    if let Some(care) = card["care"].as_array_mut() {
        care.extend(more.into_iter().map(Value::from));
    }
    if let Some(warnings) = card["warnings"].as_array_mut() {
        warnings.push(
            "The data sheet of the coating, and the law where you live, go before this card; it takes no right \
             from you."
                .into(),
        );
    }
    card
}

/// What stays bare for lips: the one figure that the studio keeps to.
fn lip(plan: &Plan) -> String {
    let settings = &plan.settings;
    if settings.lip_mm < 0.05 {
        return "Keep the rim bare.".to_owned();
    }
    let height = words::length(settings.lip_mm, settings.lengths);
    format!(
        "Keep the rim and the first {height} of the outside below it bare, as your settings say."
    )
}

/// Data of the page of cautions.
pub(super) fn page(plan: &Plan) -> Value {
    let has = Has::of(plan);
    let mut topics: Vec<Value> = Vec::new();
    let mut topic =
        |head: &str, lines: &[&str]| topics.push(json!({ "head": head, "lines": lines }));
    if has.resin {
        topic(
            "Resin",
            &[
                "Uncured resin and hardener make some people allergic, for life and to every epoxy.",
                "Nitrile gloves, long sleeves, eye protection; change gloves when they are wet.",
                "Fresh air through the room; a mask for organic vapours that fits.",
                "On skin: soap and water, never solvent. In the eye: rinse 15 minutes and see a doctor.",
                "Mixed resin left in a cup heats itself: spread it out, never leave it deep.",
                "Half-cured dust is the worst of it: sand only what is hard.",
            ],
        );
        topic(
            "Torch and heat gun",
            &[
                "No flame near alcohol, fresh spray, aerosols or paper; let wiped parts dry first.",
                "Short moving passes, hair tied back, something to smother a fire within reach.",
            ],
        );
    }
    if has.resin || has.paint {
        topic(
            "Sanding dust",
            &[
                "Wet where you can; a dust mask (P2, N95 or better) and eye protection always.",
                "Wipe up wet, do not sweep or blow; change clothes before you eat.",
            ],
        );
    }
    topic(
        "Solvents and spray paint",
        &[
            "Alcohol, acetone and spray burn and their vapour travels: no flame, no spark, open windows.",
            "Soaked rags go outdoors in a lidded metal tin with water.",
            if has.paint {
                "Spray out of doors or under extraction, with a mask for vapour and mist."
            } else {
                "Gloves that stand the solvent; a mask for organic vapours."
            },
        ],
    );
    if has.glitter {
        topic("Glitter", &["Fine flakes irritate eyes and lungs: shake it low, mask on, no fan."]);
    }
    if has.film {
        topic("Knife and cutter", &["Cut away from your hand; cap the blade and the hook."]);
    }
    if has.hard_stones {
        topic(
            "Glass stones",
            &[
                "Chips are sharp: eye protection when you lever a stone off; sweep the bench, check the cup inside and out.",
                "Nothing loose may stay in the cup or the box.",
            ],
        );
    }
    let lip = lip(plan);
    topic(
        "Lip and drinking",
        &[
            lip.as_str(),
            "Nothing on the inside, on threads, gasket, vent or slider.",
            "No resin is approved for food by a maker mixing it; bare steel is what touches the drink.",
        ],
    );
    topic(
        "Children and lead",
        &[
            "A child's cup is judged by its looks and common use, not only by its label.",
            "No stones of lead crystal on it; ask the seller for test papers; a safety data sheet is no proof.",
            "Small parts come off: nothing loose or stuck on for children under 3.",
            "Duties differ by country: tracking marks, certificates and tests may be asked of you.",
        ],
    );
    if plan.piece.drinks == Drinks::Hot {
        topic(
            "Hot drinks",
            &[
                "Many clear epoxies soften from about 50 to 60 °C: say so on the card.",
                "Wait for the full cure on the data sheet, then longer, before anything hot goes in.",
            ],
        );
    }
    let own: Vec<_> =
        plan.notes.iter().filter(|note| note.severity == Severity::Caution).map(note).collect();
    json!({ "topics": topics, "own": own })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::workbook::trial;

    #[test]
    fn the_lip_is_as_high_as_the_settings_say_and_told_once() {
        let mut plan = trial::plan(1);
        let page = page(&plan).to_string();
        // The demo settings keep half an inch.
        assert_eq!(page.matches("1/2\u{a0}in").count(), 1, "{page}");
        assert!(!page.contains("20\u{a0}mm") && !page.contains("20 mm"), "{page}");
        plan.settings.lip_mm = 0.0;
        assert!(super::page(&plan).to_string().contains("Keep the rim bare."));
    }

    #[test]
    fn no_page_calls_stones_free_of_lead() {
        let plan = trial::plan(1);
        let finishes =
            plan.piece.zones.iter().map(|zone| words::finish_in_full(&plan, &zone.finish));
        let stones: Vec<String> = finishes.filter(|words| words.contains("stones")).collect();
        assert_eq!(stones, ["glass stones, SS16; reed, foam"]);
        assert!(!page(&plan).to_string().contains("lead-free"));
        assert!(!care_card(&plan).to_string().contains("lead-free"));
    }
}
