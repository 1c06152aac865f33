//! The quantities that people type, each with its units.

use super::{Quantity, Unit, unit};

/// Lengths, in mm.
pub const LENGTH: Quantity = Quantity {
    noun: "a length",
    units: &[unit("mm", 1.0, 1.0), unit("cm", 10.0, 1.0), unit("in", 25.4, 1.0)],
    examples: &["70 mm", "2.75 in", "2 3/4 in"],
    signed: true,
    fractions: true,
};

/// Volumes, in ml; the fluid ounce is that of the United States.
pub const VOLUME: Quantity = Quantity {
    noun: "a volume",
    units: &[unit("ml", 1.0, 1.0), unit("l", 1000.0, 1.0), unit("fl oz", 29.573_529_562_5, 1.0)],
    examples: &["590 ml", "20 fl oz"],
    signed: false,
    fractions: false,
};

/// Angles, in degrees as typed; `resolve` turns them into radians.
pub const ANGLE: Quantity = Quantity {
    noun: "an angle",
    units: &[unit("deg", 1.0, 1.0)],
    examples: &["90 deg", "-45 deg"],
    signed: true,
    fractions: false,
};

/// Shares, from 0 to 1.
pub const SHARE: Quantity = Quantity {
    noun: "a share",
    units: &[unit("%", 1.0, 100.0)],
    examples: &["40 %", "12.5 %"],
    signed: false,
    fractions: false,
};

/// Lengths of time, in min.
pub const TIME: Quantity = Quantity {
    noun: "a length of time",
    units: &[
        unit("min", 1.0, 1.0),
        unit("h", 60.0, 1.0),
        unit("days", 1440.0, 1.0),
        unit("day", 1440.0, 1.0),
    ],
    examples: &["40 min", "4 h", "3 days"],
    signed: false,
    fractions: false,
};

/// Masses, in g.
pub const MASS: Quantity = Quantity {
    noun: "a mass",
    units: &[unit("g", 1.0, 1.0), unit("kg", 1000.0, 1.0), unit("oz", 28.349_523_125, 1.0)],
    examples: &["50 g", "2 oz"],
    signed: false,
    fractions: false,
};

/// Volumes of rooms, in m³; 1 ft³ = 0.028 316 846 592 m³ exactly (NIST SP 811 (2008), appendix B.8).
pub const SPACE: Quantity = Quantity {
    noun: "the volume of a room",
    units: &[unit("m3", 1.0, 1.0), unit("ft3", 0.028_316_846_592, 1.0)],
    examples: &["30 m3", "1000 ft3"],
    signed: false,
    fractions: false,
};

/// How many there are for an area, for each mm².
pub const DENSITY: Quantity = Quantity {
    noun: "a density",
    units: &[unit("per cm2", 1.0, 100.0), unit("per in2", 1.0, 645.16)],
    examples: &["0.8 per cm2", "5 per in2"],
    signed: false,
    fractions: false,
};

const fn fahrenheit(name: &'static str) -> Unit {
    Unit { name, times: 5.0, over: 9.0, zero: 32.0 }
}

/// Temperatures, in °C.
pub const TEMPERATURE: Quantity = Quantity {
    noun: "a temperature",
    units: &[unit("C", 1.0, 1.0), unit("°C", 1.0, 1.0), fahrenheit("F"), fahrenheit("°F")],
    examples: &["22 C", "72 F"],
    signed: true,
    fractions: false,
};

/// Viscosities, in Pa s.
pub const VISCOSITY: Quantity = Quantity {
    noun: "a viscosity",
    units: &[unit("cP", 1.0, 1000.0), unit("mPa s", 1.0, 1000.0), unit("Pa s", 1.0, 1.0)],
    examples: &["1000 cP", "1 Pa s"],
    signed: false,
    fractions: false,
};

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn temperatures_have_their_zero_where_the_scale_has_it() {
        // NIST SP 811 (2008), 4.2.1.1 and appendix B.8: ice melts at 32 °F, -40 is the same on both.
        let known =
            [("32 F", 0.0), ("-40 °F", -40.0), ("212F", 100.0), ("22 °C", 22.0), ("-5 C", -5.0)];
        for (text, celsius) in known {
            assert_eq!(TEMPERATURE.parse(text), Ok(celsius), "{text}");
        }
        let hint = |text: &str| TEMPERATURE.parse(text).unwrap_err().hints.concat();
        assert_eq!(hint("22"), "write \"22 C\" if that is what you measured in");
        assert_eq!(hint("72 fahrenheit"), "did you mean \"72 F\"?");
    }
}
