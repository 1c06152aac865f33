//! Single values as typed: quantities with units, names, colours, sizes, amounts, hours, days.
//!
//! Each is a string with a `format` in the schema; the same parser serves the reader, which says what
//! is wrong with it, and serde, which makes the value.

mod read;

use read::*;

pub(crate) use read::read_srgb as srgb;

use super::places::{Place, Reach};
use crate::StoneSize;
use crate::units::{
    ANGLE, Complaint, DENSITY, LENGTH, MASS, Quantity, SHARE, SPACE, TEMPERATURE, TIME, VISCOSITY,
    VOLUME,
};
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::Deserialize;
use std::borrow::Cow;

/// A value typed as a string of a fixed form.
pub(crate) trait Scalar: Sized {
    const FORMAT: &'static str;
    const NOUN: &'static str;
    fn read(text: &str) -> Result<Self, Complaint>;
    fn form() -> Form;
}

/// How the schema describes the string.
pub(crate) struct Form {
    pub(super) description: String,
    pub(super) pattern: String,
    pub(super) examples: &'static [&'static str],
}

macro_rules! scalars {
    ($($name:ident),*) => {
        $(
            impl TryFrom<String> for $name {
                type Error = String;
                fn try_from(text: String) -> Result<Self, String> {
                    Self::read(&text).map_err(|complaint| complaint.message)
                }
            }

            impl JsonSchema for $name {
                fn schema_name() -> Cow<'static, str> {
                    stringify!($name).into()
                }
                fn json_schema(_: &mut SchemaGenerator) -> Schema {
                    let form = Self::form();
                    json_schema!({
                        "type": "string",
                        "format": Self::FORMAT,
                        "description": form.description,
                        "pattern": form.pattern,
                        "examples": form.examples,
                    })
                }
            }
        )*

        /// What a string of this `format` of the schema is, with its article; `None` for foreign formats.
        pub(crate) fn noun_of(format: &str) -> Option<&'static str> {
            match format {
                $($name::FORMAT => Some($name::NOUN),)*
                _ => None,
            }
        }

        /// What is wrong with a string of this `format` of the schema.
        pub(crate) fn complaint_about(format: &str, text: &str) -> Option<Complaint> {
            match format {
                $($name::FORMAT => $name::read(text).err(),)*
                _ => None,
            }
        }
    };
}

scalars!(
    Length,
    Volume,
    Angle,
    Share,
    Time,
    Mass,
    Density,
    Name,
    Srgb,
    Letter,
    Size,
    Day,
    Amount,
    Stretch,
    FileName,
    Place,
    Reach,
    Temperature,
    Viscosity,
    Space,
    Clock,
    Days,
    Moment
);

/// The quantity behind this `format` of the schema.
pub(crate) fn quantity_of(format: &str) -> Option<&'static Quantity> {
    Some(match format {
        Length::FORMAT | Place::FORMAT | Reach::FORMAT => &LENGTH,
        Volume::FORMAT => &VOLUME,
        Angle::FORMAT => &ANGLE,
        Share::FORMAT => &SHARE,
        Time::FORMAT => &TIME,
        Mass::FORMAT => &MASS,
        Density::FORMAT => &DENSITY,
        Space::FORMAT => &SPACE,
        Temperature::FORMAT => &TEMPERATURE,
        Viscosity::FORMAT => &VISCOSITY,
        _ => return None,
    })
}

macro_rules! quantity {
    ($name:ident, $quantity:ident, $format:literal, $noun:literal, $doc:literal) => {
        #[doc = $doc]
        #[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
        #[serde(try_from = "String")]
        pub struct $name(pub f64);

        impl Scalar for $name {
            const FORMAT: &'static str = $format;
            const NOUN: &'static str = $noun;
            fn read(text: &str) -> Result<Self, Complaint> {
                $quantity.parse(text).map(Self)
            }
            fn form() -> Form {
                Form {
                    description: $doc.to_owned(),
                    pattern: $quantity.pattern(),
                    examples: $quantity.examples,
                }
            }
        }
    };
}

mod temperature;
mod viscosity;

pub use moment::{Clock, Days, Moment, When};
pub use temperature::Temperature;
pub use viscosity::Viscosity;

quantity!(
    Length,
    LENGTH,
    "length",
    "a length with its unit",
    "A length: a number and `mm`, `cm` or `in`."
);
quantity!(
    Volume,
    VOLUME,
    "volume",
    "a volume with its unit",
    "A volume: a number and `ml`, `l` or `fl oz` (US)."
);
quantity!(Angle, ANGLE, "angle", "an angle with its unit", "An angle: a number and `deg`.");
quantity!(Share, SHARE, "share", "a share in per cent", "A share: a number and `%`.");
quantity!(
    Time,
    TIME,
    "time-span",
    "a length of time with its unit",
    "A length of time: a number and `min`, `h` or `days`."
);
quantity!(Mass, MASS, "mass", "a mass with its unit", "A mass: a number and `g`, `kg` or `oz`.");
quantity!(
    Density,
    DENSITY,
    "density",
    "how many for an area",
    "How many for an area: a number and `per cm2` or `per in2`."
);

quantity!(
    Space,
    SPACE,
    "room-volume",
    "the volume of a room with its unit",
    "The volume of a room: a number and `m3` or `ft3`."
);

macro_rules! word {
    ($name:ident($inner:ty), $format:literal, $noun:literal, $doc:literal, $pattern:expr, $examples:expr, $read:path) => {
        #[doc = $doc]
        #[derive(Debug, Clone, PartialEq, Deserialize)]
        #[serde(try_from = "String")]
        pub struct $name(pub $inner);

        impl Scalar for $name {
            const FORMAT: &'static str = $format;
            const NOUN: &'static str = $noun;
            fn read(text: &str) -> Result<Self, Complaint> {
                $read(text).map(Self)
            }
            fn form() -> Form {
                Form { description: $doc.to_owned(), pattern: $pattern, examples: $examples }
            }
        }
    };
}

mod moment;

word!(
    Name(String),
    "name",
    "a name",
    "A name: lower-case letters, digits and hyphens, starting with a letter, at most 40 of them.",
    "^[a-z][a-z0-9]*(-[a-z0-9]+)*$".to_owned(),
    &["tide-line"],
    read_name
);
word!(
    Srgb([u8; 3]),
    "srgb-colour",
    "a colour such as \"#12343b\"",
    "A colour in sRGB: `#` and six hexadecimal digits for red, green and blue.",
    "^#[0-9A-Fa-f]{6}$".to_owned(),
    &["#12343b"],
    read_srgb
);
word!(
    Letter(String),
    "colour-letter",
    "one or two capital letters",
    "One or two capital letters from A to Z.",
    "^[A-Z]{1,2}$".to_owned(),
    &["S"],
    read_letter
);
word!(
    Size(StoneSize),
    "stone-size",
    "a stone size",
    "A stone size: a size number of the trade such as `SS10`, or the measured diameter with its unit.",
    size_pattern(),
    &["SS10", "2.2 mm"],
    StoneSize::read
);
word!(
    Day(jiff::civil::Date),
    "date",
    "a day such as 2026-07-18",
    "A day: year, month and day, such as 2026-07-18; in TOML without quotes.",
    "^[0-9]{4}-[0-9]{2}-[0-9]{2}$".to_owned(),
    &["2026-07-18"],
    read_day
);
word!(
    Amount(Decimal),
    "money",
    "an amount of money in quotes",
    "An amount of money in the studio's currency: digits, perhaps a point and decimals, no sign.",
    "^[0-9]{1,9}(\\.[0-9]{1,4})?$".to_owned(),
    &["24.00"],
    read_amount
);
word!(
    Stretch((u16, u16)),
    "working-hours",
    "a stretch of hours such as \"18:00-21:30\"",
    "A stretch of a day from one time to a later one, 24-hour clock.",
    "^([01][0-9]|2[0-3]):[0-5][0-9]-(([01][0-9]|2[0-3]):[0-5][0-9]|24:00)$".to_owned(),
    &["18:00-21:30"],
    read_stretch
);
word!(
    FileName(String),
    "file-name",
    "the name of a file",
    "A file that lies beside this one or in a folder beside it; folders are separated by `/`.",
    "^[^/\\\\:.][^/\\\\:]*(/[^/\\\\:.][^/\\\\:]*)*$".to_owned(),
    &["reeds.svg", "art/reeds.svg"],
    read_file_name
);

/// A decimal number as typed: its digits without the point, and how many of them stand after it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Decimal {
    /// All digits as one number.
    pub digits: i64,
    /// How many of them stand after the point.
    pub decimals: u32,
}
