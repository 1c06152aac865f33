//! Cover: title, picture, key figures, colours, and what needs a look before work begins.

use super::note;
use crate::Plan;
use crate::words;
use piece::{Drinks, Finish, Severity};
use serde_json::{Value, json};

/// Data of the cover.
pub(super) fn data(plan: &Plan) -> Value {
    let warnings: Vec<_> =
        plan.notes.iter().filter(|note| note.severity != Severity::Caution).map(note).collect();
    json!({
        "notes": plan.piece.notes,
        "facts": facts(plan),
        "figures": figures(plan),
        "parts": parts(plan),
        "palette": palette(plan),
        "warnings": warnings,
        "begin": begin(plan),
    })
}

/// What to begin with: which pages this workbook has, and the files beside it by their use.
fn begin(plan: &Plan) -> Value {
    let cuts: Vec<_> = crate::cut::cut_files(plan).into_iter().map(|(name, _)| name).collect();
    let parts = || plan.piece.parts.iter().enumerate();
    let collared = parts().filter(|(index, _)| crate::unrolled::has_collars(plan, *index));
    let collars: Vec<_> = collared.map(|(_, part)| format!("collar-{}", part.name)).collect();
    let use_of_sheets = if collars.is_empty() {
        "each part unrolled, to trace or print whole"
    } else {
        "parts unrolled, and paper to place decals by"
    };
    let wraps = parts().map(|(_, part)| format!("wrap-{}", part.name));
    let sheets: Vec<_> = wraps.chain(collars).collect();
    let mut files = Vec::new();
    let mut file = |names: String, what: &str| files.push(json!({ "names": names, "what": what }));
    if !cuts.is_empty() {
        file(cuts.join(", "), "shapes for the cutter");
    }
    file(format!("{} (.svg and .pdf)", sheets.join(", ")), use_of_sheets);
    if plan.timetable.is_some() {
        file("calendar.ics".to_owned(), "sittings and waits for your calendar");
    }
    let pictures = if super::has_sides(plan) { "preview.png, views.png" } else { "preview.png" };
    file(format!("piece.glb, {pictures}"), "for the customer");
    file("stones, zones, coats, steps, bill, price (.csv)".to_owned(), "every figure as a table");
    json!({
        "files": files,
        "mixing": plan.coats.coats.iter().any(|coat| matches!(coat.matter, coats::Matter::Resin(_))),
    })
}

/// What was agreed.
fn facts(plan: &Plan) -> Vec<Value> {
    let piece = &plan.piece;
    let mut facts = Vec::new();
    let mut fact =
        |label: &str, value: String| facts.push(json!({ "label": label, "value": value }));
    if piece.quantity > 1 {
        fact("Quantity", format!("{} alike", piece.quantity));
    }
    if let Some(due) = piece.due {
        fact("With the customer by", words::day(due));
    }
    if let Some(day) = plan.timetable.as_ref().and_then(|timetable| timetable.post_by) {
        fact("In the post by", words::day(day));
    }
    let drinks = match piece.drinks {
        Drinks::Cold => "cold drinks",
        Drinks::Hot => "hot drinks",
    };
    fact("Made for", format!("{drinks}{}", if piece.for_child { ", for a child" } else { "" }));
    facts
}

/// The figures that a maker asks first.
fn figures(plan: &Plan) -> Vec<Value> {
    let mut figures = Vec::new();
    let mut figure =
        |value: String, label: &str| figures.push(json!({ "value": value, "label": label }));
    if !plan.stones.stones.is_empty() {
        figure(words::grouped(plan.stones.stones.len()), "stones on each piece");
    }
    let coats = plan.coats.coats.len();
    if coats > 0 {
        figure(coats.to_string(), if coats == 1 { "coat" } else { "coats" });
    }
    figure(words::hours(plan.steps.hands_on_min()), "hands-on, one piece");
    if let Some(timetable) = &plan.timetable {
        if let Some(first) = timetable.sittings.first() {
            figure(words::short_day(first.begins.date()), "first sitting");
        }
        figure(words::short_day(timetable.ready.date()), "ready to post");
    }
    figures
}

fn parts(plan: &Plan) -> Vec<Value> {
    let lengths = plan.settings.lengths;
    let parts = plan.piece.parts.iter().zip(&plan.shape.parts).enumerate();
    parts
        .map(|(index, (part, shape))| {
            let zones = plan.piece.zones.iter().filter(|zone| zone.part == index);
            let zones = zones.map(|zone| {
                json!({ "name": zone.name, "finish": words::finish_in_full(plan, &zone.finish) })
            });
            let mut sizes = vec![format!("wall {}", words::length(shape.wall_mm, lengths))];
            if shape.volume_ml > 0.0 {
                sizes.push(format!(
                    "outside volume {}\u{a0}ml (holds less)",
                    words::trimmed(shape.volume_ml, 0)
                ));
            }
            sizes.push(format!("{}\u{a0}cm² to cover", words::trimmed(shape.area_mm2 / 100.0, 0)));
            json!({
                "name": part.name,
                "sizes": sizes.join(", "),
                "zones": zones.collect::<Vec<_>>(),
            })
        })
        .collect()
}

/// Each colour with the letter it goes by and what it is used for.
fn palette(plan: &Plan) -> Vec<Value> {
    let colours = plan.piece.colours.iter().enumerate();
    colours
        .map(|(index, colour)| {
            let stones = plan.stones.stones.iter().filter(|stone| stone.colour == index).count();
            let mut uses: Vec<String> = Vec::new();
            for zone in &plan.piece.zones {
                let used = match &zone.finish {
                    Finish::Paint { colour, .. }
                    | Finish::Glitter { colour, .. }
                    | Finish::Vinyl { colour, .. } => *colour == index,
                    Finish::Resin { .. } | Finish::Stones(_) => false,
                };
                let word = words::finish(&zone.finish);
                if used && !uses.iter().any(|already| already == word) {
                    uses.push(word.to_owned());
                }
            }
            if stones > 0 {
                uses.push(format!("{} stones", words::grouped(stones)));
            }
            if plan.piece.parts.iter().any(|part| part.blank_colour == Some(index)) {
                uses.push("blank".to_owned());
            }
            json!({
                "letter": colour.letter,
                "name": colour.name,
                "srgb": colour.srgb,
                "uses": uses.join(", "),
            })
        })
        .collect()
}
