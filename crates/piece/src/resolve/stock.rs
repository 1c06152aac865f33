//! The stock file: what is in each lot, until when, and for whom.

use super::Bench;
use super::bounds::Desk;
use super::wares::{amount, needed_amount, ware};
use crate::FieldPath;
use crate::file::stock::{LotFile, StockFile};
use crate::stock::{Least, Lot, Stock, counted_by_weight};
use crate::{Ware, units::shorten};
use jiff::ToSpan;
use jiff::civil::Date;

/// Readability of a scale where the file tells none, g (from memory: common among makers).
const READABILITY_G: f64 = 0.1;
const DAY_MIN: f64 = 1440.0;

/// The resolved stock, which only counts if `bench` holds no errors afterwards.
pub(crate) fn stock(file: &StockFile, bench: &mut Bench<'_>) -> Stock {
    let root = FieldPath::root();
    // No money stands in this file.
    let mut on = Desk { bench, minor_digits: 0 };
    let readability_g = file.scale.map_or(READABILITY_G, |scale| {
        on.within(&root.key("scale"), scale.0, (0.0001, 50.0), |g| format!("{g} g"))
    });
    let list = root.key("lot");
    let lots = file.lot.iter().enumerate();
    let lots =
        lots.map(|(index, one)| lot(one, &list.index(index), readability_g, &mut on)).collect();
    let list = root.key("least");
    let mut least: Vec<Least> = Vec::with_capacity(file.least.len());
    for (index, one) in file.least.iter().enumerate() {
        let path = list.index(index);
        let ware = ware(&one.of, &path.key("of"), on.bench);
        if let Some(earlier) = least.iter().position(|least| least.ware.is(&ware)) {
            let message = format!(
                "the least of {} is told twice: number {} and number {}",
                shorten(&ware.words()),
                earlier + 1,
                index + 1
            );
            on.bench.error_hint(&path, message, "keep the one that holds");
        }
        let amount = needed_amount(one.content(), &ware, (&path, false), &mut on);
        least.push(Least { ware, amount });
    }
    Stock { lots, least }
}

fn lot(file: &LotFile, path: &FieldPath, readability_g: f64, on: &mut Desk<'_, '_>) -> Lot {
    let ware = ware(&file.of, &path.key("of"), on.bench);
    let (amount, uncertainty) = how_much(file, &ware, path, readability_g, on);
    let mut lot = Lot {
        label: file.label.clone(),
        amount,
        uncertainty,
        expires: expires(file, path, on.bench),
        reserved: Vec::new(),
        ware,
    };
    for (index, one) in file.reserved.iter().enumerate() {
        let at = path.key("reserved").index(index);
        let amount = needed_amount(one.content(), &lot.ware, (&at, false), on);
        lot.reserved.push((one.piece.0.clone(), amount));
    }
    let reserved: f64 = lot.reserved.iter().map(|(_, amount)| amount).sum();
    if reserved > lot.relied_on() + 1e-9 {
        let unit = lot.ware.unit().unwrap_or("units");
        let message =
            format!("{reserved} {unit} are reserved of {} that can be relied on", lot.relied_on());
        on.bench.error_hint(
            &path.key("reserved"),
            message,
            "reserve less, or count again what there is",
        );
    }
    lot
}

/// How much there is, and by how much that may be wrong.
fn how_much(
    file: &LotFile,
    ware: &Ware,
    path: &FieldPath,
    readability_g: f64,
    on: &mut Desk<'_, '_>,
) -> (f64, f64) {
    let weighed = [("hundred", file.hundred), ("bag", file.bag), ("empty", file.empty)];
    let Some((first, _)) = weighed.iter().find(|(_, mass)| mass.is_some()) else {
        return (needed_amount(file.content(), ware, (path, false), on), 0.0);
    };
    if !matches!(ware, Ware::Stones { .. }) {
        let message = format!("only stones are counted by weight, not {}", shorten(&ware.words()));
        on.bench.error_hint(&path.key(first), message, "write how much there is");
        return (0.0, 0.0);
    }
    if amount(file.content(), ware, (path, false), on).is_some() {
        on.bench.error_hint(
            &path.key("count"),
            "this lot is counted and weighed",
            "keep either `count`, or `hundred` and `bag`",
        );
        return (0.0, 0.0);
    }
    let (Some(hundred), Some(bag)) = (file.hundred, file.bag) else {
        let missing = if file.hundred.is_none() { "hundred" } else { "bag" };
        on.bench.error_hint(
            path,
            format!("to count stones by weight, `{missing}` is needed too"),
            "weigh a hundred of your own once, then the bag, such as hundred = \"1.95 g\" and bag = \"43.1 g\"",
        );
        return (0.0, 0.0);
    };
    let grams = |g: f64| format!("{g} g");
    let hundred_g = on.within(&path.key("hundred"), hundred.0, (0.01, 100_000.0), grams);
    // Less than ten steps of the scale is no weight to count by (a choice, no source).
    if hundred_g < 10.0 * readability_g {
        on.bench.error_hint(
            &path.key("hundred"),
            format!("a scale that shows {readability_g} g cannot tell {hundred_g} g well enough"),
            "weigh on a finer scale and tell its `scale` at the top, weigh more of them and divide, or count",
        );
        return (0.0, 0.0);
    }
    let empty_g = file.empty.map_or(0.0, |empty| empty.0);
    let net_g = bag.0 - empty_g;
    if net_g < 0.0 || bag.0 > 1e6 {
        let message = format!("the bag weighs {} g, and {empty_g} g when it is empty", bag.0);
        on.bench.error_hint(&path.key("bag"), message, "weigh both again");
        return (0.0, 0.0);
    }
    if net_g == 0.0 {
        return (0.0, 0.0);
    }
    counted_by_weight(hundred_g, net_g, readability_g)
}

/// The earlier of the day it expires and the end of what it keeps once it is open.
fn expires(file: &LotFile, path: &FieldPath, bench: &mut Bench<'_>) -> Option<Date> {
    let opened = match (&file.opened, file.keeps) {
        (Some(opened), Some(keeps)) => {
            let days = (keeps.0 / DAY_MIN).floor();
            if days > 36_500.0 {
                bench.error(&path.key("keeps"), "nothing keeps longer than a hundred years");
            }
            opened.0.checked_add((days.clamp(0.0, 36_500.0) as i64).days()).ok()
        }
        (None, Some(_)) => {
            bench.error_hint(
                path,
                "how long it keeps counts from the day on which it was opened",
                "add `opened`, or leave `keeps` out",
            );
            None
        }
        (_, None) => None,
    };
    let printed = file.expires.as_ref().map(|day| day.0);
    printed.into_iter().chain(opened).min()
}
