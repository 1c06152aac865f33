//! What is said of a sitting in more than one place: what it is about, what to have ready for it, what
//! to beware of in brief.

use crate::words;
use jiff::civil::DateTime;
use work::StepKind;
use work::rota::{Rota, RotaOrder, RotaSitting};

/// `Pour coat 2 of 3 on body (1 of 2)`.
pub(super) fn what(sitting: &RotaSitting) -> String {
    match sitting.number {
        (number, of) if of > 1 => format!("{} ({number} of {of})", sitting.step),
        _ => sitting.step.clone(),
    }
}

/// `Heron at low tide (4 pieces)`; where they are made in groups, `Heron at low tide, group 1 of 3 (2
/// pieces)`.
pub(super) fn which(order: &RotaOrder, sitting: &RotaSitting) -> String {
    match sitting.group {
        (group, of) if of > 1 => {
            format!("{}, group {group} of {of} ({})", order.title, pieces(sitting.pieces))
        }
        _ if sitting.pieces > 1 => format!("{} ({})", order.title, pieces(sitting.pieces)),
        _ => order.title.clone(),
    }
}

/// `1 piece`, `4 pieces`.
pub(super) fn pieces(count: u32) -> String {
    if count == 1 { "1 piece".to_owned() } else { format!("{count} pieces") }
}

/// `spindle 2`, `spindles 1 and 3`, `spindles 1, 2 and 3`.
pub(super) fn spindles(numbers: &[u32]) -> String {
    let names: Vec<_> = numbers.iter().map(u32::to_string).collect();
    match names.as_slice() {
        [] => String::new(),
        [one] => format!("spindle {one}"),
        [first @ .., last] => format!("spindles {} and {last}", first.join(", ")),
    }
}

/// `Tue 2 Mar 14:30`.
pub(super) fn moment(at: DateTime) -> String {
    format!("{} {}", words::short_day(at.date()), words::clock(at))
}

/// How late an order leaves, as `1 h 30 min`; nothing in time.
pub(super) fn late(order: &RotaOrder) -> Option<String> {
    order.late_min().filter(|late| *late > 0).map(|late| words::span(late as f64))
}

/// Everything about a sitting in one line: `Pour coat 1 of 2 on body, Heron at low tide, by Wren, Tue 2
/// Mar 14:30 to 15:20, on spindle 1 until Tue 2 Mar 19:30`.
pub(super) fn in_full(rota: &Rota, sitting: &RotaSitting) -> String {
    let order = &rota.orders[sitting.order];
    let (begins, ends) = (super::local(rota, sitting.at.0), super::local(rota, sitting.at.1));
    let ends = if begins.date() == ends.date() { words::clock(ends) } else { moment(ends) };
    let mut line = format!("{}, {}", what(sitting), which(order, sitting));
    if let Some(maker) = sitting.maker {
        line += &format!(", by {}", rota.makers[maker].name);
    }
    line += &format!(", {} to {ends}", moment(begins));
    if let Some((numbers, until)) = &sitting.turning {
        let until = moment(super::local(rota, *until));
        line += &format!(", on {} until {until}", spindles(numbers));
    }
    if let Some(mix) = sitting.mix {
        line += &format!(", shares mix {mix}");
    }
    if sitting.fixed { line + ", done or under way" } else { line }
}

/// What to lay out before one begins (common practice, no source).
pub(super) fn have_ready(kind: StepKind) -> &'static str {
    match kind {
        StepKind::Order => "order, artwork, list of what to buy",
        StepKind::Prepare => "wet sandpaper, dish soap, alcohol, lint-free cloth, dust mask",
        StepKind::Mask => "tape, sharp blade, wrap",
        StepKind::Paint => "paint, extractor or a dry place outdoors, vapour mask",
        StepKind::Glitter => "glitter in its shaker, clean paper beneath, gloves, goggles",
        StepKind::Pour => {
            "A and B in the warm room, scale, two cups, stir stick, timer, gloves, torch"
        }
        StepKind::Sand => "wet sandpaper, water, alcohol, cloth, dust mask",
        StepKind::Film => "cut and weeded film, transfer tape, squeegee",
        StepKind::Approve => "photographs for the customer",
        StepKind::Set => "stones by size, glue, picker, damp cloth, setting order",
        StepKind::Finish => "soft brush, good light, camera",
        StepKind::Pack => "box, padding, care card, address",
    }
}

/// The gravest of a step's cautions, in brief; the workbook of the piece has them all.
pub(super) fn beware(kind: StepKind) -> Option<&'static str> {
    match kind {
        StepKind::Order | StepKind::Approve | StepKind::Pack => None,
        StepKind::Prepare => {
            Some("wet-sand with a dust mask on; alcohol burns: no flame, open air")
        }
        StepKind::Mask => Some("cut away from the hand"),
        StepKind::Paint => {
            Some("outdoors or with an extractor, vapour mask; no flame until it is dry")
        }
        StepKind::Glitter => Some("gloves, goggles and dust mask while flakes fly"),
        StepKind::Pour => Some(
            "gloves, covered arms, aired room, vapour mask; never solvent on skin; spread the mix \
             soon, it heats itself in its cup; torch only where nothing can burn",
        ),
        StepKind::Sand => Some("wet, with a dust mask; never resin that is still soft"),
        StepKind::Film => Some("mind blade and hook"),
        StepKind::Set => Some("air the room, no flame; chipped glass is sharp; no small children"),
        StepKind::Finish => Some("feel for sharp chips; never call it food safe"),
    }
}
