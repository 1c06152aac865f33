//! Places along a wall and heights on it as they are typed: lengths, or shares of what they lie on.

use super::scalars::{Form, Scalar};
use crate::units::{Complaint, LENGTH, SHARE, shorten};
use serde::Deserialize;

/// A length, or a share of the height of something.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
#[serde(try_from = "String")]
pub enum Reach {
    /// A length, mm.
    Mm(f64),
    /// A share of it.
    Share(f64),
}

/// A place along the wall.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
#[serde(try_from = "String")]
pub struct Place {
    /// How far along.
    pub reach: Reach,
    /// From which end; left out, from the rim (on a flat part: from the centre).
    pub from: Option<End>,
}

/// An end of a wall.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum End {
    /// Where its measurements begin: the rim of a body, the edge of the hole of a lid.
    Rim,
    /// Where they end: the foot of a body, the outer edge of a lid.
    Foot,
}

impl Scalar for Reach {
    const FORMAT: &'static str = "length-or-share";
    const NOUN: &'static str = "a length with its unit, or a share in per cent";

    fn read(text: &str) -> Result<Self, Complaint> {
        if text.trim_end_matches(' ').ends_with('%') {
            SHARE.parse(text).map(Self::Share)
        } else {
            LENGTH.parse(text).map(Self::Mm)
        }
    }

    fn form() -> Form {
        Form {
            description:
                "A length, or a share of the height of the band or wall: a number and `mm`, `cm`, `in` or `%`."
                    .to_owned(),
            pattern: format!("{}|{}", LENGTH.pattern(), SHARE.pattern()),
            examples: &["70 mm", "2 3/4 in", "40 %"],
        }
    }
}

impl Scalar for Place {
    const FORMAT: &'static str = "place-along";
    const NOUN: &'static str = "a place along the wall";

    fn read(text: &str) -> Result<Self, Complaint> {
        let Some((reach, end)) = text.split_once(" from ") else {
            let reach = Reach::read(text);
            return reach
                .map(|reach| Self { reach, from: None })
                .map_err(|found| stray(text, found));
        };
        let end = end.trim_matches(' ');
        let reach = Reach::read(reach).map_err(|found| from_end(reach, end, found))?;
        let known = match end {
            "rim" => Some(End::Rim),
            "foot" => Some(End::Foot),
            _ => None,
        };
        if let Some(from) = known {
            return Ok(Self { reach, from: Some(from) });
        }
        let amount = shorten(text.split(" from ").next().unwrap_or_default().trim_matches(' '));
        let complaint = Complaint::new(format!(
            "`{}` counts from `{}`; a place along the wall counts from `rim` or `foot`",
            shorten(text),
            shorten(end)
        ));
        let word = end.to_lowercase();
        Err(complaint.hint(match word.trim_start_matches("the ") {
            "rim" | "top" | "lip" | "mouth" | "hole" => format!("write \"{amount} from rim\""),
            "foot" | "bottom" | "base" | "floor" | "edge" => {
                format!("write \"{amount} from foot\"")
            }
            _ => format!("write \"{amount} from rim\" or \"{amount} from foot\""),
        }))
    }

    fn form() -> Form {
        let amount = |pattern: String| {
            let inner = pattern.trim_start_matches("^ *").trim_end_matches(" *$").to_owned();
            format!("({inner})")
        };
        Form {
            description:
                "A place along the wall: a length or a share of the whole wall, from the rim or, with `from foot`, from the foot."
                    .to_owned(),
            pattern: format!(
                "^ *({}|{})( +from +(rim|foot))? *$",
                amount(LENGTH.pattern()),
                amount(SHARE.pattern())
            ),
            examples: &["70 mm", "20 mm from foot", "50 %"],
        }
    }
}

/// What is wrong with how far a place lies from an end: what to write in its stead keeps the end.
fn from_end(reach: &str, end: &str, found: Complaint) -> Complaint {
    let number = reach.trim_matches(' ');
    let bare = number.chars().all(|c| c.is_ascii_digit() || matches!(c, ' ' | '.' | '/'));
    if number.is_empty() || !bare || !matches!(end, "rim" | "foot") {
        return found;
    }
    // Nobody reads a fraction off a scale in mm.
    let unit = if number.contains('/') { "in" } else { "mm" };
    Complaint::new(found.message)
        .hint(format!("write \"{number} {unit} from {end}\" if that is what you measured in"))
}

/// What is wrong with a place that names no end; one that only seems to has no use of the units.
fn stray(text: &str, found: Complaint) -> Complaint {
    if text.contains("from") {
        Complaint::new(format!("`{}` is not a place along the wall", shorten(text)))
            .hint("write how far and from where, such as \"20 mm from foot\"")
    } else {
        found
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn place(text: &str) -> Result<Place, String> {
        Place::read(text)
            .map_err(|complaint| [vec![complaint.message], complaint.hints].concat().join(" / "))
    }

    #[test]
    fn a_place_counts_from_the_end_that_it_names() {
        let at = |reach, from| Ok(Place { reach, from });
        assert_eq!(place("20 mm"), at(Reach::Mm(20.0), None));
        assert_eq!(place("20mm from rim"), at(Reach::Mm(20.0), Some(End::Rim)));
        // 1 in = 25.4 mm (NIST SP 811, appendix B.8).
        assert_eq!(place(" 2 3/4 in  from  foot "), at(Reach::Mm(2.75 * 25.4), Some(End::Foot)));
        assert_eq!(place("50 %"), at(Reach::Share(0.5), None));
        assert_eq!(place("12.5 % from foot"), at(Reach::Share(0.125), Some(End::Foot)));
    }

    #[test]
    fn a_place_that_cannot_be_read_says_what_to_write() {
        let told = |text: &str| place(text).expect_err("no place");
        assert!(told("20 mm from the bottom").ends_with("write \"20 mm from foot\""));
        assert!(told("20 mm from Rim").ends_with("write \"20 mm from rim\""));
        assert!(told("20 mm from handle").contains("counts from `handle`"));
        assert!(told("from foot").contains("such as \"20 mm from foot\""));
        assert!(told("20 from foot").contains("has no unit"));
        assert!(told("9 from foot").contains("write \"9 mm from foot\""));
        assert!(told("20 mm of foot").contains("has the unit"));
        assert!(told("-5 %").contains("negative"));
    }
}
