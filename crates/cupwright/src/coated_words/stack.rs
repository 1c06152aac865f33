//! What lies over the glitter, the stack in order, what still fits, and the air.

use super::Coated;
use std::fmt::Write;
use work::words::{count, span};
use work::{Step, StepKind};

// Writing to a string does not fail, in all of what follows.

pub(super) fn buried(text: &mut String, coated: &Coated) {
    for (zone, plan) in &coated.coats.buried {
        let _ = writeln!(
            text,
            "\nAs makers bury flakes like those of {}, until they can be sanded: {}, {:.2} mm over the highest",
            coated.piece.zones[*zone].name,
            count(plan.clear(), "clear coat"),
            plan.over_peaks_mm
        );
        for coat in &plan.coats {
            let kind = coat.kind.name();
            let (from, to) = coat.wait_min;
            let _ = writeln!(
                text,
                "  {kind:<24} {:.2} mm, the next after {}",
                coat.film_mm,
                if to > from {
                    format!("{} to {}", span(from), span(to))
                } else {
                    format!("{}, sanded first", span(from))
                }
            );
        }
    }
}

/// Edges of film and paint beneath clear resin.
pub(super) fn edges(text: &mut String, coated: &Coated) {
    if coated.coats.edges.is_empty() {
        return;
    }
    text.push_str("\nTo bury edges until they can be sanded over\n");
    for edge in &coated.coats.edges {
        let _ = writeln!(
            text,
            "  {:<24} {:.2} mm high: {} of {:.2} mm",
            coated.piece.zones[edge.zone].name,
            edge.step_mm,
            count(edge.burial.coats as usize, "clear coat"),
            edge.film_mm
        );
    }
}

pub(super) fn air(text: &mut String, coated: &Coated) {
    let air = &coated.coats.air;
    if air.days.is_empty() && air.dust.is_none() {
        return;
    }
    let room = &coated.settings.room;
    let stated = if room.air_stated { "" } else { ", taken as usual" };
    let _ = writeln!(
        text,
        "\nThe air of a room of {:.0} m³ with {:.1} changes an hour{stated}",
        room.volume_m3, room.air_changes_per_h
    );
    for day in &air.days {
        for one in &day.report.solvents {
            let _ = writeln!(
                text,
                "  {:<14} {:<14} peak {:.0} mg/m³, at the work {:.0}, over 8 h {:.0}; limit {:.0}",
                day.work,
                one.solvent.name(),
                one.peak_mg_m3,
                one.near_mg_m3,
                one.shift_mg_m3,
                one.limit_mg_m3
            );
        }
        if day.report.unlisted_mg_m3 > 0.0 {
            let _ = writeln!(
                text,
                "  {:<14} {:<14} up to {:.0} mg/m³, no limit is known",
                day.work, "resin vapour", day.report.unlisted_mg_m3
            );
        }
    }
    if let Some(dust) = &air.dust {
        let _ = writeln!(
            text,
            "  {:<14} {:<14} {:.0} mg/m³ at the work, {:.0} of it fine, sanded dry; limits 15 and 5",
            "sanding", "dust", dust.near_mg_m3.0, dust.near_mg_m3.1
        );
    }
    let mut told: Vec<&str> = Vec::new();
    for note in air
        .days
        .iter()
        .flat_map(|day| &day.notes)
        .chain(air.dust.iter().flat_map(|dust| &dust.notes))
    {
        for line in std::iter::once(&note.message).chain(&note.hints) {
            if !told.contains(&line.as_str()) {
                told.push(line);
            }
        }
    }
    for line in told {
        let _ = writeln!(text, "  - {line}");
    }
}

pub(super) fn stack(text: &mut String, coated: &Coated) {
    text.push_str("\nThe stack, in order\n");
    for step in coated.steps.steps.iter().filter(|step| on_the_piece(step)) {
        let hands =
            if step.kind == StepKind::Set { String::new() } else { span(step.hands_on_min) };
        let _ = writeln!(text, "  {:<58} {hands:>10}   {}", named(coated, step), then(step));
    }
}

pub(super) fn on_the_piece(step: &Step) -> bool {
    !matches!(step.kind, StepKind::Order | StepKind::Approve | StepKind::Finish | StepKind::Pack)
}

/// The name of a step; of stones only where, as they are not counted here.
pub(super) fn named(coated: &Coated, step: &Step) -> String {
    match (step.kind, step.zone) {
        (StepKind::Set, Some(zone)) => {
            let zone = &coated.piece.zones[zone];
            format!("Set the stones of {} on {}", zone.name, coated.piece.parts[zone.part].name)
        }
        _ => step.name.clone(),
    }
}

fn then(step: &Step) -> String {
    let mut then = Vec::new();
    if step.turner_min > 0.0 {
        then.push(format!("turning or level {}", span(step.turner_min)));
    }
    if step.wait_min > 0.0 {
        then.push(format!("then wait {}", span(step.wait_min)));
    }
    if let Some(latest) = step.sand_after_min {
        then.push(format!("sand first after {}", span(latest)));
    }
    then.join(", ")
}

pub(super) fn fits(text: &mut String, coated: &Coated) {
    let checks = &coated.coats.fits.checks;
    if checks.is_empty() {
        return;
    }
    text.push_str("\nWhat still fits\n");
    for check in checks {
        let part = &coated.piece.parts[check.part].name;
        let room = check
            .room_mm
            .map_or("not measured".to_owned(), |mm| format!("{:.2} mm of room", mm.max(0.0)));
        let verdict = check.verdict();
        let _ = writeln!(
            text,
            "  {:<10} {:<10} {:.2} mm coated, {room}: {verdict}",
            part,
            check.kind.name(),
            check.coated_mm
        );
    }
}
