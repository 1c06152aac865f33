//! Quantities as people type them: a number and a unit in one string, such as `"2.75 in"`.
//!
//! Factors: NIST SP 811 (2008), appendix B.8: 1 in = 25.4 mm exactly, 1 fl oz (US) =
//! 29.573 529 562 5 ml exactly (231 in³ / 128), 1 oz (avoirdupois) = 28.349 523 125 g exactly,
//! t/°C = (t/°F − 32) / 1.8.

mod complaint;
mod known;
mod number;

pub use complaint::{Complaint, or_list, shorten};
pub use known::*;

use crate::nearest::nearest;
use number::{split, value_of};

/// A unit people may type: value in our unit = (number − `zero`) × `times` / `over`.
#[derive(Debug)]
pub struct Unit {
    /// As typed.
    pub name: &'static str,
    /// Multiplier.
    pub times: f64,
    /// Divisor, kept apart so that 7 % is 0.07 to the last bit.
    pub over: f64,
    /// Where the zero of our unit stands on its scale; other than 0 only for temperatures.
    pub zero: f64,
}

const fn unit(name: &'static str, times: f64, over: f64) -> Unit {
    Unit { name, times, over, zero: 0.0 }
}

/// A kind of quantity.
#[derive(Debug)]
pub struct Quantity {
    /// With its article, for messages.
    pub noun: &'static str,
    /// Units that may follow the number; the first is named in hints.
    pub units: &'static [Unit],
    /// Good examples, for messages and the schema.
    pub examples: &'static [&'static str],
    /// A minus sign makes sense.
    pub signed: bool,
    /// `2 3/4` makes sense, as on a tape in inches.
    pub fractions: bool,
}

impl Quantity {
    /// The value in our unit, or what is wrong with the text.
    pub fn parse(&self, text: &str) -> Result<f64, Complaint> {
        let trimmed = text.trim_matches(' ');
        if trimmed.is_empty() {
            return Err(Complaint::new(format!("expected {}, found empty text", self.noun))
                .hint(self.such_as()));
        }
        let shown = shorten(text);
        let (number, rest) = split(trimmed, self.fractions);
        if number.is_empty() {
            return Err(self.no_number(trimmed, &shown));
        }
        let name = rest.trim_matches(' ');
        if let Some(complaint) = self.broken_number(number, name, &shown) {
            return Err(complaint);
        }
        let Some(unit) = self.units.iter().find(|unit| unit.name == name) else {
            return Err(self.bad_unit(number, name, &shown));
        };
        if number.starts_with('-') && !self.signed {
            return Err(Complaint::new(format!("`{shown}` is negative; {} cannot be", self.noun)));
        }
        match value_of(number) {
            Some(value) if (value * unit.times).is_finite() => {
                Ok((value - unit.zero) * unit.times / unit.over)
            }
            _ => Err(Complaint::new(format!(
                "`{shown}` does not start with a number that can be used"
            ))
            .hint(self.such_as())),
        }
    }

    /// Regular expression (the part of ECMA-262 that JSON Schema recommends) of what `parse` takes.
    pub fn pattern(&self) -> String {
        let sign = if self.signed { "[+-]?" } else { "[+]?" };
        let fraction = if self.fractions { "([0-9]+ +)?[0-9]+/[1-9][0-9]*|" } else { "" };
        let units: Vec<_> = self.units.iter().map(|unit| unit.name).collect();
        format!("^ *{sign}({fraction}[0-9]+(\\.[0-9]*)?|\\.[0-9]+) *({}) *$", units.join("|"))
    }

    /// What to write, by example.
    pub fn such_as(&self) -> String {
        let examples: Vec<_> =
            self.examples.iter().map(|example| format!("\"{example}\"")).collect();
        format!("write it with its unit, such as {}", examples.join(" or "))
    }

    /// What to write for a number whose unit is missing.
    pub fn with_unit(&self, number: &str) -> String {
        match self.units {
            [only]
                if only.name == "%"
                    && number.parse().is_ok_and(|share: f64| share > 0.0 && share <= 1.0) =>
            {
                format!(
                    "write \"{} %\" if {number} of the whole is meant",
                    value_of(number).unwrap_or(0.0) * 100.0
                )
            }
            [only] => format!("write \"{number} {}\"", only.name),
            // Nobody reads a fraction off a scale in mm.
            units if number.contains('/') && units.iter().any(|unit| unit.name == "in") => {
                format!("write \"{number} in\" if that is what you measured in")
            }
            [first, ..] => {
                format!("write \"{number} {}\" if that is what you measured in", first.name)
            }
            [] => self.such_as(),
        }
    }

    fn no_number(&self, trimmed: &str, shown: &str) -> Complaint {
        let lower = trimmed.to_lowercase();
        let what = if ["nan", "inf", "+inf", "-inf"].iter().any(|word| lower.starts_with(word)) {
            format!("`{shown}` is not a number that can be measured")
        } else {
            format!("`{shown}` does not start with a number; expected {}", self.noun)
        };
        Complaint::new(what).hint(self.such_as())
    }

    /// A number with something inside it that should not be there: a space, a comma, a second point.
    fn broken_number(&self, number: &str, name: &str, shown: &str) -> Option<Complaint> {
        let first = name.chars().next()?;
        let tail_from = |skip: usize| name.get(skip..).unwrap_or("");
        if first.is_ascii_digit() {
            let (more, unit) = split(name, self.fractions);
            let unit = unit.trim_matches(' ');
            let complaint = Complaint::new(format!("`{shown}` has a space inside its number"));
            return Some(
                if self.units.iter().any(|known| known.name == unit) && !number.contains('/') {
                    complaint.hint(format!("did you mean \"{number}{more} {unit}\"?"))
                } else {
                    complaint.hint(self.such_as())
                },
            );
        }
        if first == ',' {
            let (decimals, unit) = split(tail_from(1), self.fractions);
            let unit = unit.trim_matches(' ');
            let complaint = Complaint::new(format!("`{shown}` has a comma in its number"));
            return Some(if self.units.iter().any(|known| known.name == unit) {
                complaint
                    .hint(format!("write decimals with a point: \"{number}.{decimals} {unit}\""))
            } else {
                complaint.hint(self.such_as())
            });
        }
        if first == '.' {
            return Some(
                Complaint::new(format!("`{shown}` has more than one point in its number"))
                    .hint(self.such_as()),
            );
        }
        if first == '/' {
            return Some(
                Complaint::new(format!("`{shown}` has a fraction that cannot be read here"))
                    .hint(self.such_as()),
            );
        }
        None
    }

    fn bad_unit(&self, number: &str, name: &str, shown: &str) -> Complaint {
        let names: Vec<_> = self.units.iter().map(|unit| unit.name).collect();
        let list = or_list(&names);
        if name.is_empty() {
            return Complaint::new(format!("`{shown}` has no unit; expected {list}"))
                .hint(self.with_unit(number));
        }
        let complaint =
            Complaint::new(format!("`{shown}` has the unit `{}`; expected {list}", shorten(name)));
        let meant = match name.to_lowercase().as_str() {
            "oz" => nearest("fl oz", &names),
            "\"" | "inch" | "inches" | "''" | "”" => nearest("in", &names),
            "°" | "degree" | "degrees" => nearest("deg", &names),
            "hour" | "hours" | "hr" | "hrs" => nearest("h", &names),
            "minute" | "minutes" => nearest("min", &names),
            "percent" => nearest("%", &names),
            "cps" | "centipoise" => nearest("cP", &names),
            "mpa·s" | "mpa*s" | "mpas" => nearest("mPa s", &names),
            "pa·s" | "pa*s" | "pas" => nearest("Pa s", &names),
            "c" | "°c" | "celsius" | "deg c" => nearest("C", &names),
            "f" | "°f" | "fahrenheit" | "deg f" => nearest("F", &names),
            "per cm²" | "/cm2" | "/cm²" => nearest("per cm2", &names),
            "per in²" | "/in2" | "/in²" => nearest("per in2", &names),
            lower => nearest(lower, &names),
        };
        match meant {
            Some(meant) => complaint.hint(format!("did you mean \"{number} {meant}\"?")),
            None => complaint.hint(self.such_as()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn units_follow_the_factors_of_nist_sp_811() {
        assert_eq!(LENGTH.parse("1 in"), Ok(25.4));
        assert_eq!(LENGTH.parse("1cm"), Ok(10.0));
        assert_eq!(VOLUME.parse("1 fl oz"), Ok(29.573_529_562_5));
        // 231 cubic inches to the US gallon, 128 fluid ounces to the gallon.
        assert!(
            (VOLUME.parse("1 fl oz").unwrap() - 231.0 * (2.54 * 2.54 * 2.54) / 128.0).abs() < 1e-12
        );
        assert_eq!(MASS.parse("1 oz"), Ok(28.349_523_125));
        assert_eq!(TIME.parse("2 days"), Ok(2880.0));
        // 1 in² = 645.16 mm² (NIST SP 811, appendix B.8).
        assert_eq!(DENSITY.parse("645.16 per in2"), Ok(1.0));
        assert_eq!(DENSITY.parse("0.8 per cm2"), Ok(0.008));
    }

    #[test]
    fn viscosities_are_the_same_in_every_unit() {
        // NIST SP 811 (2008), appendix B.8: 1 cP = 0.001 Pa s.
        for text in ["1500 cP", "1500 mPa s", "1.5 Pa s"] {
            assert_eq!(VISCOSITY.parse(text), Ok(1.5), "{text}");
        }
        assert_eq!(VISCOSITY.parse("900 cps").unwrap_err().hints, ["did you mean \"900 cP\"?"]);
    }

    #[test]
    fn a_share_is_the_nearest_double_to_its_decimal() {
        for percent in 0..=100 {
            let typed: f64 = format!("{}.{:02}", percent / 100, percent % 100).parse().unwrap();
            assert_eq!(SHARE.parse(&format!("{percent} %")), Ok(typed));
        }
    }

    #[test]
    fn inches_may_be_typed_as_on_the_tape() {
        assert_eq!(LENGTH.parse("2 3/4 in"), Ok(2.75 * 25.4));
        assert_eq!(LENGTH.parse("-7/8 in"), Ok(-0.875 * 25.4));
        assert_eq!(LENGTH.parse(".5 in"), Ok(12.7));
        assert_eq!(LENGTH.parse("-0.5 mm"), Ok(-0.5));
        assert_eq!(LENGTH.parse("5. mm"), Ok(5.0));
    }

    #[test]
    fn a_bad_quantity_says_exactly_what_is_wrong() {
        let hint = |quantity: &Quantity, text: &str| {
            let complaint = quantity.parse(text).unwrap_err();
            (complaint.message, complaint.hints.into_iter().next().unwrap_or_default())
        };
        let (message, help) = hint(&LENGTH, "27 6mm");
        assert_eq!(message, "`27 6mm` has a space inside its number");
        assert_eq!(help, "did you mean \"276 mm\"?");
        let (message, help) = hint(&LENGTH, "7,5 mm");
        assert_eq!(message, "`7,5 mm` has a comma in its number");
        assert_eq!(help, "write decimals with a point: \"7.5 mm\"");
        let (message, help) = hint(&LENGTH, "70");
        assert_eq!(message, "`70` has no unit; expected `mm`, `cm` or `in`");
        assert_eq!(help, "write \"70 mm\" if that is what you measured in");
        assert_eq!(hint(&LENGTH, "3 inches").1, "did you mean \"3 in\"?");
        assert_eq!(hint(&VOLUME, "20 oz").1, "did you mean \"20 fl oz\"?");
        assert_eq!(hint(&LENGTH, "NaN mm").0, "`NaN mm` is not a number that can be measured");
        assert_eq!(hint(&LENGTH, "1.2.3 mm").0, "`1.2.3 mm` has more than one point in its number");
        assert_eq!(hint(&VOLUME, "-5 ml").0, "`-5 ml` is negative; a volume cannot be");
        assert_eq!(hint(&LENGTH, "").0, "expected a length, found empty text");
        assert!(LENGTH.parse("1/0 in").is_err());
        assert!(LENGTH.parse(&format!("{} mm", "9".repeat(400))).is_err());
    }
}
