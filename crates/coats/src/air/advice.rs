//! What the air of a day asks for, in words. It defers to the safety data sheet every time.

use super::limits::TEXT;
use super::{AirReport, Release, RoomAir, report};
use piece::settings::{OwnLimit, Solvent};
use piece::{Diagnostic, FieldPath};

/// Share of the lower explosive limit that is never reached (common practice with flammable vapour).
const MOST_EXPLOSIVE: f64 = 0.1;
/// More air changes than these no window gives, in an hour (from memory).
const MOST_CHANGES: f64 = 12.0;

fn caution(message: String) -> Diagnostic {
    Diagnostic::caution(FieldPath::root().key("room"), message)
}

fn ventilation(room: RoomAir, releases: &[Release], own: &[OwnLimit]) -> String {
    let holds = |changes_per_h: f64| {
        let now = report(RoomAir { changes_per_h, ..room }, releases, own);
        now.peak.0 <= 1.0 && now.explosive <= MOST_EXPLOSIVE && now.ceiling <= 1.0
    };
    if holds(room.changes_per_h) {
        return "The room as a whole holds it down, the air at the work does not: let an extractor or a draught carry it away from your face".to_owned();
    }
    if !holds(MOST_CHANGES) {
        return format!(
            "Even {MOST_CHANGES:.0} air changes an hour do not hold it down: work outdoors or in a booth with an extractor, or use less at a time"
        );
    }
    let (mut low, mut high) = (room.changes_per_h, MOST_CHANGES);
    for _ in 0..30 {
        let middle = f64::midpoint(low, high);
        if holds(middle) { high = middle } else { low = middle }
    }
    format!(
        "Open windows on two sides or run an extractor before you begin and until the air is clear: about {:.1} air changes an hour hold it down in this room",
        (high * 10.0).ceil() / 10.0
    )
}

/// What to do about the air of `room` while `releases` go on; nothing where nothing gets into it.
pub fn advice(room: RoomAir, releases: &[Release], own: &[OwnLimit]) -> Vec<Diagnostic> {
    let air: AirReport = report(room, releases, own);
    let sheet = "These limits are no permission and cover no allergy: follow the safety data sheets and local rules";
    let mut told = Vec::new();
    if air.explosive > MOST_EXPLOSIVE {
        told.push(
            caution(format!(
                "vapour reaches {:.0} % of what can explode in this room: keep below 10 %",
                100.0 * air.explosive
            ))
            .hint(
                "No flame, torch, heat gun, switch that sparks or smoking until the room is aired",
            )
            .hint(ventilation(room, releases, own)),
        );
    }
    let worst = air.peak.0.max(air.near).max(air.ceiling);
    if worst > 1.0 || air.shift > 1.0 {
        let when = if air.shift > 1.0 {
            format!("the mean of eight hours is {:.1} times", air.shift)
        } else {
            format!(
                "in short peaks it is {worst:.1} times, though the mean of eight hours is only {:.2} times",
                air.shift
            )
        };
        told.push(
            caution(format!("solvent in the air: {when} what the limits together allow ({TEXT})"))
                .hint(ventilation(room, releases, own))
                .hint("Wear a half mask with fresh filters for organic vapour that fits your face; a dust mask holds back no vapour")
                .hint(sheet),
        );
    }
    if let Some(min) = air.clear_after_min.filter(|_| !air.solvents.is_empty()) {
        told.push(
            caution(format!(
                "the air holds solvent for {:.1} h after the last use, until a hundredth is left",
                min / 60.0
            ))
            .hint("Keep flame, torch and other people out of the room until then")
            .hint(gloves(&air)),
        );
    } else if !air.solvents.is_empty() {
        told.push(
            caution("without fresh air solvent stays in the room for good".to_owned())
                .hint("Open a window, and set `air_changes_per_h` in `[room]` to what it gives")
                .hint(gloves(&air)),
        );
    }
    if air.unlisted_mg_m3 > 0.0 {
        told.push(
            caution(format!(
                "up to {:.0} mg/m³ of vapour of the resin, which no limit is known for here",
                air.unlisted_mg_m3
            ))
            .hint("Resin and hardener make allergic by skin and breath, which no limit in air covers: gloves, a vapour mask and fresh air, as their safety data sheets say"),
        );
    }
    told
}

/// Gloves for what is used (from memory of makers' tables of resistance).
fn gloves(air: &AirReport) -> String {
    let through_nitrile =
        [Solvent::Acetone, Solvent::Toluene, Solvent::Xylenes, Solvent::ButylAcetate];
    let found = air.solvents.iter().find(|one| through_nitrile.contains(&one.solvent));
    match found {
        Some(one) => format!(
            "Thin nitrile gloves hold back {} for minutes only: change them when wetted, or wear those that its safety data sheet names",
            one.solvent.name()
        ),
        None => "Wear nitrile gloves, and change them when wetted; the safety data sheet names the right ones".to_owned(),
    }
}
