//! The currency that a studio's amounts are in, and its digits by ISO 4217.

use crate::Money;
use crate::file::scalars::{Amount, Scalar};

// Codes by their digits after the point: ISO 4217, list one (currencies and funds in use), through
// the data of the crate `iso_currency`; codes without a minor unit (metals, test codes) are left out.
const DIGITS_0: &str = "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF";
const DIGITS_3: &str = "BHD IQD JOD KWD LYD OMR TND";
const DIGITS_4: &str = "CLF UYW";
const DIGITS_2: &str = "AED AFN ALL AMD AOA ARS AUD AWG AZN BAM BBD BDT BGN BMD BND BOB BOV BRL BSD BTN BWP \
     BYN BZD CAD CDF CHE CHF CHW CNY COP COU CRC CUC CUP CVE CZK DKK DOP DZD EGP ERN ETB \
     EUR FJD FKP GBP GEL GHS GIP GMD GTQ GYD HKD HNL HRK HTG HUF IDR ILS INR IRR JMD KES \
     KGS KHR KPW KYD KZT LAK LBP LKR LRD LSL MAD MDL MGA MKD MMK MNT MOP MRU MUR MVR MWK \
     MXN MXV MYR MZN NAD NGN NIO NOK NPR NZD PAB PEN PGK PHP PKR PLN QAR RON RSD RUB SAR \
     SBD SCR SDG SEK SGD SHP SLE SLL SOS SRD SSP STN SVC SYP SZL THB TJS TMT TOP TRY TTD \
     TWD TZS UAH USD USN UYU UZS VED VES WST XAD XCD XCG YER ZAR ZMW ZWG ZWL";

/// Digits after the point by ISO 4217; `None` for a code that is not on its list of currencies.
pub fn minor_digits_of(code: &str) -> Option<u32> {
    let lists = [(0, DIGITS_0), (2, DIGITS_2), (3, DIGITS_3), (4, DIGITS_4)];
    let of = |list: &str| list.split_ascii_whitespace().any(|known| known == code);
    lists.into_iter().find(|(_, list)| of(list)).map(|(digits, _)| digits)
}

/// A currency.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Currency {
    /// ISO 4217 code.
    pub code: String,
    /// Sign put before amounts, or the code and a space.
    pub sign: String,
    /// Digits after the point.
    pub minor_digits: u32,
}

impl Currency {
    /// What is wrong if the standard has other digits for this code; `None` also for a code that it
    /// does not know.
    pub fn not_as_the_standard_has_it(&self) -> Option<String> {
        let digits = minor_digits_of(&self.code)?;
        (digits != self.minor_digits).then(|| {
            format!(
                "{} has {digits} digits after the point by ISO 4217, not {}",
                self.code, self.minor_digits
            )
        })
    }

    /// An amount typed as digits with a point: `85` or `85.00`.
    ///
    /// # Errors
    /// In words: it is no amount, or has more digits after the point than the currency.
    pub fn read(&self, text: &str) -> Result<Money, String> {
        let Amount(decimal) = Amount::read(text).map_err(|complaint| complaint.message)?;
        if decimal.decimals > self.minor_digits {
            return Err(format!(
                "the amount has {} digits after the point; {} has {}",
                decimal.decimals, self.code, self.minor_digits
            ));
        }
        Ok(Money(decimal.digits * 10_i64.pow(self.minor_digits - decimal.decimals)))
    }

    /// `$12.34`, `-$0.05`; for people.
    pub fn show(&self, amount: Money) -> String {
        let number = self.number(amount);
        match number.strip_prefix('-') {
            Some(number) => format!("-{}{number}", self.sign),
            None => format!("{}{number}", self.sign),
        }
    }

    /// `12.34`; for tables.
    pub fn number(&self, amount: Money) -> String {
        let minus = if amount.0 < 0 { "-" } else { "" };
        let unit = 10_u64.pow(self.minor_digits);
        let (whole, part) = (amount.0.unsigned_abs() / unit, amount.0.unsigned_abs() % unit);
        if self.minor_digits == 0 {
            format!("{minus}{whole}")
        } else {
            format!("{minus}{whole}.{part:0width$}", width = self.minor_digits as usize)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn digits_are_those_of_the_standard() {
        // Against the crate iso_currency, all codes of three capital letters.
        let mut known = 0;
        for number in 0..26 * 26 * 26_u32 {
            let letter = |at: u32| char::from(b'A' + (number / at % 26) as u8);
            let code: String = [676, 26, 1].map(letter).iter().collect();
            let standard = iso_currency::Currency::from_code(&code).and_then(|one| one.exponent());
            assert_eq!(minor_digits_of(&code), standard.map(u32::from), "{code}");
            known += usize::from(standard.is_some());
        }
        assert!(known > 150, "{known}");
    }

    #[test]
    fn typed_amounts_are_whole_minor_units() {
        let yen = Currency { code: "JPY".into(), sign: "¥".into(), minor_digits: 0 };
        let dinar = Currency { code: "KWD".into(), sign: "KWD ".into(), minor_digits: 3 };
        assert_eq!(yen.read("4800"), Ok(Money(4800)));
        assert_eq!(dinar.read("4.5"), Ok(Money(4500)));
        assert!(yen.read("4800.5").is_err_and(|told| told.contains("JPY has 0")));
        assert!(yen.read("-1").is_err() && yen.read("many").is_err());
        assert_eq!(yen.not_as_the_standard_has_it(), None);
        let wrong = Currency { minor_digits: 2, ..yen };
        assert!(wrong.not_as_the_standard_has_it().is_some_and(|told| told.contains("not 2")));
    }
}
