//! The coats of a piece in words and as data.

use coats::bury::BuryKind;
use coats::cure::{Duration, Way};
use coats::pours::{OnTurner, Pour};
use coats::turner::Fate;
use coats::{Coats, Matter, Pours};
use piece::lengths::fine;
use piece::{Piece, Settings};
use serde_json::{Value, json};
use std::fmt::Write;
use work::words::{percent, span};
use work::{Step, StepKind, Steps};

/// Everything that `coats` tells of.
pub struct Coated {
    pub piece: Piece,
    pub settings: Settings,
    pub coats: Coats,
    pub steps: Steps,
}

/// For a person: resin, room, pours, stack, what fits.
pub fn text(coated: &Coated) -> String {
    let mut text = format!("{}\n", coated.piece.title);
    if let Some(pours) = &coated.coats.pours {
        resin(&mut text, coated, pours);
        after_a_pour(&mut text, coated, pours);
        poured(&mut text, coated, pours);
        mixing(&mut text, coated, pours);
    } else {
        text.push_str("\nNothing is poured.\n");
    }
    buried(&mut text, coated);
    stack(&mut text, coated);
    fits(&mut text, coated);
    air(&mut text, coated);
    text.push_str(
        "\nGloves, moving air, a vapour mask; follow the maker's safety data sheet and local rules.\n\
         These figures are no substitute for either.\n",
    );
    text
}

// Writing to a string does not fail, in all of what follows.

fn resin(text: &mut String, coated: &Coated, pours: &Pours) {
    let sheet = &coated.settings.resin;
    let _ = writeln!(
        text,
        "\nThe sheet of {} at {}, and the model fitted to it",
        sheet.name,
        warmth(sheet.sheet_at_c)
    );
    let _ = writeln!(text, "  {:<24} {:>10} {:>10}", "", "sheet", "model");
    for line in &pours.calibration.fit.lines {
        let figure = |value: f64| match line.unit {
            "min" => span(value.round()),
            unit => format!("{value:.0} {unit}"),
        };
        let _ = writeln!(
            text,
            "  {:<24} {:>10} {:>10}",
            line.key.replace('_', " "),
            figure(line.asked),
            figure(line.met)
        );
    }
    let usual: Vec<String> = sheet.usual.iter().map(|key| format!("`{key}`")).collect();
    if !usual.is_empty() {
        let _ = writeln!(text, "  taken as usual, the sheet does not say: {}", usual.join(", "));
    }
}

fn after_a_pour(text: &mut String, coated: &Coated, pours: &Pours) {
    let Some(pour) = pours.pours.first() else { return };
    let room = sheets::room_words(&coated.settings, &coated.coats);
    let _ = writeln!(text, "\n{}", room.unwrap_or_default());
    let _ = writeln!(text, "  {:<24} {:>10}   {:<18}", "after a pour", "likely", "range");
    let plan = &pour.plan;
    for (name, duration) in durations(plan) {
        let range =
            format!("{} to {}", span(duration.least_min.round()), span(duration.most_min.round()));
        let likely = span(duration.min.round());
        let from = if duration.way == Way::Sheet { "sheet, scaled" } else { "model" };
        let _ = writeln!(text, "  {name:<24} {likely:>10}   {range:<22} {from}");
    }
    let _ = writeln!(text, "  {:<24} {:>10}", "softens from about", warmth(plan.softens_c));
    let waits = &coated.coats.waits;
    let _ = writeln!(
        text,
        "  The steps wait for whatever hour is the slowest: next coat from {} to {}, sand from {}, full cure {}.",
        span(waits.recoat_min.0),
        span(waits.recoat_min.1),
        span(waits.sandable_min),
        span(waits.full_cure_min)
    );
}

fn durations(plan: &coats::cure::Plan) -> [(&'static str, &Duration); 6] {
    [
        ("no longer sticks", &plan.tack_free),
        ("next coat bonds from", &plan.recoat_from),
        ("next coat bonds until", &plan.recoat_to),
        ("keep turning", &plan.turning),
        ("hard enough to sand", &plan.sandable),
        ("full cure", &plan.full_cure),
    ]
}

fn poured(text: &mut String, coated: &Coated, pours: &Pours) {
    let turner = &coated.settings.turner;
    let _ = writeln!(text, "\nPours, at {} turns a minute", turner.rpm);
    let _ = writeln!(
        text,
        "  {:<22} {:>8} {:>8} {:>8} {:>9} {:>9} {:>16}",
        "", "A g", "B g", "on it", "film", "thin for", "of what stays on"
    );
    for pour in &pours.pours {
        let coat = &coated.coats.coats[pour.coat];
        let Matter::Resin(mix) = &coat.matter else { continue };
        let name = &coated.piece.zones[coat.zone].name;
        let _ = writeln!(
            text,
            "  {:<22} {:>8.1} {:>8.1} {:>5.1} ml {:>6.2} mm {:>9} {:>16}",
            format!("{name}, {} of {}", coat.number, coat.of),
            mix.a_g,
            mix.b_g,
            mix.on_cup_ml,
            coat.film_mm,
            span(pour.plan.working.min.floor()),
            stays_on(pour)
        );
    }
    if let Some(pour) = pours.pours.iter().find(|pour| pour.on_turner.is_some()) {
        turned(text, coated, pour);
    }
}

fn stays_on(pour: &Pour) -> String {
    match &pour.on_turner {
        Some(OnTurner { allowed, .. }) => {
            let fate = match allowed.fate {
                Fate::Safe => "safe",
                Fate::Tight => "tight",
                Fate::Sags => "sags",
            };
            format!("{}, {fate}", percent(allowed.share))
        }
        None => "lies level".to_owned(),
    }
}

fn turned(text: &mut String, coated: &Coated, pour: &Pour) {
    let Some(on) = &pour.on_turner else { return };
    let unit = coated.settings.lengths;
    let length = |mm: f64| fine(mm, unit);
    let name = &coated.piece.zones[coated.coats.coats[pour.coat].zone].name;
    let _ = writeln!(
        text,
        "  {name}: least stays on {} from the start of the wall; safe up to {:.2} mm, or from {:.1} turns a minute.",
        length(on.along.worst.along_mm),
        on.allowed.safe_film_mm,
        on.allowed.safe_rpm
    );
    let level = on.level_rad.map_or("it hardly creeps".to_owned(), |level| {
        format!("level the axis to {:.1} deg to keep it under {}", level.to_degrees(), length(5.0))
    });
    let _ = writeln!(
        text,
        "  It creeps {} along the axis until it gels, {:.1} deg out of level; {level}. Do not stop it for more than {:.0} s at first.",
        length(on.creep_mm),
        coated.settings.turner.out_of_level_rad.to_degrees(),
        on.standing_s
    );
    let marks = pour.levels_mm.map_or("Marks of glove and brush stay".to_owned(), |mm| {
        format!("Marks of glove and brush up to {} apart level out", length(mm.floor().max(1.0)))
    });
    let bubbles = pour.bubble_mm.map_or("no bubble leaves by itself".to_owned(), |mm| {
        format!("bubbles from {mm:.2} mm on leave by themselves")
    });
    let _ = writeln!(
        text,
        "  {marks}; {bubbles}, the rest by short passes of heat in the first {:.0} min. A ring {} from each edge stands {:.2} mm high.",
        pour.heat.until_min().floor(),
        length(pour.edge.ridge_at_mm),
        pour.edge.ridge_mm
    );
}

fn mixing(text: &mut String, coated: &Coated, pours: &Pours) {
    let grams = |mass: Option<f64>| match mass {
        Some(g) if g >= 5000.0 => "any amount".to_owned(),
        Some(g) => format!("{g:.0} g"),
        None => "none".to_owned(),
    };
    let _ = writeln!(text, "\nAt once, in a cup {} wide", fine(70.0, coated.settings.lengths));
    let _ = writeln!(
        text,
        "  at most {} so that it stays thin for {}; from {} on it heats itself up",
        grams(pours.greatest_mix_g),
        span(coated.settings.times.pour_min),
        grams(pours.runaway_g)
    );
    let _ = writeln!(
        text,
        "  at least {:.0} g, or a scale of {} g throws the ratio off by more than 5 %",
        pours.least_mix_g.ceil(),
        coated.settings.scale.readability_g
    );
}

fn buried(text: &mut String, coated: &Coated) {
    for (zone, plan) in &coated.coats.buried {
        let _ = writeln!(
            text,
            "\nTo bury the glitter of {} until it can be sanded: {} clear coats, {:.2} mm over its highest flakes",
            coated.piece.zones[*zone].name,
            plan.clear(),
            plan.over_peaks_mm
        );
        for coat in &plan.coats {
            let kind = match coat.kind {
                BuryKind::Bed => "bed, glitter shaken in",
                BuryKind::Seal => "quick brushed sealer",
                BuryKind::Clear => "clear coat",
            };
            let (from, to) = coat.wait_min;
            let _ = writeln!(
                text,
                "  {kind:<24} {:.2} mm, the next after {} to {}",
                coat.film_mm,
                span(from),
                span(to)
            );
        }
    }
}

fn air(text: &mut String, coated: &Coated) {
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

fn stack(text: &mut String, coated: &Coated) {
    text.push_str("\nThe stack, in order\n");
    for step in coated.steps.steps.iter().filter(|step| on_the_piece(step)) {
        let hands =
            if step.kind == StepKind::Set { String::new() } else { span(step.hands_on_min) };
        let _ = writeln!(text, "  {:<58} {hands:>10}   {}", named(coated, step), then(step));
    }
}

fn on_the_piece(step: &Step) -> bool {
    !matches!(step.kind, StepKind::Order | StepKind::Approve | StepKind::Finish | StepKind::Pack)
}

/// The name of a step; of stones only where, as they are not counted here.
fn named(coated: &Coated, step: &Step) -> String {
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
        then.push(format!("turning {}", span(step.turner_min)));
    }
    if step.wait_min > 0.0 {
        then.push(format!("then wait {}", span(step.wait_min)));
    }
    if let Some(latest) = step.sand_after_min {
        then.push(format!("sand first after {}", span(latest)));
    }
    then.join(", ")
}

fn fits(text: &mut String, coated: &Coated) {
    let checks = &coated.coats.fits.checks;
    if checks.is_empty() {
        return;
    }
    text.push_str("\nWhat still fits\n");
    for check in checks {
        let part = &coated.piece.parts[check.part].name;
        let room =
            check.room_mm.map_or("not measured".to_owned(), |mm| format!("{mm:.2} mm of room"));
        let verdict = match check.fits() {
            Some(true) => "fits",
            Some(false) => "does not fit",
            None => "measure it",
        };
        let _ = writeln!(
            text,
            "  {:<10} {:<10} {:.2} mm coated, {room}: {verdict}",
            part,
            check.kind.name(),
            check.coated_mm
        );
    }
}

/// `22 °C (72 °F)`.
fn warmth(celsius: f64) -> String {
    format!("{celsius:.0} °C ({:.0} °F)", celsius * 1.8 + 32.0)
}

/// The same as data.
pub fn json(coated: &Coated) -> Value {
    let range = |duration: &Duration| json!({ "min": duration.min, "least_min": duration.least_min, "most_min": duration.most_min });
    let pours = coated.coats.pours.as_ref().map(|pours| {
        let each = pours.pours.iter().map(|pour| {
            let coat = &coated.coats.coats[pour.coat];
            json!({
                "zone": coated.piece.zones[coat.zone].name,
                "coat": coat.number,
                "of": coat.of,
                "film_mm": coat.film_mm,
                "area_mm2": coat.area_mm2,
                "working": range(&pour.plan.working),
                "pot_life": range(&pour.plan.pot_life),
                "ratio_off": pour.ratio.worst(),
                "share_of_what_stays_on": pour.on_turner.as_ref().map(|on| on.allowed.share),
                "safe_film_mm": pour.on_turner.as_ref().map(|on| on.allowed.safe_film_mm),
                "safe_rpm": pour.on_turner.as_ref().map(|on| on.allowed.safe_rpm),
                "creep_mm": pour.on_turner.as_ref().map(|on| on.creep_mm),
                "levels_mm": pour.levels_mm,
                "heat_until_min": pour.heat.until_min(),
            })
        });
        let lines = pours.calibration.fit.lines.iter().map(|line| {
            json!({ "key": line.key, "unit": line.unit, "asked": line.asked, "met": line.met })
        });
        let likely = pours.pours.first().map(|pour| {
            let entries = durations(&pour.plan).map(|(name, d)| (name.replace(' ', "_"), range(d)));
            entries.into_iter().collect::<serde_json::Map<String, Value>>()
        });
        json!({
            "sheet": lines.collect::<Vec<_>>(),
            "pour_clock_min": pours.pour_clock_min,
            "after_a_pour": likely,
            "greatest_mix_g": pours.greatest_mix_g,
            "runaway_g": pours.runaway_g,
            "least_mix_g": pours.least_mix_g,
            "pours": each.collect::<Vec<_>>(),
        })
    });
    let waits = &coated.coats.waits;
    let steps = coated.steps.steps.iter().filter(|step| on_the_piece(step)).map(|step| {
        json!({
            "name": named(coated, step),
            "hands_on_min": (step.kind != StepKind::Set).then_some(step.hands_on_min),
            "turner_min": step.turner_min,
            "wait_min": step.wait_min,
            "sand_after_min": step.sand_after_min,
        })
    });
    let checks = coated.coats.fits.checks.iter().map(|check| {
        json!({
            "part": coated.piece.parts[check.part].name,
            "what": check.kind.name(),
            "coated_mm": check.coated_mm,
            "room_mm": check.room_mm,
            "fits": check.fits(),
        })
    });
    json!({
        "waits": {
            "recoat_from_min": waits.recoat_min.0,
            "recoat_to_min": waits.recoat_min.1,
            "turning_min": waits.turning_min,
            "sandable_min": waits.sandable_min,
            "full_cure_min": waits.full_cure_min,
        },
        "resin": pours,
        "steps": steps.collect::<Vec<_>>(),
        "fits": checks.collect::<Vec<_>>(),
        "buried": coated.coats.buried.iter().map(|(zone, plan)| json!({
            "zone": coated.piece.zones[*zone].name,
            "clear_coats": plan.clear(),
            "over_flakes_mm": plan.over_peaks_mm,
        })).collect::<Vec<_>>(),
        "air": coated.coats.air.days.iter().map(|day| json!({
            "work": day.work,
            "peak_of_limits": day.report.peak.0,
            "near_of_limits": day.report.near,
            "shift_of_limits": day.report.shift,
            "explosive_share": day.report.explosive,
            "resin_vapour_mg_m3": day.report.unlisted_mg_m3,
        })).collect::<Vec<_>>(),
    })
}
