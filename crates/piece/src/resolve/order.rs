//! The order file: amounts into minor units, checksums into numbers.

use super::Bench;
use super::bounds::Desk;
use crate::FieldPath;
use crate::file::order::AgreedFile;
use crate::order::Agreed;
use crate::settings::Currency;

/// The resolved order, which only counts if `bench` holds no errors afterwards.
pub(crate) fn order(file: &AgreedFile, bench: &mut Bench<'_>) -> Agreed {
    let root = FieldPath::root();
    let currency = Currency {
        code: file.currency.code.clone(),
        sign: file.currency.sign.clone().unwrap_or_else(|| format!("{} ", file.currency.code)),
        minor_digits: file.currency.minor_digits,
    };
    let mut sum = |key: &str, text: &str| {
        u64::from_str_radix(text, 16).unwrap_or_else(|_| {
            bench.error_hint(
                &root.key(key),
                format!("`{text}` is no checksum"),
                "checksums are written by `cupwright order`, and are not to be changed",
            );
            0
        })
    };
    let stones_sum = sum("stones_sum", &file.stones_sum);
    let piece_sum = sum("piece_sum", &file.piece_sum);
    let studio_sum = sum("studio_sum", &file.studio_sum);
    let mut on = Desk { bench, minor_digits: currency.minor_digits };
    let price_each = on.money(&root.key("price_each"), &file.price_each);
    let deposit = on.money(&root.key("deposit"), &file.deposit);
    let list = root.key("paid");
    let paid = file.paid.iter().enumerate();
    let paid = paid
        .map(|(index, one)| (one.day.0, on.money(&list.index(index).key("amount"), &one.amount)))
        .collect();
    Agreed {
        number: file.number.clone(),
        quote: file.quote.clone(),
        option: file.option.clone(),
        customer: file.customer.clone(),
        address: file.address.clone(),
        accepted: file.accepted.0,
        promised: file.promised.as_ref().map(|day| day.0),
        quantity: file.quantity,
        currency,
        price_each,
        deposit,
        stones: file.stones,
        stones_sum,
        piece_sum,
        studio_sum,
        paid,
    }
}
