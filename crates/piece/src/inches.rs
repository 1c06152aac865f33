//! Lengths of messages in inches for a maker who types inches, as [`lengths`] tells them anywhere.

use crate::settings::LengthUnit;
use crate::{Diagnostic, lengths};
use std::collections::BTreeSet;

/// What a file says of the unit its maker thinks in.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(crate) struct Inches {
    /// Most of its lengths are in inches.
    typed: bool,
    /// The lengths typed in mm all the same: they are told as typed.
    in_mm: BTreeSet<String>,
}

impl Inches {
    /// The unit that most of the lengths are in.
    pub fn unit(&self) -> LengthUnit {
        if self.typed { LengthUnit::Inches } else { LengthUnit::Millimetres }
    }

    /// Of the text of a file.
    pub fn of(text: &str) -> Self {
        // A place may say from which end it counts.
        let amounts = text.split('"').filter_map(|value| value.split(" from ").next());
        let values = || amounts.clone().map(str::trim).filter(|value| number_of(value).is_some());
        let n_inches = values().filter(|value| value.ends_with("in")).count();
        let in_mm: BTreeSet<String> = values()
            .filter_map(|value| value.strip_suffix("mm"))
            .map(|number| number.trim().to_owned())
            .collect();
        Self { typed: 2 * n_inches > values().count(), in_mm }
    }

    /// `158.8 mm` becomes `6 1/4 in (158.8 mm)`, unless it stands in brackets or quotes already.
    pub fn tell(&self, diagnostic: &mut Diagnostic) {
        if self.typed {
            diagnostic.message = self.told(&diagnostic.message);
            for hint in &mut diagnostic.hints {
                *hint = self.told(hint);
            }
        }
    }

    fn told(&self, text: &str) -> String {
        let mut told = String::new();
        let mut rest = text;
        while let Some(unit) = rest.find(" mm") {
            let after = &rest[unit + 3..];
            let digits = |c: char| c.is_ascii_digit() || c == '.' || c == '-';
            let start = rest[..unit].len() - {
                let tail = rest[..unit].trim_end_matches(digits);
                unit - tail.len()
            };
            let number = &rest[start..unit];
            told.push_str(&rest[..start]);
            let open = |mark: char| told.matches(mark).count() % 2 == 1;
            let quoted = told.ends_with('(') || open('"') || open('`');
            let whole =
                after.chars().next().is_none_or(|c| !c.is_alphanumeric() && c != '²' && c != '³');
            // What is finer than the tape has its inches behind it.
            let behind = after.strip_prefix(" (").and_then(|rest| rest.split_once(')'));
            let told_already = behind.is_some_and(|(beside, _)| beside.ends_with(" in"));
            match number.parse::<f64>() {
                Ok(length_mm)
                    if whole && !quoted && !told_already && !self.in_mm.contains(number) =>
                {
                    told.push_str(&lengths::show(length_mm, LengthUnit::Inches));
                }
                _ => told.push_str(&rest[start..unit + 3]),
            }
            rest = after;
        }
        told + rest
    }
}

/// The number of a text that starts as a length does.
fn number_of(value: &str) -> Option<&str> {
    let units = ["mm", "cm", "in"];
    let number = units.iter().find_map(|unit| value.strip_suffix(unit))?.trim_end();
    (number.ends_with(|c: char| c.is_ascii_digit() || c == '.') && number.len() < 20)
        .then_some(number)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::FieldPath;

    fn told(file: &str, message: &str) -> String {
        let mut diagnostic = Diagnostic::error(FieldPath::root(), message);
        let inches = Inches::of(file);
        inches.tell(&mut diagnostic);
        let once = diagnostic.message.clone();
        inches.tell(&mut diagnostic);
        assert_eq!(diagnostic.message, once, "told twice");
        once
    }

    #[test]
    fn a_file_in_inches_is_told_in_inches() {
        // 1 in = 25.4 mm (NIST SP 811, appendix B.8).
        let file = "a = \"4 1/16 in\"\nb = \"2in\"\nc = \"2.2 mm\"\nd = \"SS10\"";
        assert_eq!(
            told(file, "this edge reaches 158.75 mm past the end"),
            "this edge reaches 6 1/4 in (158.8 mm) past the end"
        );
        assert_eq!(told(file, "from 0 mm to 12.7 mm"), "from 0 in (0 mm) to 1/2 in (12.7 mm)");
        assert_eq!(told(file, "a stone of 2.2 mm"), "a stone of 2.2 mm");
        assert_eq!(told(file, "flakes of 0.4 mm lie"), "flakes of 0.4 mm (1/64 in) lie");
        assert_eq!(told(file, "a gap of 0.1 mm"), "a gap of 0.1 mm");
        assert_eq!(told(file, "SS16 (3.9 mm) on 20 mm²"), "SS16 (3.9 mm) on 20 mm²");
        assert_eq!(told(file, "`7,5 mm` and -25.4 mm"), "`7,5 mm` and -1 in (-25.4 mm)");
    }

    #[test]
    fn a_file_in_mm_is_told_in_mm() {
        let file = "a = \"276 mm\"\nb = \"6.9 in\"";
        assert_eq!(told(file, "reaches 158.75 mm past"), "reaches 158.75 mm past");
    }
}
