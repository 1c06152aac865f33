//! What a customer is told of a piece: no hours, no costs, nothing of the workshop.

use crate::Plan;
use crate::words;
use piece::settings::LengthUnit;
use piece::{Finish, PartRole};
use serde_json::{Value, json};
use std::collections::BTreeSet;

/// Millilitres in a US fluid ounce (NIST SP 811, appendix B.8).
const ML_PER_FL_OZ: f64 = 29.573_53;

/// What is made and comes with it in every one of these plans of one design, a line each; stones are told
/// of by [`stones`].
pub(crate) fn included(plans: &[&Plan]) -> Vec<String> {
    let Some((first, others)) = plans.split_first() else { return Vec::new() };
    // A part that is decorated in some of them only goes by its name.
    let mut lines: Vec<String> = parts(first)
        .into_iter()
        .enumerate()
        .map(|(at, (name, decorated))| {
            let alike =
                |other: &&Plan| parts(other).get(at).is_some_and(|(_, there)| *there == decorated);
            if others.iter().all(alike) { told(name, decorated) } else { name }
        })
        .collect();
    let rest = [decoration(first), beside(first)].concat();
    let everywhere = |line: &String| {
        others.iter().all(|other| [decoration(other), beside(other)].concat().contains(line))
    };
    lines.extend(rest.into_iter().filter(everywhere));
    lines
}

/// What lies in a parcel with one piece, a line each.
pub(crate) fn parcel(plan: &Plan) -> Vec<String> {
    let parts = parts(plan).into_iter().map(|(name, decorated)| told(name, decorated));
    parts.chain(beside(plan)).collect()
}

/// How it is decorated, besides stones.
pub(crate) fn decoration(plan: &Plan) -> Vec<String> {
    let mut lines = Vec::new();
    let coloured = |wanted: fn(&Finish) -> Option<usize>| {
        let mut names: Vec<&str> = Vec::new();
        for zone in &plan.piece.zones {
            let name = wanted(&zone.finish).map(|colour| plan.piece.colours[colour].name.as_str());
            names.extend(name.filter(|name| !names.contains(name)));
        }
        names.join(", ")
    };
    let mut told = |what: &str, names: String| {
        if !names.is_empty() {
            lines.push(format!("{what}: {names}"));
        }
    };
    told(
        "Painted",
        coloured(|finish| match finish {
            Finish::Paint { colour, .. } => Some(*colour),
            _ => None,
        }),
    );
    told(
        "Glitter",
        coloured(|finish| match finish {
            Finish::Glitter { colour, .. } => Some(*colour),
            _ => None,
        }),
    );
    told(
        "Pictures and letters of film",
        coloured(|finish| match finish {
            Finish::Vinyl { colour, .. } => Some(*colour),
            _ => None,
        }),
    );
    lines.extend(
        texts(plan).into_iter().map(|text| format!("Words, as spelled: \u{201c}{text}\u{201d}")),
    );
    let coats: u32 = plan
        .piece
        .zones
        .iter()
        .map(|zone| match zone.finish {
            Finish::Resin { coats, .. } => coats,
            _ => 0,
        })
        .sum();
    match coats {
        0 => {}
        1 => lines.push("Sealed with one coat of clear resin".to_owned()),
        coats => lines.push(format!("Sealed with {coats} coats of clear resin")),
    }
    lines
}

/// What comes with it.
fn beside(plan: &Plan) -> Vec<String> {
    let mut lines = Vec::new();
    if !plan.stones.stones.is_empty() && plan.settings.spare_stones > 0.0 {
        lines.push("A small bag of spare stones for repairs".to_owned());
    }
    lines.push("A card on how to keep it well".to_owned());
    lines
}

/// Its parts, the vessel with what it holds, and whether they are decorated.
fn parts(plan: &Plan) -> Vec<(String, bool)> {
    let parts = plan.piece.parts.iter().enumerate();
    parts
        .map(|(index, part)| {
            let decorated = plan.piece.zones.iter().any(|zone| zone.part == index);
            let what = match part.role {
                PartRole::Body => match part.capacity_ml {
                    Some(ml) => format!("Cup of {}", capacity(ml, plan.settings.lengths)),
                    None => "Cup".to_owned(),
                },
                PartRole::Lid => "Lid".to_owned(),
                PartRole::Topper => "Topper".to_owned(),
            };
            (what, decorated)
        })
        .collect()
}

fn told(name: String, decorated: bool) -> String {
    if decorated { format!("{name}, decorated by hand") } else { format!("{name}, plain") }
}

fn capacity(ml: f64, unit: LengthUnit) -> String {
    match unit {
        LengthUnit::Inches => format!("{}\u{a0}fl\u{a0}oz", words::trimmed(ml / ML_PER_FL_OZ, 1)),
        LengthUnit::Millimetres => format!("{}\u{a0}ml", words::trimmed(ml, 0)),
    }
}

/// Every text on it once, as spelled.
pub(crate) fn texts(plan: &Plan) -> Vec<&str> {
    let mut texts: Vec<&str> = Vec::new();
    for text in plan.piece.zones.iter().filter_map(|zone| zone.region.text()) {
        if !texts.contains(&text) {
            texts.push(text);
        }
    }
    texts
}

/// Its stones: how many, of what, in which sizes; `None` where it has none.
pub(crate) fn stones(plan: &Plan) -> Option<Value> {
    let count = plan.stones.stones.len();
    if count == 0 {
        return None;
    }
    let (mut materials, mut sizes) = (BTreeSet::new(), Vec::new());
    let mut colours = BTreeSet::new();
    for stone in &plan.stones.stones {
        colours.insert(stone.colour);
        let Finish::Stones(finish) = &plan.piece.zones[stone.zone].finish else { continue };
        materials.insert(finish.material.name());
        let size = &finish.sizes[stone.size];
        if !sizes.iter().any(|(_, name): &(f64, &str)| *name == size.name) {
            sizes.push((size.diameter_mm, size.name.as_str()));
        }
    }
    sizes.sort_by(|a, b| a.0.total_cmp(&b.0));
    let sizes = match sizes.as_slice() {
        [(_, only)] => format!("size {only}"),
        [(_, first), .., (_, last)] => format!("sizes {first} to {last}"),
        [] => String::new(),
    };
    let colours: Vec<Value> = colours.into_iter().map(|colour| swatch(plan, colour)).collect();
    Some(json!({
        "count": words::grouped(count),
        "of": materials.into_iter().collect::<Vec<_>>().join(" and "),
        "sizes": sizes,
        "colours": colours,
    }))
}

/// A colour with its name.
fn swatch(plan: &Plan, colour: usize) -> Value {
    let colour = &plan.piece.colours[colour];
    json!({ "name": colour.name, "srgb": colour.srgb })
}

/// The head of every paper: who writes.
pub(crate) fn from_whom(plan: &Plan) -> Value {
    let quote = &plan.settings.quote;
    json!({
        "studio": plan.settings.studio,
        "address": quote.address,
        "payment": quote.payment,
        "tax": quote.tax,
        "demo": plan.settings.demo,
        "paper": crate::workbook::paper_name(&plan.settings),
    })
}
