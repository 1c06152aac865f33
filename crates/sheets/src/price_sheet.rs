//! The price of one piece for the maker: one page, and its tables.

mod page;

use crate::folder::Desk;
use crate::{SheetError, tables};
use learned::Learned;
use money::{After, Price};
use piece::{Money, Piece, Settings};
use std::path::Path;

/// A price with what stands beside it.
#[derive(Debug, Clone)]
pub struct Priced {
    /// The piece.
    pub piece: Piece,
    /// The studio, with what was learned.
    pub settings: Settings,
    /// What the materials of all pieces come to.
    pub used: Money,
    /// Its price.
    pub price: Price,
    /// The same made in other numbers, the first of them what the others are held against.
    pub batch: Vec<Price>,
    /// The same sold through each channel of the settings.
    pub channels: Vec<Price>,
    /// What the records taught, if there are any, and the name of their file.
    pub learned: Option<(Learned, String)>,
}

/// Writes `price.csv`, `batch.csv`, `price.pdf` and, where there are records, `learned.csv` into a folder
/// that exists, and returns their names.
///
/// # Errors
/// The first file that could not be written.
pub fn write_price(priced: &Priced, folder: &Path) -> Result<Vec<String>, SheetError> {
    let Priced { settings, used, price, batch, learned, .. } = priced;
    let mut always = |_: &str, _: usize, _: usize| true;
    let mut desk = Desk::new(folder, 4, &mut always);
    desk.file("price.csv", || Ok(tables::price_csv(settings, *used, price)))?;
    desk.file("batch.csv", || Ok(tables::batch_csv(settings, batch)))?;
    if let Some((learned, _)) = learned {
        desk.file("learned.csv", || Ok(tables::learned_csv(learned)))?;
    }
    desk.file("price.pdf", || page::pdf(priced))?;
    Ok(desk.done)
}

/// Writes `after.csv` and `learned.csv` into a folder that exists, and returns their names.
///
/// # Errors
/// The first file that could not be written.
pub fn write_after(
    after: &After,
    settings: &Settings,
    learned: &Learned,
    folder: &Path,
) -> Result<Vec<String>, SheetError> {
    let mut always = |_: &str, _: usize, _: usize| true;
    let mut desk = Desk::new(folder, 2, &mut always);
    desk.file("after.csv", || Ok(tables::after_csv(&settings.currency, after)))?;
    desk.file("learned.csv", || Ok(tables::learned_csv(learned)))?;
    Ok(desk.done)
}
