//! From where to where each setting may lie, and how that is said.

use super::Bench;
use crate::file::scalars::{Amount, Length, Mass, Share, Space, Temperature, Time, Volume};
use crate::{FieldPath, Money};

/// Largest amount of money, in the currency's main unit: a kit of resin costs a few million of the
/// currencies with the smallest units.
const MOST_AMOUNT: i64 = 100_000_000;
/// Content of a pack, ml or g: from a drop to a tonne.
const PACK: (f64, f64) = (0.1, 1e6);
const DAY_MIN: f64 = 1440.0;
/// A sitting leaves at least this for setting stones, min.
pub(super) const LEAST_SETTING_MIN: f64 = 5.0;

/// A length of time as a bound reads best: `90 min`, `365 days`.
pub(super) fn span(min: f64) -> String {
    if min >= DAY_MIN && (min / DAY_MIN).fract() == 0.0 {
        let days = min / DAY_MIN;
        return format!("{days} {}", if days == 1.0 { "day" } else { "days" });
    }
    format!("{} min", (min * 100.0).round() / 100.0)
}

/// Turns typed values into ours and complains about those out of bounds.
pub(super) struct Desk<'b, 'a> {
    pub bench: &'b mut Bench<'a>,
    pub minor_digits: u32,
}

impl Desk<'_, '_> {
    pub fn money(&mut self, path: &FieldPath, amount: &Amount) -> Money {
        let decimal = amount.0;
        if decimal.decimals > self.minor_digits {
            let message = format!(
                "the amount has {} digits after the point; this currency has {}",
                decimal.decimals, self.minor_digits
            );
            self.bench.error(path, message);
            return Money::ZERO;
        }
        let minor = 10_i64.pow(self.minor_digits - decimal.decimals);
        let most = MOST_AMOUNT.saturating_mul(10_i64.saturating_pow(decimal.decimals));
        if decimal.digits > most {
            let found = decimal.digits as f64 / 10_i64.saturating_pow(decimal.decimals) as f64;
            self.refuse(path, &format!("an amount of {found}"), "0", &MOST_AMOUNT.to_string());
            return Money::ZERO;
        }
        Money(decimal.digits.saturating_mul(minor))
    }

    /// Says what was found and from where to where it may lie.
    fn refuse(&mut self, path: &FieldPath, found: &str, least: &str, most: &str) {
        self.bench
            .error(path, format!("{found} is not expected here; it can be {least} to {most}"));
    }

    /// `value` as it is, complained about unless it lies between two bounds; bounds and value are
    /// shown by `show`.
    pub fn within(
        &mut self,
        path: &FieldPath,
        value: f64,
        (least, most): (f64, f64),
        show: impl Fn(f64) -> String,
    ) -> f64 {
        if !(least..=most).contains(&value) {
            self.refuse(path, &show(value), &show(least), &show(most));
        }
        value
    }

    pub fn length(&mut self, path: &FieldPath, length: Length, least_mm: f64, most_mm: f64) -> f64 {
        self.within(path, length.0, (least_mm, most_mm), |mm| format!("{mm} mm"))
    }

    pub fn share(&mut self, path: &FieldPath, share: Share, most: f64) -> f64 {
        self.within(path, share.0, (0.0, most), |share| {
            format!("{} %", (share * 1e6).round() / 1e4)
        })
    }

    /// °C, complained about unless it lies between two bounds.
    pub fn temperature(
        &mut self,
        path: &FieldPath,
        temperature: Temperature,
        bounds_c: (f64, f64),
    ) -> f64 {
        self.within(path, temperature.0, bounds_c, |celsius| {
            format!("{} °C", (celsius * 10.0).round() / 10.0)
        })
    }

    /// Volume of a room, m³.
    pub fn space(&mut self, path: &FieldPath, space: Space, bounds_m3: (f64, f64)) -> f64 {
        self.within(path, space.0, bounds_m3, |m3| format!("{} m3", (m3 * 10.0).round() / 10.0))
    }

    /// A wait: up to a year.
    pub fn wait(&mut self, path: &FieldPath, time: Time, least_min: f64) -> f64 {
        self.within(path, time.0, (least_min, 365.0 * DAY_MIN), span)
    }

    /// Hands-on time for one step: up to a day.
    pub fn hands_on(&mut self, path: &FieldPath, time: Time, least_min: f64) -> f64 {
        self.within(path, time.0, (least_min, DAY_MIN), span)
    }

    pub fn volume(&mut self, path: &FieldPath, volume: Volume) -> f64 {
        self.within(path, volume.0, PACK, |ml| format!("{ml} ml"))
    }

    pub fn mass(&mut self, path: &FieldPath, mass: Mass) -> f64 {
        self.within(path, mass.0, PACK, |g| format!("{g} g"))
    }

    /// Complains unless the first time is before or at the second.
    pub fn in_order(&mut self, path: &FieldPath, earlier: (&str, Time), later: (&str, Time)) {
        if earlier.1.0 > later.1.0 {
            let message = format!(
                "`{}` is {} min and `{}` is {} min; it cannot be later",
                earlier.0, earlier.1.0, later.0, later.1.0
            );
            self.bench.error(&path.key(earlier.0), message);
        }
    }
}
