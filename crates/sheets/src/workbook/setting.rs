//! The setting order: for each part, patch by patch, which side is up, what is set, how long to wait
//! and from when the piece may be turned.

use crate::Plan;
use crate::words;
use piece::settings::LengthUnit;
use piece::{Finish, Form, lengths};
use serde_json::{Value, json};
use std::collections::{BTreeMap, BTreeSet};
use stones::{Patch, SettingPlan};

/// A wait shorter than this is not worth telling of, min.
const WORTH_MIN: f64 = 0.5;

/// A turn smaller than this is not worth telling of: 5°, rad.
const WORTH_RAD: f64 = std::f64::consts::PI / 36.0;

/// Data of the pages: one entry for each part, and each time that stones are set on it.
pub(super) fn settings_of(plan: &Plan) -> Vec<Value> {
    let setting = stones::plan_setting(&plan.piece, &plan.settings, &plan.stones);
    let of_run = |patch: &Patch| (patch.part, patch.run);
    let runs: Vec<&[Patch]> = setting.patches.chunk_by(|a, b| of_run(a) == of_run(b)).collect();
    let mut first = 0;
    let mut pages = Vec::new();
    for run in runs {
        pages.push(page(plan, &setting, first, run));
        first += run.len();
    }
    pages
}

fn page(plan: &Plan, setting: &SettingPlan, first: usize, run: &[Patch]) -> Value {
    let glue = &plan.settings.glue;
    let part = &plan.piece.parts[run[0].part];
    let meanwhile = meanwhile(plan, setting);
    let flat = matches!(part.form, Form::Flat(_));
    let patches: Vec<Value> = run
        .iter()
        .enumerate()
        .map(|(place, patch)| {
            let done_min = patch.begins_min + patch.hands_on_min + patch.may_turn_after_min;
            let waits = patch.wait_before_min >= WORTH_MIN;
            json!({
                "number": patch.number,
                "zone": plan.piece.zones[patch.zone].name,
                "up": side(plan, patch),
                "turned": place == 0 || is_turned(&run[place - 1], patch),
                "along": if flat {
                    stretch_of_plate(patch.band_mm, plan.settings.lengths)
                } else {
                    stretch(patch.band_mm, plan.settings.lengths)
                },
                "stones": stones(plan, patch),
                "wait": waits.then(|| words::span(patch.wait_before_min.round())),
                "meanwhile": meanwhile.get(&(first + place)).filter(|_| waits),
                "begin": clock(patch.begins_min),
                "turn": clock(done_min),
            })
        })
        .collect();
    let sum = |of: fn(&Patch) -> f64| run.iter().map(of).sum::<f64>();
    let runs = plan_runs(setting, run[0].part);
    json!({
        "part": part.name,
        "flat": flat,
        "run": (runs > 1).then(|| format!("{} of {runs}", run[0].run)),
        "round": run.iter().any(|patch| patch.up_rad.is_some()),
        "zones": run.iter().any(|patch| patch.zone != run[0].zone),
        "tilt": format!("{:.0}°", glue.tilt_rad.to_degrees()),
        "set": words::span(glue.set_min),
        "open": words::span(glue.open_min),
        "work": words::span(sum(|patch| patch.hands_on_min).round()),
        "idle": words::span(sum(|patch| patch.wait_before_min).round()),
        "waits": sum(|patch| patch.wait_before_min) >= WORTH_MIN,
        "letters": letters(plan, run),
        "patches": patches,
    })
}

fn plan_runs(setting: &SettingPlan, part: usize) -> u32 {
    let of_part = setting.patches.iter().filter(|patch| patch.part == part);
    of_part.map(|patch| patch.run).max().unwrap_or(1)
}

/// Whether the part is turned for a patch; less than this a hand does without noticing.
fn is_turned(before: &Patch, patch: &Patch) -> bool {
    before.up.dot(patch.up) < libm::cos(WORTH_RAD)
}

/// What the letters of the stones stand for: `C marsh night, D ebb`.
fn letters(plan: &Plan, run: &[Patch]) -> String {
    let counts = run.iter().flat_map(|patch| &patch.counts);
    let colours: BTreeSet<usize> = counts.map(|(_, colour, _)| *colour).collect();
    let named = |colour: usize| {
        let colour = &plan.piece.colours[colour];
        format!("{}\u{a0}{}", colour.letter, colour.name.replace(' ', "\u{a0}"))
    };
    colours.into_iter().map(named).collect::<Vec<_>>().join(", ")
}

/// What faces up.
fn side(plan: &Plan, patch: &Patch) -> String {
    let Some(up_rad) = patch.up_rad else {
        let flat = matches!(plan.piece.parts[patch.part].form, Form::Flat(_));
        return if flat { "the face" } else { "the top" }.to_owned();
    };
    match up_rad.to_degrees().round() as i64 {
        0 => "front".to_owned(),
        -180 | 180 => "back".to_owned(),
        right if right > 0 => format!("{right}° right"),
        left => format!("{}° left", -left),
    }
}

/// From and to along the wall as the tape shows it: `6 7/16–7 5/16 in (163–186 mm)` or `163–186 mm`.
fn stretch((from_mm, to_mm): (f64, f64), unit: LengthUnit) -> String {
    let whole = |mm: f64| words::trimmed(mm, 0);
    let metric = format!("{}–{}\u{a0}mm", whole(from_mm), whole(to_mm));
    match unit {
        LengthUnit::Millimetres => metric,
        LengthUnit::Inches => {
            let (from, to) = (lengths::inches(from_mm), lengths::inches(to_mm));
            let inches = format!("{}–{to}", from.trim_end_matches(" in"));
            format!("{} ({metric})", inches.replace(' ', "\u{a0}"))
        }
    }
}

/// The same of a flat part, from its middle: `20 mm above to 5 mm below`.
fn stretch_of_plate((from_mm, to_mm): (f64, f64), unit: LengthUnit) -> String {
    let side = |(low_mm, high_mm): (f64, f64), side: &str| {
        format!("{} {side}", stretch((low_mm, high_mm), unit))
    };
    // What rounds to nothing is no side.
    match (from_mm < -0.5, to_mm > 0.5) {
        (true, true) => {
            let end = |mm: f64, side: &str| format!("{}\u{a0}{side}", place(mm.abs(), unit));
            format!("{} to {}", end(from_mm, "above"), end(to_mm, "below"))
        }
        (true, false) => side((to_mm.min(0.0).abs(), from_mm.abs()), "above"),
        (false, _) => side((from_mm.max(0.0), to_mm.max(0.0)), "below"),
    }
}

/// A distance as the tape shows it.
fn place(mm: f64, unit: LengthUnit) -> String {
    let metric = format!("{}\u{a0}mm", words::trimmed(mm, 0));
    match unit {
        LengthUnit::Millimetres => metric,
        LengthUnit::Inches => {
            format!("{} ({metric})", lengths::inches(mm).replace(' ', "\u{a0}"))
        }
    }
}

/// Counts by size and colour letter.
fn stones(plan: &Plan, patch: &Patch) -> String {
    let Finish::Stones(finish) = &plan.piece.zones[patch.zone].finish else { return String::new() };
    let mut by_size: BTreeMap<usize, Vec<String>> = BTreeMap::new();
    for &(size, colour, count) in &patch.counts {
        let letter = &plan.piece.colours[colour].letter;
        by_size.entry(size).or_default().push(format!("{count}\u{a0}{letter}"));
    }
    let line = |(size, counts): (&usize, &Vec<String>)| {
        format!("{}: {}", finish.sizes[*size].name, counts.join(" "))
    };
    by_size.iter().map(line).collect::<Vec<_>>().join("; ")
}

/// For patches by index, what one pair of hands sets on other parts in the wait before them.
fn meanwhile(plan: &Plan, setting: &SettingPlan) -> BTreeMap<usize, String> {
    let mut last: BTreeMap<usize, usize> = BTreeMap::new();
    let mut found = BTreeMap::new();
    for (place, &index) in setting.hand.iter().enumerate() {
        let part = setting.patches[index].part;
        if let Some(before) = last.insert(part, place).filter(|before| before + 1 < place) {
            let mut numbers: BTreeMap<usize, (u32, u32)> = BTreeMap::new();
            for &between in &setting.hand[before + 1..place] {
                let other = &setting.patches[between];
                let range = numbers.entry(other.part).or_insert((other.number, other.number));
                range.1 = other.number;
            }
            let line = |(part, (from, to)): (&usize, &(u32, u32))| {
                let name = &plan.piece.parts[*part].name;
                if from == to { format!("{name} {from}") } else { format!("{name} {from}–{to}") }
            };
            found.insert(index, numbers.iter().map(line).collect::<Vec<_>>().join(", "));
        }
    }
    found
}

/// Hours and minutes of setting.
fn clock(minutes: f64) -> String {
    let whole = minutes.round() as i64;
    format!("{}:{:02}", whole / 60, whole % 60)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_stretch_of_the_wall_reads_as_on_the_tape() {
        // 163.5 / 25.4 = 6.437 = 6 14/32, 185.7 / 25.4 = 7.311 = 7 10/32 (NIST SP 811: 1 in = 25.4 mm).
        let band_mm = (163.5, 185.7);
        assert_eq!(
            stretch(band_mm, LengthUnit::Inches),
            "6\u{a0}7/16–7\u{a0}5/16\u{a0}in (164–186\u{a0}mm)"
        );
        assert_eq!(stretch(band_mm, LengthUnit::Millimetres), "164–186\u{a0}mm");
        assert_eq!(stretch((0.0, 25.4), LengthUnit::Inches), "0–1\u{a0}in (0–25\u{a0}mm)");
    }

    #[test]
    fn a_stretch_of_a_plate_counts_up_and_down_from_its_middle() {
        let said = |band_mm, unit| stretch_of_plate(band_mm, unit).replace('\u{a0}', " ");
        let metric = LengthUnit::Millimetres;
        assert_eq!(said((-20.2, 5.0), metric), "20 mm above to 5 mm below");
        assert_eq!(said((-20.0, -5.0), metric), "5–20 mm above");
        assert_eq!(said((-0.2, 5.0), metric), "0–5 mm below");
        assert_eq!(said((-20.0, 0.3), metric), "0–20 mm above");
        // 12.7 mm is half an inch (NIST SP 811).
        let inches = said((-25.4, 12.7), LengthUnit::Inches);
        assert_eq!(inches, "1 in (25 mm) above to 1/2 in (13 mm) below");
    }
}
