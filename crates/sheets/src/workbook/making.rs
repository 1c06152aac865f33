//! The work in order, and a mixing card for each pour.
//!
//! What every caution ends on, to follow the maker's safety data sheet, stands once at the foot of
//! each of these pages; so the cautions beside a step are those of its own.

use super::{notes_about, sentence};
use crate::Plan;
use crate::typeset::has_letter;
use crate::unrolled::in_collar;
use crate::words;
use coats::mixing::{Pour, mix_for, worth_weighing};
use coats::{Coat, Matter, Mix};
use piece::Finish;
use serde_json::{Value, json};
use work::{Sitting, Step, StepKind};

/// Data of the pages that list the steps.
pub(super) fn work(plan: &Plan) -> Value {
    let steps = plan.steps.steps.iter().enumerate();
    let notes: Vec<_> =
        plan.timetable.iter().flat_map(|timetable| &timetable.notes).map(super::note).collect();
    json!({
        "steps": steps.map(|(index, one)| step(plan, index, one)).collect::<Vec<_>>(),
        "quantity": plan.piece.quantity,
        "maker": plan.settings.maker.name,
        "hands_on": words::hours(plan.steps.hands_on_min()),
        "ready": plan.timetable.as_ref().map(|timetable| {
            format!("{} {}", words::day(timetable.ready.date()), words::clock(timetable.ready))
        }),
        "post_by": plan
            .timetable
            .as_ref()
            .and_then(|timetable| timetable.post_by)
            .map(words::day),
        "notes": notes,
    })
}

fn step(plan: &Plan, index: usize, step: &Step) -> Value {
    let sittings: Vec<_> = plan
        .timetable
        .iter()
        .flat_map(|timetable| &timetable.sittings)
        .filter(|sitting| sitting.step == index)
        .map(sitting)
        .collect();
    let mut then = Vec::new();
    if step.turner_min > 0.0 {
        let turns = step.part.is_none_or(|part| plan.shape.parts[part].surface.period().is_some());
        let held = if turns { "On the turner" } else { "Lying level" };
        then.push(format!("{held} for {}.", words::span(step.turner_min)));
    }
    if step.wait_min > 0.0 {
        let rest = match step.kind {
            StepKind::Order | StepKind::Approve => "Then wait {} before the next step.",
            _ => "Then let it rest {} before the next step on it.",
        };
        then.push(rest.replace("{}", &words::span(step.wait_min)));
    }
    if let Some(minutes) = step.sand_after_min {
        then.push(format!(
            "If what follows begins later than {} after, sand first.",
            words::span(minutes)
        ));
    }
    let cautions = cautions(step);
    json!({
        "number": index + 1,
        "kind": words::step_kind(step.kind),
        "name": sentence(&step.name).trim_end_matches('.'),
        "hands_on": words::span(step.hands_on_min),
        "sittings": sittings,
        "how": how(plan, step),
        "then": then,
        "as_at": as_at(plan, index, &cautions),
        "cautions": cautions,
        "see": see(plan, index, step),
    })
}

/// How a step is done, in words that the sheets have letters for.
fn how(plan: &Plan, step: &Step) -> Vec<String> {
    let mut how: Vec<String> = step.how.iter().map(|line| printable(&sentence(line))).collect();
    let film = step.zone.filter(|_| step.kind == StepKind::Film);
    let round =
        |zone: usize| plan.shape.parts[plan.piece.zones[zone].part].surface.period().is_some();
    if film.is_some_and(|zone| round(zone) && !in_collar(plan, zone)) {
        how.push(
            "There is no paper collar for it: its windows leave no strip of paper to close one by. Lay it by the wrap."
                .to_owned(),
        );
    }
    how
}

/// A line with a mark in place of each letter that the sheets cannot print, and what to do instead.
fn printable(line: &str) -> String {
    let lacks = |letter: &char| !letter.is_whitespace() && !has_letter(*letter);
    if !line.chars().any(|letter| lacks(&letter)) {
        return line.to_owned();
    }
    let shown: String =
        line.chars().map(|letter| if lacks(&letter) { '*' } else { letter }).collect();
    format!(
        "{shown} Each * is a letter that this workbook cannot print: compare it with the drawing of the zone on the wrap and in the file to cut, and with the order as it was written."
    )
}

/// A step's own cautions: without the sentence that every page ends on.
fn cautions(step: &Step) -> Vec<String> {
    let own = step.cautions.iter().filter(|line| !line.contains("safety data sheet"));
    own.map(|line| sentence(line)).collect()
}

/// The number of the first step that gives the same cautions in full, where that saves reading.
fn as_at(plan: &Plan, index: usize, cautions: &[String]) -> Option<usize> {
    let before = plan.steps.steps[..index].iter();
    let first = before.map(self::cautions).position(|earlier| earlier == cautions)?;
    (cautions.len() > 2).then_some(first + 1)
}

/// Other pages that a step is worked from: what they are, and the name of their place.
fn see(plan: &Plan, index: usize, step: &Step) -> Vec<Value> {
    let zone = step.zone.and_then(|zone| plan.piece.zones.get(zone));
    let part = step.part.and_then(|part| plan.piece.parts.get(part));
    let mut see = Vec::new();
    let mut look = |what: &str, place: String| see.push(json!({ "what": what, "place": place }));
    if step.kind == StepKind::Pour {
        look("mixing card", format!("mix: {}", index + 1));
    }
    if let Some(zone) = zone.filter(|zone| matches!(zone.finish, Finish::Stones(_))) {
        look("placement", format!("stones: {}", zone.name));
        look("setting order", format!("setting: {}", plan.piece.parts[zone.part].name));
    }
    let drawn =
        [StepKind::Mask, StepKind::Paint, StepKind::Glitter, StepKind::Pour, StepKind::Film];
    if let Some(part) = part.filter(|_| drawn.contains(&step.kind)) {
        look("wrap", format!("wrap: {}", part.name));
    }
    if step.kind == StepKind::Film && step.zone.is_some_and(|zone| in_collar(plan, zone)) {
        look("paper collar", "collars".to_owned());
    }
    see
}

fn sitting(sitting: &Sitting) -> Value {
    json!({
        "day": words::short_day(sitting.begins.date()),
        "from": words::clock(sitting.begins),
        "to": words::clock(sitting.ends),
        "share": (sitting.of > 1).then(|| format!("{} of {}", sitting.number, sitting.of)),
    })
}

/// Data of the mixing cards, in order of work.
pub(super) fn mixing(plan: &Plan) -> Vec<Value> {
    let coats = plan.coats.coats.iter();
    coats
        .filter_map(|coat| match &coat.matter {
            Matter::Resin(mix) => Some(card(plan, coat, mix)),
            Matter::Paint { .. } | Matter::Glitter { .. } => None,
        })
        .collect()
}

fn card(plan: &Plan, coat: &Coat, mix: &Mix) -> Value {
    let resin = &plan.settings.resin;
    let step = plan.steps.steps.iter().position(|step| {
        step.coat
            .and_then(|index| plan.coats.coats.get(index))
            .is_some_and(|of| std::ptr::eq(of, coat))
    });
    let amount = |value: f64| crate::numbers::fixed(value, 1);
    let index = plan.coats.coats.iter().position(|of| std::ptr::eq(of, coat));
    let pour = index.and_then(|index| plan.coats.pour(index));
    let waits = plan.coats.waits;
    json!({
        "part": plan.piece.parts[coat.part].name,
        "zone": plan.piece.zones[coat.zone].name,
        "number": coat.number,
        "of": coat.of,
        "step": step.map(|index| index + 1),
        "resin": sentence(&resin.name).trim_end_matches('.'),
        "a_g": amount(mix.a_g),
        "b_g": amount(mix.b_g),
        "a_ml": amount(mix.a_ml),
        "b_ml": amount(mix.b_ml),
        "total_g": amount(mix.a_g + mix.b_g),
        "total_ml": amount(mix.a_ml + mix.b_ml),
        "on_cup_ml": amount(mix.on_cup_ml),
        "ratio_volume": format!(
            "{} : {}",
            words::trimmed(resin.ratio_by_volume.0, 2),
            words::trimmed(resin.ratio_by_volume.1, 2)
        ),
        "ratio_mass": format!("100 : {}", words::trimmed(100.0 * mix.b_g / mix.a_g.max(1e-9), 1)),
        "film": words::trimmed(coat.film_mm, 2),
        "area_cm2": words::trimmed(coat.area_mm2 / 100.0, 0),
        "thin_for": pour.map_or(String::new(), |pour| words::span(pour.plan.working.least_min.floor())),
        "sets_in_cup": pour
            .map_or(String::new(), |pour| words::span(pour.plan.pot_life.least_min.floor())),
        "ratio_off": pour.map_or(String::new(), |pour| crate::numbers::fixed(100.0 * pour.ratio.worst(), 0)),
        "scale_g": plan.settings.scale.readability_g,
        "keep": if plan.shape.parts[coat.part].surface.period().is_some() { "keep turning" } else { "keep level" },
        "turning": words::span(waits.turning_min),
        "recoat_from": words::span(waits.recoat_min.0),
        "recoat_to": words::span(waits.recoat_min.1),
        "sandable": words::span(waits.sandable_min),
        "quantity": plan.piece.quantity,
        "together": together(plan, coat),
        "notes": notes_about(plan, &format!("zone[{}].resin", coat.zone)),
    })
}

/// One mix for this coat of all pieces, where there are several and it does not heat itself up in its cup.
fn together(plan: &Plan, coat: &Coat) -> Option<String> {
    let quantity = plan.piece.quantity;
    if quantity < 2 {
        return None;
    }
    let one = Pour { area_mm2: coat.area_mm2, film_mm: coat.film_mm };
    let resin = &plan.settings.resin;
    let mix =
        worth_weighing(mix_for(&vec![one; quantity as usize], resin), resin, plan.settings.scale);
    let limit_g = plan.coats.pours.as_ref()?.runaway_g?;
    let grams = |g: f64| crate::numbers::fixed(g, 1);
    let all = format!(
        "For all {quantity} at once: {} g of A and {} g of B",
        grams(mix.a_g),
        grams(mix.b_g)
    );
    Some(if mix.mixed_g() < limit_g {
        format!("{all}, poured one after the other while it is thin.")
    } else {
        format!("{all}; in one cup it would heat itself up, so mix for fewer at a time.")
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_that_cannot_be_printed_are_marked_and_told() {
        let line = "It reads \"Noa 2027\".";
        assert_eq!(printable(line), line);
        let told = printable("It reads \"נועה 2027\".");
        assert!(told.starts_with("It reads \"**** 2027\". Each * is a letter"), "{told}");
    }
}
