//! The coats of a piece in words and as data.

mod data;
mod stack;

pub use data::json;

use coats::cure::choices::CUP_MM;
use coats::cure::{Duration, Way};
use coats::pot::MOST_MASS_G;
use coats::pours::{OnTurner, Pour};
use coats::{Coats, Matter, Pours};
use piece::lengths::fine;
use piece::{Piece, Settings};
use stack::{air, buried, edges, fits, stack};
use std::fmt::Write;
use work::Steps;
use work::words::{percent, span};

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
    edges(&mut text, coated);
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
            span(pour.plan.working.least_min.floor()),
            stays_on(pour)
        );
    }
    // The thickest creeps farthest and bears the shortest stop.
    let film_mm = |pour: &Pour| coated.coats.coats[pour.coat].film_mm;
    let turning = pours.pours.iter().filter(|pour| pour.on_turner.is_some());
    if let Some(pour) = turning.max_by(|a, b| film_mm(a).total_cmp(&film_mm(b))) {
        turned(text, coated, pour);
    }
}

fn stays_on(pour: &Pour) -> String {
    match &pour.on_turner {
        Some(OnTurner { allowed, .. }) => {
            format!("{}, {}", percent(allowed.share), allowed.fate.name())
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
        format!("level the axis to {:.2} deg to keep it under {}", level.to_degrees(), length(5.0))
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
    let wanted = span(coated.settings.times.pour_min);
    let thin = match pours.greatest_mix_g {
        Some(g) if g >= MOST_MASS_G => format!("any amount stays thin for {wanted}"),
        Some(g) => format!("at most {:.0} g so that it stays thin for {wanted}", g.floor()),
        None => format!("not even 1 g stays thin for {wanted}"),
    };
    let heat = match pours.runaway_g {
        Some(g) if g >= MOST_MASS_G => "no amount heats itself up".to_owned(),
        Some(g) => format!(
            "from {:.0} g on, left in the cup, it heats itself up: pour it out at once",
            g.floor()
        ),
        None => "even 1 g heats itself up".to_owned(),
    };
    let _ = writeln!(text, "\nAt once, in a cup {} wide", fine(CUP_MM, coated.settings.lengths));
    let _ = writeln!(text, "  {thin}; {heat}");
    let _ = writeln!(
        text,
        "  at least {:.0} g, or a scale of {} g throws the ratio off by more than 5 %",
        pours.least_mix_g.ceil(),
        coated.settings.scale.readability_g
    );
}

/// `22 °C (72 °F)`.
fn warmth(celsius: f64) -> String {
    format!("{celsius:.0} °C ({:.0} °F)", celsius * 1.8 + 32.0)
}
