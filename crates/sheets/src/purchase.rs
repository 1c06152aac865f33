//! What to buy: one order for each seller, everything in one table, and what to take from stock.

use crate::SheetError;
use crate::folder::failed;
use crate::numbers::fixed;
use crate::tables::Table;
use ::money::{Lacks, Purchase};
use piece::settings::Currency;
use piece::{Money, Sellers, Stock};
use std::fs;
use std::path::Path;

/// What is written down.
#[derive(Debug, Clone, Copy)]
pub struct PurchaseSheet<'a> {
    /// Names of the pieces.
    pub pieces: &'a [String],
    /// What they need, have and lack.
    pub lacks: &'a Lacks,
    /// What to buy.
    pub bought: &'a Purchase,
    /// Who sells.
    pub sellers: &'a Sellers,
    /// What is on hand.
    pub stock: &'a Stock,
    /// Currency of all amounts of money.
    pub currency: &'a Currency,
}

/// Columns of `buying.csv`.
const BUYING: [&str; 11] = [
    "item",
    "unit",
    "need",
    "from_stock",
    "lacks",
    "refill",
    "bought",
    "left_over",
    "left_over_worth",
    "currency",
    "cannot_be_bought",
];

/// Columns of `order-SELLER.csv`.
const ORDER: [&str; 6] = ["packs", "holds", "article", "pack_price", "cost", "currency"];

/// Columns of `from-stock.csv`.
const FROM_STOCK: [&str; 7] = ["lot", "label", "item", "unit", "amount", "piece", "expires"];

/// Writes `buying.csv`, `from-stock.csv` and an `order-SELLER.csv` for each seller that gets an order into
/// a folder, and returns their names.
///
/// # Errors
/// A file cannot be written.
pub fn write_purchase(sheet: &PurchaseSheet<'_>, folder: &Path) -> Result<Vec<String>, SheetError> {
    let mut files = vec![
        ("buying.csv".to_owned(), buying(sheet)),
        ("from-stock.csv".to_owned(), from_stock(sheet)),
    ];
    for parcel in &sheet.bought.parcels {
        let name = format!("order-{}.csv", sheet.sellers.sellers[parcel.seller].name);
        files.push((name, order(sheet, parcel.seller, parcel.postage)));
    }
    for (name, bytes) in &files {
        fs::write(folder.join(name), bytes).map_err(|error| failed(name, error))?;
    }
    Ok(files.into_iter().map(|(name, _)| name).collect())
}

fn buying(sheet: &PurchaseSheet<'_>) -> Vec<u8> {
    let mut table = Table::new(&BUYING);
    for (index, line) in sheet.lacks.lines.iter().enumerate() {
        let left = sheet.bought.left.iter().find(|left| left.line == index);
        let held = sheet.bought.bought.iter().flat_map(|one| {
            let holds = sheet.sellers.offers[one.offer].holds.iter();
            holds
                .filter(|(ware, _)| ware.is(&line.ware))
                .map(|(_, amount)| amount * one.packs as f64)
        });
        let why = sheet.bought.unbuyable.iter().find(|one| one.line == index);
        table.row(&[
            &line.item,
            &line.unit,
            &fixed(line.need(), 2),
            &fixed(line.from_stock(), 2),
            &fixed(line.lacks(), 2),
            &fixed(line.refill, 2),
            &fixed(held.sum(), 2),
            &fixed(left.map_or(0.0, |left| left.amount), 2),
            &sheet.currency.number(left.map_or(Money::ZERO, |left| left.worth)),
            &sheet.currency.code,
            &why.map_or_else(String::new, |one| one.why.clone()),
        ]);
    }
    table.finish()
}

/// One row for each kind of pack, and one for the postage.
fn order(sheet: &PurchaseSheet<'_>, seller: usize, postage: Money) -> Vec<u8> {
    let mut table = Table::new(&ORDER);
    let own = |offer: usize| sheet.sellers.offers[offer].seller == seller;
    for one in sheet.bought.bought.iter().filter(|one| own(one.offer)) {
        let offer = &sheet.sellers.offers[one.offer];
        let holds = offer.holds.iter().map(|(ware, amount)| {
            let line = sheet.lacks.lines.iter().find(|line| line.ware.is(ware));
            let unit =
                line.map_or_else(|| ware.unit().unwrap_or("each"), |line| line.unit.as_str());
            format!("{} {unit}: {}", (amount * 100.0).round() / 100.0, ware.words())
        });
        table.row(&[
            one.packs.to_string(),
            holds.collect::<Vec<_>>().join("; "),
            offer.article.clone().unwrap_or_default(),
            offer.price.map(|price| sheet.currency.number(price)).unwrap_or_default(),
            sheet.currency.number(one.cost),
            sheet.currency.code.clone(),
        ]);
    }
    table.row(&["", "postage", "", "", &sheet.currency.number(postage), &sheet.currency.code]);
    table.finish()
}

fn from_stock(sheet: &PurchaseSheet<'_>) -> Vec<u8> {
    let mut table = Table::new(&FROM_STOCK);
    for line in &sheet.lacks.lines {
        for taken in &line.taken {
            let lot = &sheet.stock.lots[taken.lot];
            table.row(&[
                (taken.lot + 1).to_string(),
                lot.label.clone().unwrap_or_default(),
                line.item.clone(),
                line.unit.clone(),
                fixed(taken.amount, 2),
                sheet.pieces[taken.piece].clone(),
                lot.expires.map(|day| day.to_string()).unwrap_or_default(),
            ]);
        }
    }
    table.finish()
}
