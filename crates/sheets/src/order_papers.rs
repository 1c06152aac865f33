//! What goes out with an order: invoice, packing slip and care cards.

use crate::customer_words::{decoration, from_whom, parcel, stones, texts};
use crate::folder::Desk;
use crate::tables::Table;
use crate::{Plan, SheetError, typeset, words, workbook};
use jiff::civil::Date;
use piece::Money;
use piece::order::Agreed;
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::path::Path;

/// Columns of `invoice.csv`; amounts in `currency`.
const COLUMNS: [&str; 17] = [
    "invoice",
    "date",
    "pay_by",
    "order",
    "quote",
    "option",
    "customer",
    "title",
    "quantity",
    "price_each",
    "price",
    "deposit",
    "paid",
    "rest",
    "currency",
    "stones",
    "demo",
];

/// An order that is done, or nearly.
#[derive(Debug)]
pub struct Papers<'a> {
    /// What was agreed.
    pub order: &'a Agreed,
    /// The piece as it was agreed.
    pub plan: &'a Plan,
    /// Day of the papers.
    pub date: Date,
    /// Number of the invoice and the day by which it is to be paid; `None` writes no invoice.
    pub invoice: Option<(&'a str, Date)>,
}

/// Writes the papers into a folder that exists, and returns their names.
///
/// # Errors
/// The first file that could not be written, or [`SheetError::Stopped`].
pub fn write_papers(
    papers: &Papers<'_>,
    folder: &Path,
    progress: &mut dyn FnMut(&str, usize, usize) -> bool,
) -> Result<Vec<String>, SheetError> {
    let mut desk = Desk::new(folder, 2 + 2 * usize::from(papers.invoice.is_some()), progress);
    if let Some((number, pay_by)) = papers.invoice {
        desk.file("invoice.csv", || Ok(table(papers, number, pay_by)))?;
        desk.file("invoice.pdf", || invoice(papers, number, pay_by))?;
    }
    desk.file("packing-slip.pdf", || slip(papers))?;
    desk.file("care-cards.pdf", || cards(papers))?;
    Ok(desk.done)
}

fn table(papers: &Papers<'_>, number: &str, pay_by: Date) -> Vec<u8> {
    let Papers { order, plan, date, .. } = papers;
    let amount = |amount: Money| order.currency.number(amount);
    let mut table = Table::new(&COLUMNS);
    table.row(&[
        number,
        &date.to_string(),
        &pay_by.to_string(),
        &order.number,
        &order.quote,
        &order.option,
        &order.customer,
        &plan.piece.title,
        &order.quantity.to_string(),
        &amount(order.price_each),
        &amount(order.price()),
        &amount(order.deposit),
        &amount(order.paid_in_all()),
        &amount(order.rest()),
        &order.currency.code,
        &order.stones.to_string(),
        if plan.settings.demo { "yes" } else { "no" },
    ]);
    table.finish()
}

/// What every paper says of the order.
fn head(papers: &Papers<'_>) -> Value {
    let Papers { order, plan, date, .. } = papers;
    json!({
        "from": from_whom(plan),
        "order": order.number,
        "date": words::day(*date),
        "accepted": words::day(order.accepted),
        "customer": order.customer,
        "address": order.address,
        "title": plan.piece.title,
        "option": words::capital(&order.option),
        "quantity": order.quantity,
        "stones": stones(plan),
        "texts": texts(plan),
    })
}

fn set(name: &str, design: &str, data: &Value) -> Result<Vec<u8>, SheetError> {
    let files = BTreeMap::from([("data.json".to_owned(), data.to_string().into_bytes())]);
    typeset::pdf(name, design, files)
}

fn invoice(papers: &Papers<'_>, number: &str, pay_by: Date) -> Result<Vec<u8>, SheetError> {
    let order = papers.order;
    let show = |amount: Money| order.currency.show(amount);
    let paid: Vec<Value> = order
        .paid
        .iter()
        .map(|(day, amount)| json!({ "day": words::day(*day), "amount": show(*amount) }))
        .collect();
    let rest = order.rest();
    let mut data = head(papers);
    data["invoice"] = number.into();
    data["pay_by"] = words::day(pay_by).into();
    data["each"] = show(order.price_each).into();
    data["price"] = show(order.price()).into();
    data["paid"] = paid.into();
    data["rest"] = show(Money(rest.0.abs())).into();
    data["state"] = match rest.0 {
        0 => "paid",
        rest if rest < 0 => "over",
        _ => "due",
    }
    .into();
    data["code"] = order.currency.code.as_str().into();
    set("invoice.pdf", "invoice.typ", &data)
}

fn slip(papers: &Papers<'_>) -> Result<Vec<u8>, SheetError> {
    let mut data = head(papers);
    data["parcel"] = parcel(papers.plan).into();
    data["decoration"] = decoration(papers.plan).into();
    data["promised"] = papers.order.promised.map(words::day).into();
    set("packing-slip.pdf", "packing-slip.typ", &data)
}

fn cards(papers: &Papers<'_>) -> Result<Vec<u8>, SheetError> {
    let mut card = workbook::care_card_for_sale(papers.plan);
    card["paper"] = workbook::paper_name(&papers.plan.settings).into();
    card["order"] = papers.order.number.as_str().into();
    card["quantity"] = papers.order.quantity.into();
    set("care-cards.pdf", "care-cards.typ", &card)
}
