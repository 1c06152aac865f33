//! `price.csv`: every line of a price with what it is made from, so that a spreadsheet can make it again.

use super::Table;
use ::money::{Level, Price, RuleKind};
use piece::money::BILLION;
use piece::settings::Currency;
use piece::{Money, Settings};

/// Columns of `price.csv`, for one piece.
pub(crate) const PRICE_COLUMNS: [&str; 9] =
    ["line", "amount", "currency", "demo", "sum", "base", "times", "by", "rounded"];

/// How an amount comes about.
enum Made {
    /// Given, or searched for.
    Given,
    /// Sum of other lines, by their names with signs.
    Sum(String),
    /// An amount times one number by another, rounded to the nearest minor unit, half up.
    Nearest(Money, String, String),
    /// The same rounded up.
    Up(Money, String, String),
}

struct Rows<'a> {
    table: Table,
    currency: &'a Currency,
    demo: &'static str,
}

impl Rows<'_> {
    fn row(&mut self, line: &str, amount: Money, made: Made) {
        let number = |amount: Money| self.currency.number(amount);
        let (sum, base, times, by, rounded) = match made {
            Made::Given => Default::default(),
            Made::Sum(sum) => (sum, String::new(), String::new(), String::new(), ""),
            Made::Nearest(base, times, by) => (String::new(), number(base), times, by, "nearest"),
            Made::Up(base, times, by) => (String::new(), number(base), times, by, "up"),
        };
        let amount = number(amount);
        let cells: [&str; 9] =
            [line, &amount, &self.currency.code, self.demo, &sum, &base, &times, &by, rounded];
        self.table.row(&cells);
    }
}

/// One row for each line of the price; `used` is what the materials of all pieces come to. `demo` is
/// `yes` where prices are made-up examples.
pub(crate) fn price_csv(settings: &Settings, used: Money, price: &Price) -> Vec<u8> {
    let mut rows = Rows {
        table: Table::new(&PRICE_COLUMNS),
        currency: &settings.currency,
        demo: if settings.demo { "yes" } else { "no" },
    };
    let pieces = price.pieces.to_string();
    let pricing = &settings.pricing;
    let (minutes, hours) = (price.hands_on_min.to_string(), (60 * price.pieces).to_string());
    let hourly = |rate: Money| Made::Nearest(rate, minutes.clone(), hours.clone());
    rows.row("materials", price.materials, Made::Nearest(used, "1".to_owned(), pieces));
    rows.row("labour", price.labour, hourly(settings.maker.wage_per_h));
    rows.row("overhead", price.overhead, hourly(pricing.overhead_per_h));
    let failing = piece::money::billionths(pricing.failure);
    let well = BILLION - failing;
    let odds = || (per_hundred(failing), per_hundred(well));
    let made = price.materials + price.labour + price.overhead;
    let spoilt = |base: Money| Made::Nearest(base, odds().0, odds().1);
    rows.row("failure", price.failure, spoilt(made));
    let goods = price.materials + price.overhead;
    rows.row("failed_goods", price.failed_goods, spoilt(goods));
    let sum = |text: &str| Made::Sum(text.to_owned());
    rows.row("cost", price.cost, sum("materials+labour+overhead+failure"));
    let share = per_hundred(piece::money::billionths(pricing.profit));
    rows.row("profit", price.profit, Made::Nearest(price.cost, share, "100".to_owned()));
    level(&mut rows, price, "", "asked", &price.at_asked, well);
    if !price.typed {
        rows.row("rounding", price.rounding(), sum("margin-profit"));
    }
    level(&mut rows, price, "floor_", "floor", &price.floor, well);
    level(&mut rows, price, "fair_", "fair", &price.fair, well);
    for rule in &price.rules {
        let (name, base) = match rule.kind {
            RuleKind::Average => {
                let base = price.materials + price.labour + price.materials.share(3, 1);
                ("rule_average", base)
            }
            RuleKind::HalfOfFourfold => ("rule_half", price.materials.share(4, 1) + price.labour),
        };
        let asks = Made::Nearest(base, "1".to_owned(), "2".to_owned());
        rows.row(name, rule.level.price, asks);
        level(&mut rows, price, &format!("{name}_"), "", &rule.level, well);
    }
    rows.table.finish()
}

/// The lines of one price: `prefix` before each, the price itself under `name` if it has none yet.
fn level(rows: &mut Rows, price: &Price, prefix: &str, name: &str, level: &Level, well: u64) {
    let line = |what: &str| format!("{prefix}{what}");
    let itself = if name.is_empty() { prefix.trim_end_matches('_') } else { name };
    let selling = &price.selling;
    let hundred = || "100".to_owned();
    if !name.is_empty() {
        rows.row(name, level.price, Made::Given);
    }
    let share = per_hundred(selling.commission);
    rows.row(&line("commission"), level.commission, Made::Nearest(level.price, share, hundred()));
    let mut kept = format!("{itself}-{}", line("fees"));
    if let Some(tax) = selling.tax {
        let rate = per_hundred(tax.rate);
        let by = if tax.included { per_hundred(BILLION + tax.rate) } else { hundred() };
        rows.row(&line("tax"), level.tax, Made::Nearest(level.price, rate, by));
        let paid = if tax.included {
            kept += &format!("-{}", line("tax"));
            itself.to_owned()
        } else {
            format!("{itself}+{}", line("tax"))
        };
        rows.row(&line("paid"), level.paid, Made::Sum(paid));
    }
    let card = Made::Nearest(level.paid, per_hundred(selling.card), hundred());
    rows.row(&line("card"), level.card, card);
    let fixed = Made::Up(selling.order, "1".to_owned(), price.pieces.to_string());
    rows.row(&line("order_fees"), level.fixed, fixed);
    rows.row(&line("listing"), level.listing, Made::Given);
    let fees = ["commission", "card", "order_fees", "listing"].map(line).join("+");
    rows.row(&line("fees"), level.fees(), Made::Sum(fees));
    rows.row(&line("kept"), level.kept, Made::Sum(kept));
    let for_hours = format!("{}-materials-overhead-failed_goods", line("kept"));
    rows.row(&line("for_hours"), level.for_hours, Made::Sum(for_hours));
    rows.row(&line("margin"), level.margin, Made::Sum(format!("{}-cost", line("kept"))));
    if price.hands_on_min > 0 {
        // Hours of the piece and of those spoilt on the way.
        let well = decimal(60 * u64::from(price.pieces) * well, BILLION);
        let made = Made::Nearest(level.for_hours, well, price.hands_on_min.to_string());
        let name = if name == "asked" { "earned_per_h".to_owned() } else { line("per_h") };
        rows.row(&name, level.per_h, made);
    }
}

/// Billionths as a number of a hundred, with every digit.
pub(crate) fn per_hundred(billionths: u64) -> String {
    decimal(billionths, BILLION / 100)
}

/// So many of a unit that is a power of ten, with every digit.
fn decimal(count: u64, unit: u64) -> String {
    let text =
        format!("{}.{:0digits$}", count / unit, count % unit, digits = unit.ilog10() as usize);
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// Columns of `batch.csv`.
pub(crate) const BATCH_COLUMNS: [&str; 14] = [
    "pieces",
    "hands_on_min",
    "materials",
    "labour",
    "overhead",
    "failure",
    "cost",
    "fees",
    "asked",
    "asked_for_all",
    "earned_per_h",
    "saving",
    "saving_percent",
    "currency",
];

/// One row for each number of pieces made together; money for one piece, but for `asked_for_all`.
/// The first is what the others are held against.
pub(crate) fn batch_csv(settings: &Settings, batch: &[Price]) -> Vec<u8> {
    let mut table = Table::new(&BATCH_COLUMNS);
    let number = |amount: Money| settings.currency.number(amount);
    let Some(alone) = batch.first() else { return table.finish() };
    for price in batch {
        let saving = price.saving_against(alone);
        table.row(&[
            price.pieces.to_string(),
            price.hands_on_min.to_string(),
            number(price.materials),
            number(price.labour),
            number(price.overhead),
            number(price.failure),
            number(price.cost),
            number(price.fees),
            number(price.asked),
            number(price.asked_for_all()),
            number(price.earned_per_h),
            number(saving.asked),
            saving.percent(),
            settings.currency.code.clone(),
        ]);
    }
    table.finish()
}
