//! The price, for the maker's eyes.
//!
//! Whatever is multiplied or shared stands on the line in full, so that anyone with a pocket
//! calculator comes to the amount behind it.

use crate::Plan;
use crate::words;
use piece::Money;
use serde_json::{Value, json};

/// Data of the price page: the lines for one piece, the goods for the whole quantity.
pub(super) fn data(plan: &Plan) -> Value {
    let (price, settings) = (&plan.price, &plan.settings);
    let show = |amount: Money| settings.currency.show(amount);
    let pricing = &settings.pricing;
    let hours = hours(price.hands_on_min);
    let shared = match price.pieces {
        1 => String::new(),
        pieces => format!(", shared by {pieces}"),
    };
    let hourly = |rate: Money| format!("{hours} at {} an hour{shared}", show(rate));
    let line = |name: &str, how: String, amount: Money, sum: bool| json!({ "name": name, "how": how, "amount": show(amount), "sum": sum });
    let lines = vec![
        line(
            "Materials",
            match price.pieces {
                1 => "used up, spare included".to_owned(),
                _ => {
                    format!("{} used up, spare included{shared}", show(plan.bill.cost_used()))
                }
            },
            price.materials,
            false,
        ),
        line("Wage", hourly(settings.maker.wage_per_h), price.labour, false),
        line("Overhead", hourly(pricing.overhead_per_h), price.overhead, false),
        line(
            "Pieces that fail",
            format!(
                "{} fail: {} / {} of the three above",
                percent(pricing.failure),
                per_hundred(pricing.failure),
                per_hundred(1.0 - pricing.failure)
            ),
            price.failure,
            false,
        ),
        line("Cost", "below this your wage is not paid in full".to_owned(), price.cost, true),
        line("Profit", format!("{} of cost", percent(pricing.profit)), price.profit, false),
        line(
            "Fees",
            match price.pieces {
                1 => format!(
                    "{} of what you ask, and {}",
                    percent(pricing.fee_share),
                    show(pricing.fee_fixed)
                ),
                _ => format!(
                    "{} of what you ask, and {} as its share of {} an order",
                    percent(pricing.fee_share),
                    show(price.fee_fixed),
                    show(pricing.fee_fixed)
                ),
            },
            price.fees,
            false,
        ),
        line("Rounding", rounding(plan), price.rounding(), false),
        line("Ask", "cost, profit, fees and rounding".to_owned(), price.asked, true),
    ];
    let goods: Vec<_> = plan
        .bill
        .lines
        .iter()
        .map(|line| {
            json!({
                "item": line.item,
                "used": show(line.cost_used),
                "packs": line.packs,
                "pack_price": show(line.pack_price),
                "bought": show(line.cost_bought),
            })
        })
        .collect();
    json!({
        "lines": lines,
        "margin": show(price.margin),
        "earned_per_h": show(price.earned_per_h),
        "asked": show(price.asked),
        "quantity": price.pieces,
        "asked_for_all": show(price.asked_for_all()),
        "goods": goods,
        "used": show(plan.bill.cost_used()),
        "bought": show(plan.bill.cost_bought()),
        "currency": settings.currency.code,
    })
}

/// What the asked price is rounded up to.
fn rounding(plan: &Plan) -> String {
    let (pricing, show) = (&plan.settings.pricing, |amount| plan.settings.currency.show(amount));
    let step = format!("up to a multiple of {}", show(pricing.round_to));
    let endings: Vec<String> = pricing.endings.iter().map(|ending| show(*ending)).collect();
    match &pricing.endings[..] {
        [Money::ZERO] => step,
        _ => format!("{step} and {} more", endings.join(" or ")),
    }
}

/// `12 h 33 min` to the minute, since money is multiplied by it.
pub(crate) fn hours(minutes: u64) -> String {
    match (minutes / 60, minutes % 60) {
        (0, left) => format!("{left}\u{a0}min"),
        (hours, 0) => format!("{hours}\u{a0}h"),
        (hours, left) => format!("{hours}\u{a0}h {left}\u{a0}min"),
    }
}

/// A share of a hundred with every digit that a maker would type.
fn per_hundred(share: f64) -> String {
    words::trimmed(share * 100.0, 6)
}

fn percent(share: f64) -> String {
    format!("{}\u{a0}%", per_hundred(share))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::workbook::trial;

    /// Every number in a text, in order.
    fn numbers(text: &str) -> Vec<f64> {
        text.split(|letter: char| !letter.is_ascii_digit() && letter != '.')
            .filter_map(|word| word.parse().ok())
            .collect()
    }

    /// Hours from the words that a line opens with, and the other numbers of the line.
    fn hours_and_rest(how: &str) -> (f64, Vec<f64>) {
        let (spent, rest) = how.split_once(" at ").expect("hours at a rate");
        let (mut hours, mut last) = (0.0, 0.0);
        for word in spent.split(|letter: char| letter.is_whitespace()) {
            match word {
                "h" => hours += last,
                "min" => hours += last / 60.0,
                number => last = number.parse().expect("a number before its unit"),
            }
        }
        (hours, numbers(rest))
    }

    fn check(data: &Value, quantity: u32) {
        let line = |name: &str| {
            let found =
                data["lines"].as_array().expect("lines").iter().find(|line| line["name"] == name);
            let found = found.unwrap_or_else(|| panic!("no line {name}"));
            let amount = numbers(found["amount"].as_str().expect("an amount"))[0];
            (amount, found["how"].as_str().expect("words").to_owned())
        };
        // An amount is a whole number of cents, rounded once.
        let near = |found: f64, expected: f64, what: &str| {
            assert!((found - expected).abs() <= 0.005 + 1e-6, "{what}: {found}, not {expected}");
        };
        let same = |found: f64, expected: f64, what: &str| {
            assert!((found - expected).abs() < 1e-6, "{what}: {found}, not {expected}");
        };
        let pieces = f64::from(quantity);
        let (materials, how) = line("Materials");
        match numbers(&how)[..] {
            [] => same(materials, numbers(data["used"].as_str().expect("used"))[0], "materials"),
            [used, by] => {
                same(by, pieces, "pieces");
                near(materials, used / by, "materials");
            }
            _ => panic!("{how}"),
        }
        let mut made = materials;
        for name in ["Wage", "Overhead"] {
            let (amount, how) = line(name);
            let (hours, rest) = hours_and_rest(&how);
            near(amount, hours * rest[0] / rest.get(1).unwrap_or(&1.0), &how);
            assert_eq!(rest.len(), 1 + usize::from(quantity > 1), "{how}");
            made += amount;
        }
        let (failing, how) = line("Pieces that fail");
        let of = numbers(&how);
        same(of[0], of[1], &how);
        near(failing, made * of[1] / of[2], &how);
        let (cost, _) = line("Cost");
        same(cost, made + failing, "cost");
        let (profit, how) = line("Profit");
        near(profit, cost * numbers(&how)[0] / 100.0, &how);
        let (asked, _) = line("Ask");
        let (fees, how) = line("Fees");
        let of = numbers(&how);
        near(fees, asked * of[0] / 100.0 + of[1], &how);
        if quantity > 1 {
            // Shared by all, rounded up so that together they pay the whole fee.
            assert!(of[1] * pieces >= of[2] - 1e-6 && (of[1] - 0.01) * pieces < of[2], "{how}");
        }
        let (rounding, how) = line("Rounding");
        same(asked, cost + profit + fees + rounding, "the column");
        let multiples = asked / numbers(&how)[0];
        same(multiples, multiples.round(), &how);
        same(
            numbers(data["asked_for_all"].as_str().expect("for all"))[0],
            asked * pieces,
            "for all",
        );
        let goods = data["goods"].as_array().expect("goods");
        let (mut used, mut bought) = (0.0, 0.0);
        for one in goods {
            let amount = |key: &str| numbers(one[key].as_str().expect("an amount"))[0];
            let packs = one["packs"].as_u64().expect("packs") as f64;
            same(amount("bought"), packs * amount("pack_price"), "packs");
            used += amount("used");
            bought += amount("bought");
        }
        same(numbers(data["used"].as_str().expect("used"))[0], used, "used");
        same(numbers(data["bought"].as_str().expect("bought"))[0], bought, "bought");
    }

    #[test]
    fn every_line_multiplies_out_as_printed_for_any_quantity() {
        for quantity in [1, 2, 7] {
            let mut plan = trial::plan(quantity);
            check(&data(&plan), quantity);
            // Shares with decimals, and an odd wage.
            plan.settings.pricing.failure = 0.0725;
            plan.settings.pricing.profit = 0.333_333;
            plan.settings.pricing.fee_share = 0.0875;
            plan.settings.maker.wage_per_h = Money(1837);
            trial::price_again(&mut plan);
            check(&data(&plan), quantity);
        }
    }

    #[test]
    fn hours_are_told_to_the_minute() {
        assert_eq!(hours(45), "45\u{a0}min");
        assert_eq!(hours(120), "2\u{a0}h");
        assert_eq!(hours(1278), "21\u{a0}h 18\u{a0}min");
    }
}
