//! The usual cautions, one sentence each, for each kind of step.
//!
//! They are the common safety advice of the trade and of data sheets for such products; the last one
//! always sends the reader to the maker's own sheet.

use crate::StepKind;
use piece::PartRole;

const SHEET: &str =
    "Follow the maker's safety data sheet and local rules; this is no substitute for either.";

const LIP_FREE_OF_RESIN: &str =
    "Keep resin off the lip and off the inside; it is not sold here as safe for food.";
const LIP_FREE_OF_STONES: &str = "Keep the lip bare of stones and glue.";
const MOUTHPIECE_FREE_OF_RESIN: &str =
    "Keep resin off the opening and off the underside; it is not sold here as safe for food.";
const MOUTHPIECE_FREE_OF_STONES: &str = "Keep the opening bare of stones and glue.";
const SHARP_CHIPS: &str =
    "Run a fingertip lightly over the stones for sharp chips before anyone drinks from it.";

/// Cautions for one kind of step on a part with this role, or about the whole piece.
pub fn of(kind: StepKind, role: Option<PartRole>) -> Vec<String> {
    let own: &[&str] = match kind {
        StepKind::Order | StepKind::Approve => return Vec::new(),
        StepKind::Prepare => &[
            "Sand wet where you can and wear a dust mask; steel and old coating dust harm lungs and eyes.",
            "Alcohol and acetone burn: no flame, no heat gun and no smoking near them, and air the room.",
        ],
        StepKind::Mask => &["A blade that scores tape also cuts fingers: cut away from the hand."],
        StepKind::Paint => &[
            "Spray outdoors or with an extractor, and wear a mask for organic vapours.",
            "Fresh spray burns: no flame, no torch and no heat gun until it has dried and the room is aired.",
        ],
        StepKind::Glitter => &[
            "Wear nitrile gloves over wet resin, goggles, and a dust mask while flakes fly.",
            "Keep glitter away from other wet coats in the same air.",
        ],
        StepKind::Pour => &[
            "Wear nitrile gloves, cover the arms, air the room, and wear a vapour mask: resin and hardener can make you allergic to every epoxy for life.",
            "Never wash resin off skin with solvent; use soap and water.",
            "A mix left deep in its cup heats itself, smokes and burns: spread it soon and set leftovers outside on stone.",
            "Torch or heat gun: nothing that burns near, no alcohol or fresh spray in the air, hair tied back.",
        ],
        StepKind::Sand => &[
            "Sand wet and wear a dust mask; never sand resin that is still soft, its dust is the most harmful.",
            "Alcohol burns: no flame near it, and let it dry off before resin or torch come out.",
        ],
        StepKind::Film => {
            &["Mind the cutter's blade and the weeding hook; work away from the hand."]
        }
        StepKind::Set => &[
            "Glue with solvent burns and its vapour harms: air the room, no flame, cap the tube.",
            "Chipped glass is sharp: throw chipped stones away, wear glasses when snapping or picking them off.",
            "Keep stones and glue away from small children: every stone can be swallowed.",
        ],
        StepKind::Finish => {
            &["Do not call it food safe: nobody has tested this coating as you mixed it."]
        }
        StepKind::Pack => &[
            "Do not post before resin and glue have cured fully: wrapping prints itself into soft resin.",
        ],
    };
    let of_role: &[&str] = match (kind, role) {
        (StepKind::Pour, Some(PartRole::Body)) => &[LIP_FREE_OF_RESIN],
        (StepKind::Pour, Some(PartRole::Lid)) => &[MOUTHPIECE_FREE_OF_RESIN],
        (StepKind::Set, Some(PartRole::Body)) => &[LIP_FREE_OF_STONES],
        (StepKind::Set, Some(PartRole::Lid)) => &[MOUTHPIECE_FREE_OF_STONES],
        (StepKind::Finish, Some(PartRole::Body)) => &[SHARP_CHIPS],
        _ => &[],
    };
    own.iter().chain(of_role).chain([&SHEET]).map(|text| (*text).to_owned()).collect()
}
