//! The quote: options side by side for the customer, and as a table for the maker's books.

use crate::customer_words::{from_whom, included, stones};
use crate::folder::Desk;
use crate::numbers::fixed;
use crate::pictures::portrait;
use crate::tables::Table;
use crate::{Plan, SheetError, typeset, words};
use jiff::civil::Date;
use money::Terms;
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::path::Path;

/// Columns of `quote.csv`, one row for each option; amounts in `currency`.
const COLUMNS: [&str; 19] = [
    "number",
    "date",
    "valid_until",
    "customer",
    "title",
    "letter",
    "option",
    "stones",
    "hours",
    "begins",
    "promised",
    "due",
    "quantity",
    "price_each",
    "price",
    "deposit",
    "rest",
    "currency",
    "demo",
];

/// What is offered to a customer. All options are of one design, and there is at least one.
#[derive(Debug)]
pub struct Quote {
    /// Its number.
    pub number: String,
    /// Day of the quote.
    pub date: Date,
    /// Last day on which it can be accepted.
    pub valid_until: Date,
    /// Day from which the promised days are counted.
    pub begins: Date,
    /// Whom it is for; may be empty.
    pub customer: String,
    /// Lines of the customer's address.
    pub address: Vec<String>,
    /// The options, in the order that they are shown in.
    pub offers: Vec<Offer>,
}

/// One option.
#[derive(Debug)]
pub struct Offer {
    /// What it is called.
    pub name: String,
    /// The piece so.
    pub plan: Plan,
    /// Its price.
    pub terms: Terms,
    /// Day by which it is with the customer.
    pub promised: Option<Date>,
    /// Its picture, JPEG.
    pub picture: Vec<u8>,
}

/// The letter that the option at this place goes by.
pub fn letter(place: usize) -> char {
    char::from(b'A' + u8::try_from(place % 26).unwrap_or(0))
}

/// A small picture of a finished piece, JPEG.
///
/// # Errors
/// It could not be packed.
pub fn offer_picture(plan: &Plan) -> Result<Vec<u8>, SheetError> {
    portrait(plan)
}

/// Writes every file of a quote into a folder that exists, and returns their names.
///
/// # Errors
/// The first file that could not be written, or [`SheetError::Stopped`].
pub fn write_quote(
    quote: &Quote,
    folder: &Path,
    progress: &mut dyn FnMut(&str, usize, usize) -> bool,
) -> Result<Vec<String>, SheetError> {
    let mut desk = Desk::new(folder, 2 + quote.offers.len(), progress);
    desk.file("quote.csv", || Ok(table(quote)))?;
    for (place, offer) in quote.offers.iter().enumerate() {
        desk.file(&picture_name(place), || Ok(offer.picture.clone()))?;
    }
    desk.file("quote.pdf", || pdf(quote))?;
    Ok(desk.done)
}

fn picture_name(place: usize) -> String {
    format!("option-{}.jpg", letter(place).to_ascii_lowercase())
}

fn table(quote: &Quote) -> Vec<u8> {
    let mut table = Table::new(&COLUMNS);
    for (place, offer) in quote.offers.iter().enumerate() {
        let plan = &offer.plan;
        let currency = &plan.settings.currency;
        let day = |day: Option<Date>| day.map(|day| day.to_string()).unwrap_or_default();
        table.row(&[
            quote.number.as_str(),
            &quote.date.to_string(),
            &quote.valid_until.to_string(),
            &quote.customer,
            &plan.piece.title,
            &letter(place).to_string(),
            &offer.name,
            &plan.stones.stones.len().to_string(),
            &fixed(plan.steps.hands_on_min() / 60.0, 2),
            &quote.begins.to_string(),
            &day(offer.promised),
            &day(plan.piece.due),
            &plan.piece.quantity.to_string(),
            &currency.number(offer.terms.each),
            &currency.number(offer.terms.all),
            &currency.number(offer.terms.deposit),
            &currency.number(offer.terms.rest),
            &currency.code,
            if plan.settings.demo { "yes" } else { "no" },
        ]);
    }
    table.finish()
}

fn pdf(quote: &Quote) -> Result<Vec<u8>, SheetError> {
    let refuse = |reason: &str| SheetError::Typeset {
        file: "quote.pdf".to_owned(),
        reason: reason.to_owned(),
    };
    let first = quote.offers.first().ok_or_else(|| refuse("there is nothing to offer"))?;
    let plan = &first.plan;
    let settings = &plan.settings;
    let offers: Vec<Value> =
        quote.offers.iter().enumerate().map(|(place, offer)| one(offer, place)).collect();
    let plans: Vec<&Plan> = quote.offers.iter().map(|offer| &offer.plan).collect();
    let deposit = (settings.quote.deposit > 0.0).then(|| words::percent(settings.quote.deposit));
    let data = json!({
        "from": from_whom(plan),
        "number": quote.number,
        "date": words::day(quote.date),
        "valid_until": words::day(quote.valid_until),
        "begins": words::day(quote.begins),
        "customer": quote.customer,
        "address": quote.address,
        "title": plan.piece.title,
        "notes": plan.piece.notes,
        "quantity": plan.piece.quantity,
        "due": plan.piece.due.map(words::day),
        "included": included(&plans),
        "offers": offers,
        "deposit": deposit,
        "terms": settings.quote.terms,
    });
    let mut files = BTreeMap::from([("data.json".to_owned(), data.to_string().into_bytes())]);
    for (place, offer) in quote.offers.iter().enumerate() {
        files.insert(picture_name(place), offer.picture.clone());
    }
    typeset::pdf("quote.pdf", "quote.typ", files)
}

fn one(offer: &Offer, place: usize) -> Value {
    let plan = &offer.plan;
    let show = |amount| plan.settings.currency.show(amount);
    let late = match (offer.promised, plan.piece.due) {
        (Some(promised), Some(due)) => promised > due,
        _ => false,
    };
    json!({
        "letter": letter(place).to_string(),
        "name": words::capital(&offer.name),
        "picture": picture_name(place),
        "stones": stones(plan),
        "promised": offer.promised.map(words::day),
        "late": late,
        "each": show(offer.terms.each),
        "all": show(offer.terms.all),
        "deposit": show(offer.terms.deposit),
        "rest": show(offer.terms.rest),
    })
}
