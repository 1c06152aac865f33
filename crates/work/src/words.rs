//! Figures as words: lengths, spans of time, amounts.

use piece::Settings;

/// A length as the studio reads it: `13 mm`, `2.5 mm`, `1/2 in (12.7 mm)`.
pub fn length(settings: &Settings, mm: f64) -> String {
    piece::lengths::show(mm, settings.lengths)
}

/// A length that is thought of in mm: `0.1 mm`, `0.4 mm (1/64 in)`.
pub fn fine(settings: &Settings, mm: f64) -> String {
    piece::lengths::fine(mm, settings.lengths)
}

/// A small thickness, always in mm with two digits after the point.
pub fn film(mm: f64) -> String {
    format!("{mm:.2} mm")
}

/// A span of time: `45 min`, `6 h`, `1 h 30 min`, `3 days`.
pub fn span(min: f64) -> String {
    let whole = min.round().max(0.0) as u64;
    let (hours, rest) = (whole / 60, whole % 60);
    match (hours, rest) {
        (0, rest) => format!("{rest} min"),
        (hours, 0) if hours >= 48 && hours % 24 == 0 => format!("{} days", hours / 24),
        (hours, 0) => format!("{hours} h"),
        (hours, rest) => format!("{hours} h {rest} min"),
    }
}

/// An amount with at most one digit after the point: `12`, `4.5`.
pub fn tenths(amount: f64) -> String {
    let text = format!("{amount:.1}");
    text.strip_suffix(".0").map_or(text.clone(), str::to_owned)
}

/// A share in whole per cent: `62 %`.
pub fn percent(share: f64) -> String {
    format!("{:.0} %", 100.0 * share)
}

/// An area as the studio reads it: `292 cm²`, `45 in²`.
pub fn area(settings: &Settings, mm2: f64) -> String {
    piece::lengths::area(mm2, settings.lengths)
}

/// `1 stone`, `2 stones`.
pub fn count(number: usize, one: &str) -> String {
    if number == 1 { format!("1 {one}") } else { format!("{number} {one}s") }
}

/// `a`, `a and b`, `a, b and c`.
pub fn list(items: &[String]) -> String {
    match items {
        [] => String::new(),
        [one] => one.clone(),
        [head @ .., last] => format!("{} and {last}", head.join(", ")),
    }
}
