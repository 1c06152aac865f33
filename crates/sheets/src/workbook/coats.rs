//! The coat chart: the pours of a piece against what the turner holds and the room allows.

use crate::coat_plots::{after_a_pour, allowed_along_wall, allowed_over_time};
use crate::numbers::fixed;
use crate::{Plan, SheetError, words};
use coats::air::AirDay;
use coats::cure::choices::CUP_MM;
use coats::pot::MOST_MASS_G;
use coats::pours::Pour;
use coats::room::RoomCourse;
use coats::use_notes::FOOD_CONTACT;
use coats::{Coats, Pours};
use piece::{Piece, Settings};
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// Plots of zones beside each other; more would fill pages.
const MOST_PLOTS: usize = 1;

/// Marks longer than this are no marks of a hand, mm.
const MOST_MARK_MM: f64 = 200.0;

/// What the page is filled with, its plots put into `files`; null if nothing is poured.
pub(super) fn data(
    plan: &Plan,
    files: &mut BTreeMap<String, Vec<u8>>,
) -> Result<Value, SheetError> {
    let Some(pours) = &plan.coats.pours else { return Ok(Value::Null) };
    let room = room_words(&plan.settings, &plan.coats).unwrap_or_default();
    let title = format!("After a pour of {}", plan.settings.resin.name);
    let Some(cure) = after_a_pour(&title, &room, pours)? else { return Ok(Value::Null) };
    files.insert("cure.svg".to_owned(), cure.svg);
    let plots = plots(plan, pours, files)?;
    Ok(json!({
        "room": room,
        "cure": "cure.svg",
        "plots": plots,
        "pours": pours.pours.iter().map(|pour| row(plan, pour)).collect::<Vec<_>>(),
        "turner": turner(plan, pours),
        "sheet": sheet(pours),
        "limits": limits(plan, pours),
        "buried": buried(plan),
        "edges": edges(plan),
        "fits": fits(&plan.piece, &plan.coats),
        "air": air(plan),
        "cautions": FOOD_CONTACT[..2],
    }))
}

/// In what room the pours are followed, for a person; `None` if nothing is poured.
pub fn room_words(settings: &Settings, coats: &Coats) -> Option<String> {
    let pours = coats.pours.as_ref()?;
    let course = RoomCourse::new(&settings.room, pours.pour_clock_min);
    let worst = course.worst(0.0, coats.waits.full_cure_min);
    let (least, most) = (worst.coldest.air.temperature_c, worst.warmest.air.temperature_c);
    let humid = fixed(course.air(0.0).humidity_pct, 0);
    let dew = words::warmth(worst.nearest_dew.dew_point_c);
    let clock = pours.pour_clock_min as u32;
    Some(if most - least < 0.5 {
        format!("In a room at {}, {humid} % humid, dew point {dew}", words::warmth(least))
    } else {
        format!(
            "Poured at {:02}:{:02} in a room between {} and {}, {humid} % humid, dew point {dew} at the nearest",
            clock / 60,
            clock % 60,
            words::warmth(least),
            words::warmth(most)
        )
    })
}

/// The zone that uses most of what stays on: as time goes on, and along the wall.
fn plots(
    plan: &Plan,
    pours: &Pours,
    files: &mut BTreeMap<String, Vec<u8>>,
) -> Result<Vec<String>, SheetError> {
    let mut turned: Vec<&Pour> =
        pours.pours.iter().filter(|pour| pour.on_turner.is_some()).collect();
    let share = |pour: &Pour| pour.on_turner.as_ref().map_or(0.0, |on| on.allowed.share);
    turned.sort_by(|a, b| share(b).total_cmp(&share(a)));
    let mut names = Vec::new();
    for (index, pour) in turned.iter().take(MOST_PLOTS).enumerate() {
        let Some(on) = &pour.on_turner else { continue };
        let coat = &plan.coats.coats[pour.coat];
        let (zone, part) = (&plan.piece.zones[coat.zone].name, &plan.piece.parts[coat.part].name);
        let name = format!("{zone} on the {part}");
        let settings = &plan.settings;
        let along = allowed_along_wall(&name, &on.along, settings.turner.share, settings.lengths)?;
        for (what, plotted) in [("time", allowed_over_time(&name, &on.allowed)?), ("wall", along)] {
            let file = format!("coat-{what}-{}.svg", index + 1);
            files.insert(file.clone(), plotted.svg);
            names.push(file);
        }
    }
    Ok(names)
}

fn row(plan: &Plan, pour: &Pour) -> [String; 7] {
    let coat = &plan.coats.coats[pour.coat];
    let unit = plan.settings.lengths;
    let length = |mm: f64| piece::lengths::fine(mm, unit);
    let on = pour.on_turner.as_ref();
    let fate = on.map_or("lies level".to_owned(), |on| {
        format!("{} %, {}", fixed(100.0 * on.allowed.share, 0), on.allowed.fate.name())
    });
    let safe_mm = on.map(|on| on.allowed.safe_film_mm).or(pour.dome_mm);
    [
        format!("{}, {} of {}", plan.piece.zones[coat.zone].name, coat.number, coat.of),
        format!("{} mm", fixed(coat.film_mm, 2)),
        words::span(pour.plan.working.least_min.floor()),
        fate,
        safe_mm.map_or(String::new(), |mm| format!("{} mm", fixed(mm, 2))),
        on.map_or(String::new(), |on| length(on.creep_mm)),
        match pour.levels_mm {
            None => "none".to_owned(),
            Some(mm) if mm > MOST_MARK_MM => "all".to_owned(),
            Some(mm) => length(mm.floor().max(1.0)),
        },
    ]
}

fn turner(plan: &Plan, pours: &Pours) -> Vec<String> {
    let standing = pours.pours.iter().filter_map(|pour| Some(pour.on_turner.as_ref()?.standing_s));
    let standing_s = standing.fold(f64::INFINITY, f64::min);
    if standing_s.is_infinite() {
        return Vec::new();
    }
    let turner = &plan.settings.turner;
    let tilt = fixed(turner.out_of_level_rad.to_degrees(), 1);
    vec![
        format!(
            "At {} turns a minute, {tilt}° out of level; the axis is to be level, not the wall.",
            turner.rpm
        ),
        format!(
            "Just after the pour it may stand still for {} s at most.",
            fixed(standing_s.floor(), 0)
        ),
    ]
}

fn sheet(pours: &Pours) -> Vec<[String; 3]> {
    let lines = pours.calibration.fit.lines.iter();
    lines
        .map(|line| {
            let figure = |value: f64| match line.unit {
                "min" => words::span(value.round()),
                unit => format!("{} {unit}", fixed(value, 0)),
            };
            [line.key.replace('_', " "), figure(line.asked), figure(line.met)]
        })
        .collect()
}

fn limits(plan: &Plan, pours: &Pours) -> Vec<String> {
    let mut lines = Vec::new();
    if let Some(runaway_g) = pours.runaway_g.filter(|g| *g < MOST_MASS_G) {
        lines.push(format!(
            "Mixed in one cup {} mm wide, {} g or more heat themselves up: mix less at once, or pour it out at once.",
            fixed(CUP_MM, 0),
            fixed(runaway_g.floor(), 0)
        ));
    }
    lines.push(format!(
        "Mix {} g or more, or a scale of {} g throws the ratio off by more than 5 %.",
        fixed(pours.least_mix_g.ceil(), 0),
        plan.settings.scale.readability_g
    ));
    if let Some(pour) = pours.pours.first() {
        lines.push(format!(
            "Cured in this room it softens from about {}.",
            words::warmth(pour.plan.softens_c)
        ));
    }
    lines
}

fn buried(plan: &Plan) -> Vec<(String, Vec<[String; 3]>)> {
    let each = plan.coats.buried.iter();
    each.map(|(zone, burial)| {
        let title = format!(
            "{}: {}, {} mm over its highest flakes before sanding",
            plan.piece.zones[*zone].name,
            work::words::count(burial.clear(), "clear coat"),
            fixed(burial.over_peaks_mm, 2)
        );
        let rows = burial.coats.iter().map(|coat| {
            let (from, to) = coat.wait_min;
            [
                coat.kind.name().to_owned(),
                format!("{} mm", fixed(coat.film_mm, 2)),
                if to > from {
                    format!("{} to {}", words::span(from), words::span(to))
                } else {
                    format!("{}, sanded first", words::span(from))
                },
            ]
        });
        (title, rows.collect())
    })
    .collect()
}

fn edges(plan: &Plan) -> Vec<String> {
    let each = plan.coats.edges.iter();
    each.map(|edge| {
        format!(
            "{}: an edge {} mm high takes {} of {} mm.",
            plan.piece.zones[edge.zone].name,
            fixed(edge.step_mm, 2),
            work::words::count(edge.burial.coats as usize, "clear coat"),
            fixed(edge.film_mm, 2)
        )
    })
    .collect()
}

fn fits(piece: &Piece, coats: &Coats) -> Vec<[String; 4]> {
    let checks = coats.fits.checks.iter();
    checks
        .map(|check| {
            [
                format!("{}, {}", piece.parts[check.part].name, check.kind.name()),
                format!("{} mm", fixed(check.coated_mm, 2)),
                check
                    .room_mm
                    .map_or("not told".to_owned(), |mm| format!("{} mm", fixed(mm.max(0.0), 2))),
                check.verdict().to_owned(),
            ]
        })
        .collect()
}

fn air(plan: &Plan) -> Vec<String> {
    let air = &plan.coats.air;
    let room = &plan.settings.room;
    if air.days.is_empty() && air.dust.is_none() {
        return Vec::new();
    }
    let stated = if room.air_stated { "" } else { " (taken as usual)" };
    let mut lines = vec![format!(
        "In a room of {} m³ with {} air changes an hour{stated}; limits are those of eight hours (29 CFR 1910.1000), no permission.",
        fixed(room.volume_m3, 0),
        fixed(room.air_changes_per_h, 1)
    )];
    lines.extend(air.days.iter().flat_map(day));
    if let Some(dust) = &air.dust {
        lines.push(format!(
            "Sanding dry raises about {} mg/m³ of dust where you breathe, {} of it fine (limits 15 and 5): sand wet, with a close-fitting particle mask.",
            fixed(dust.near_mg_m3.0, 0),
            fixed(dust.near_mg_m3.1, 0)
        ));
    }
    lines
}

fn day(day: &AirDay) -> Vec<String> {
    let report = &day.report;
    let mut lines: Vec<String> = report
        .solvents
        .iter()
        .map(|one| {
            format!(
                "On a day of {} {} reaches {} mg/m³, {} at the work, {} over eight hours; limit {}.",
                day.work,
                one.solvent.name(),
                fixed(one.peak_mg_m3, 0),
                fixed(one.near_mg_m3, 0),
                fixed(one.shift_mg_m3, 0),
                fixed(one.limit_mg_m3, 0)
            )
        })
        .collect();
    if report.unlisted_mg_m3 > 0.0 {
        lines.push(format!(
            "On a day of {} up to {} mg/m³ of vapour of the resin, which no limit is known for; resin and hardener make allergic by skin and breath.",
            day.work,
            fixed(report.unlisted_mg_m3, 0)
        ));
    }
    lines
}
