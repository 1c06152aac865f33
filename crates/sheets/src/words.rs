//! The words that stand for the road's enumerations in tables and on pages, and how dates
//! and spans of time are shown to people.

use crate::numbers::fixed;
use crate::{Plan, stone_words};
use jiff::civil::{Date, DateTime};
use money::Goods;
use piece::settings::LengthUnit;
use piece::{Finish, Severity};
use work::StepKind;

/// Kind of a step, as in `steps.csv`.
pub(crate) fn step_kind(kind: StepKind) -> &'static str {
    match kind {
        StepKind::Order => "order",
        StepKind::Prepare => "prepare",
        StepKind::Mask => "mask",
        StepKind::Paint => "paint",
        StepKind::Glitter => "glitter",
        StepKind::Pour => "pour",
        StepKind::Sand => "sand",
        StepKind::Film => "vinyl",
        StepKind::Approve => "approve",
        StepKind::Set => "set",
        StepKind::Finish => "finish",
        StepKind::Pack => "pack",
    }
}

/// Kind of goods, as in `bill.csv`.
pub(crate) fn goods(goods: Goods) -> &'static str {
    match goods {
        Goods::Stones => "stones",
        Goods::Glue => "glue",
        Goods::Resin => "resin",
        Goods::Paint => "paint",
        Goods::Glitter => "glitter",
        Goods::Film => "film",
        Goods::Supplies => "supplies",
    }
}

/// Kind of finish.
pub(crate) fn finish(finish: &Finish) -> &'static str {
    match finish {
        Finish::Paint { .. } => "paint",
        Finish::Glitter { .. } => "glitter",
        Finish::Resin { .. } => "resin",
        Finish::Vinyl { .. } => "film",
        Finish::Stones(_) => "stones",
    }
}

/// How bad a note is, as in `summary.json`.
pub(crate) fn severity(severity: Severity) -> &'static str {
    match severity {
        Severity::Error => "error",
        Severity::Warning => "warning",
        Severity::Caution => "caution",
    }
}

/// `Sat 18 Jul 2026`.
pub(crate) fn day(date: Date) -> String {
    date.strftime("%a %-d %b %Y").to_string()
}

/// `Sat 18 Jul`.
pub(crate) fn short_day(date: Date) -> String {
    date.strftime("%a %-d %b").to_string()
}

/// `09:30`.
pub(crate) fn clock(time: DateTime) -> String {
    time.strftime("%H:%M").to_string()
}

/// `45 min`, `2 h`, `1 h 30 min`, `3 days`, `1 day 12 h`, to the nearest minute below two days and
/// the nearest hour above.
pub(crate) fn span(minutes: f64) -> String {
    let minutes = minutes.max(0.0).round() as u64;
    let join = |big: u64, word: &str, small: u64, unit: &str| {
        if small == 0 {
            format!("{big}\u{a0}{word}")
        } else {
            format!("{big}\u{a0}{word} {small}\u{a0}{unit}")
        }
    };
    if minutes < 60 {
        format!("{minutes}\u{a0}min")
    } else if minutes < 48 * 60 {
        join(minutes / 60, "h", minutes % 60, "min")
    } else {
        let hours = (minutes + 30) / 60;
        join(hours / 24, "days", hours % 24, "h")
    }
}

/// `12 h 30 min` for a total, to five minutes above ten hours.
pub(crate) fn hours(minutes: f64) -> String {
    let step = if minutes > 600.0 { 5.0 } else { 1.0 };
    let minutes = ((minutes.max(0.0) / step).round() * step) as u64;
    match (minutes / 60, minutes % 60) {
        (0, left) => format!("{left}\u{a0}min"),
        (hours, 0) => format!("{hours}\u{a0}h"),
        (hours, left) => format!("{hours}\u{a0}h {left}\u{a0}min"),
    }
}

/// A share as `12 %`.
pub(crate) fn percent(share: f64) -> String {
    format!("{}\u{a0}%", trimmed(share * 100.0, 1))
}

/// A finish with its colours and amounts.
pub(crate) fn finish_in_full(plan: &Plan, finish: &Finish) -> String {
    let name = |colour: usize| plan.piece.colours[colour].name.as_str();
    let coats =
        |count: u32| if count == 1 { "1 coat".to_owned() } else { format!("{count} coats") };
    match finish {
        Finish::Paint { colour, coats: count } => {
            format!("paint, {}, {}", name(*colour), coats(*count))
        }
        Finish::Glitter { colour, flake_mm, .. } => {
            format!("glitter, {}, flakes of {}\u{a0}mm", name(*colour), trimmed(*flake_mm, 2))
        }
        Finish::Resin { coats: count, film_mm } => {
            format!("resin, {} of {}\u{a0}mm", coats(*count), trimmed(*film_mm, 2))
        }
        Finish::Vinyl { colour, .. } => format!("film, {}", name(*colour)),
        Finish::Stones(stones) => stone_words::in_full(&plan.piece, stones),
    }
}

/// A length for people as the tape shows it, kept on one line: `6 11/32 in (161 mm)` or `161 mm`.
pub(crate) fn length(mm: f64, unit: LengthUnit) -> String {
    piece::lengths::show(mm, unit).replace(' ', "\u{a0}")
}

/// `22 °C (72 °F)`.
pub(crate) fn warmth(celsius: f64) -> String {
    format!("{} °C ({} °F)", fixed(celsius, 0), fixed(celsius * 1.8 + 32.0, 0))
}

/// A number with at most `digits` decimals and no zeros at the end.
pub(crate) fn trimmed(value: f64, digits: usize) -> String {
    let text = fixed(value, digits);
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}

/// The unit of an amount as it is said behind its number: `pairs` for 4, `sheet` for 1, nothing for
/// what is counted singly. Signs of measures stay as they are.
pub(crate) fn unit(amount: f64, unit: &str) -> String {
    let one = match unit {
        "each" => return String::new(),
        "mm" | "cm" | "m" | "in" | "ft" | "ml" | "l" | "fl oz" | "oz" | "g" | "kg" | "m²"
        | "cm²" => {
            return unit.to_owned();
        }
        "stones" | "sheets" | "pairs" => unit.trim_end_matches('s'),
        other => other,
    };
    let ending = if (amount - 1.0).abs() < 1e-9 {
        ""
    } else if one.ends_with(['s', 'x']) || one.ends_with("ch") || one.ends_with("sh") {
        "es"
    } else {
        "s"
    };
    format!("{one}{ending}")
}

/// A name with a capital letter in front.
pub(crate) fn capital(name: &str) -> String {
    let mut letters = name.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// A whole number, from 10,000 up with thin spaces between thousands: `4128`, `12 400`.
pub(crate) fn grouped(count: usize) -> String {
    let digits = count.to_string();
    if digits.len() < 5 {
        return digits;
    }
    let mut text = String::new();
    for (place, digit) in digits.chars().enumerate() {
        if place > 0 && (digits.len() - place).is_multiple_of(3) {
            text.push('\u{2009}');
        }
        text.push(digit);
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn spans_read_as_people_say_them() {
        assert_eq!(span(45.0), "45\u{a0}min");
        assert_eq!(span(120.0), "2\u{a0}h");
        assert_eq!(span(90.4), "1\u{a0}h 30\u{a0}min");
        assert_eq!(span(4320.0), "3\u{a0}days");
        assert_eq!(span(3600.0), "2\u{a0}days 12\u{a0}h");
    }

    #[test]
    fn counts_read_as_people_say_them() {
        assert_eq!(grouped(4128), "4128");
        assert_eq!(grouped(12_400), "12\u{2009}400");
        assert_eq!(grouped(1_012_400), "1\u{2009}012\u{2009}400");
        assert_eq!(grouped(312), "312");
    }

    #[test]
    fn units_follow_their_number() {
        assert_eq!(unit(1.0, "pair"), "pair");
        assert_eq!(unit(4.0, "pair"), "pairs");
        assert_eq!(unit(1.0, "sheets"), "sheet");
        assert_eq!(unit(0.2, "sheets"), "sheets");
        assert_eq!(unit(2.0, "box"), "boxes");
        assert_eq!(unit(29.6, "ml"), "ml");
        assert_eq!(unit(3.0, "each"), "");
    }
}
