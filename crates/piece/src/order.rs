//! An order: what was agreed with a customer, and what was paid of it.

use crate::Money;
use crate::settings::Currency;
use jiff::civil::Date;

/// An accepted quote.
#[derive(Debug, Clone, PartialEq)]
pub struct Agreed {
    /// Number of the order.
    pub number: String,
    /// Number of the quote.
    pub quote: String,
    /// Name of the option.
    pub option: String,
    /// Who ordered it; may be empty.
    pub customer: String,
    /// Lines of the customer's address.
    pub address: Vec<String>,
    /// Day on which it was accepted.
    pub accepted: Date,
    /// Day on which it is promised to be with the customer.
    pub promised: Option<Date>,
    /// How many are made, at least 1.
    pub quantity: u32,
    /// Currency of all amounts.
    pub currency: Currency,
    /// Agreed price of one.
    pub price_each: Money,
    /// Agreed deposit for all.
    pub deposit: Money,
    /// Stones on one piece.
    pub stones: u64,
    /// Checksum of the table of its stones.
    pub stones_sum: u64,
    /// Checksum of the frozen piece file.
    pub piece_sum: u64,
    /// Checksum of the frozen studio file.
    pub studio_sum: u64,
    /// What was paid, by day.
    pub paid: Vec<(Date, Money)>,
}

impl Agreed {
    /// Agreed price of all.
    pub fn price(&self) -> Money {
        self.price_each.share(u64::from(self.quantity), 1)
    }

    /// All that was paid.
    pub fn paid_in_all(&self) -> Money {
        self.paid.iter().map(|(_, amount)| *amount).sum()
    }

    /// What is still to be paid; below zero if too much was.
    pub fn rest(&self) -> Money {
        self.price() - self.paid_in_all()
    }

    /// The order file.
    pub fn text(&self) -> String {
        use toml_edit::{Array, DocumentMut, InlineTable, value};
        let mut file = DocumentMut::new();
        let amount = |amount: Money| value(self.currency.number(amount));
        let day = |day: Date| -> toml_edit::Item {
            let text = day.to_string();
            text.parse::<toml_edit::Datetime>().map_or_else(|_| value(text), value)
        };
        let sum = |sum: u64| value(format!("{sum:016x}"));
        file["cupwright_order"] = value(1);
        file["number"] = value(&self.number);
        file["quote"] = value(&self.quote);
        file["option"] = value(&self.option);
        file["customer"] = value(&self.customer);
        file["address"] = value(self.address.iter().collect::<Array>());
        file["accepted"] = day(self.accepted);
        if let Some(promised) = self.promised {
            file["promised"] = day(promised);
        }
        file["quantity"] = value(i64::from(self.quantity));
        let mut currency = InlineTable::new();
        currency.insert("code", self.currency.code.as_str().into());
        currency.insert("sign", self.currency.sign.as_str().into());
        currency.insert("minor_digits", i64::from(self.currency.minor_digits).into());
        file["currency"] = value(currency);
        file["price_each"] = amount(self.price_each);
        file["deposit"] = amount(self.deposit);
        file["stones"] = value(i64::try_from(self.stones).unwrap_or(i64::MAX));
        file["stones_sum"] = sum(self.stones_sum);
        file["piece_sum"] = sum(self.piece_sum);
        file["studio_sum"] = sum(self.studio_sum);
        let mut text = format!(
            "# What was agreed. Change nothing above the payments; add each as it comes in:\n#\n\
             #   [[paid]]\n#   day = {}\n#   amount = \"{}\"\n\n{file}",
            self.accepted,
            self.currency.number(self.deposit)
        );
        for (on, paid) in &self.paid {
            text +=
                &format!("\n[[paid]]\nday = {on}\namount = \"{}\"\n", self.currency.number(*paid));
        }
        text
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Source, read_order};
    use jiff::civil::date;

    fn agreed() -> Agreed {
        Agreed {
            number: "2027-004".to_owned(),
            quote: "Q \"4\"".to_owned(),
            option: "half".to_owned(),
            customer: "The boathouse".to_owned(),
            address: vec!["Staithe Lane".to_owned()],
            accepted: date(2027, 3, 2),
            promised: Some(date(2027, 4, 3)),
            quantity: 3,
            currency: Currency { code: "USD".to_owned(), sign: "$".to_owned(), minor_digits: 2 },
            price_each: Money(18_950),
            deposit: Money(28_425),
            stones: 2310,
            stones_sum: 0x0123_4567_89ab_cdef,
            piece_sum: 7,
            studio_sum: u64::MAX,
            paid: vec![(date(2027, 3, 3), Money(28_425))],
        }
    }

    #[test]
    fn an_order_is_read_as_it_was_written() {
        let order = agreed();
        let reading = read_order(&Source::new("order.toml", order.text()));
        assert_eq!(reading.value, Some(order), "{:?}", reading.diagnostics);
    }

    #[test]
    fn what_is_left_to_pay_is_the_price_less_all_payments() {
        // By hand: 3 times 189.50 is 568.50, less 284.25.
        assert_eq!((agreed().price(), agreed().rest()), (Money(56_850), Money(28_425)));
    }

    #[test]
    fn slips_in_an_order_are_told_with_their_place() {
        let text = agreed().text();
        for (right, wrong, told) in [
            ("price_each = \"189.50\"", "price_each = \"189.505\"", "3 digits after the point"),
            ("piece_sum = \"0000000000000007\"", "piece_sum = \"000000000000000z\"", "checksum"),
            ("day = 2027-03-03", "day = 2027-03-33", "invalid date"),
            ("amount = \"284.25\"\n", "amount = \"-5\"\n", "amount"),
            ("quantity = 3", "quantity = 0", "quantity"),
        ] {
            let at = text.rfind(right).expect("the line");
            let text = format!("{}{wrong}{}", &text[..at], &text[at + right.len()..]);
            let reading = read_order(&Source::new("order.toml", text.clone()));
            let found = reading.diagnostics.iter().map(|one| one.message.as_str());
            let found: Vec<&str> = found.collect();
            assert!(reading.value.is_none(), "{text}");
            assert!(found.iter().any(|one| one.contains(told)), "{found:?}");
            assert!(reading.diagnostics[0].span.is_some(), "{found:?}");
        }
    }
}
