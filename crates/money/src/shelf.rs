//! What can be taken from stock, lot by lot.

use jiff::civil::Date;
use piece::Ware;
use piece::stock::{Lot, Stock};

/// Amounts are told apart down to this; smaller differences are rounding.
pub(crate) const HAIR: f64 = 1e-6;

/// What is taken from a lot for a piece.
#[derive(Debug, Clone, PartialEq)]
pub struct Taken {
    /// Index of the lot.
    pub lot: usize,
    /// Index of the piece among those asked.
    pub piece: usize,
    /// How much.
    pub amount: f64,
}

/// Why a lot is not touched.
#[derive(Debug, Clone, PartialEq)]
pub enum Unused {
    /// It expires before it is needed.
    Expired(Date),
    /// It is kept for other pieces: how much.
    Reserved(f64),
    /// One piece takes all of a colour from one lot, and no piece is served by this one: how much is in it.
    TooLittle(f64),
}

/// Lots with what is still in them.
pub(crate) struct Shelf<'a> {
    stock: &'a Stock,
    /// Free for anyone, by lot.
    free: Vec<f64>,
    /// Kept for the pieces that are asked, by lot and piece.
    kept: Vec<Vec<f64>>,
}

impl<'a> Shelf<'a> {
    /// Everything that is on hand; `pieces` are the names of those that are asked.
    pub fn new(stock: &'a Stock, pieces: &[&str]) -> Self {
        let kept_for = |lot: &Lot, name: &str| -> f64 {
            lot.reserved.iter().filter(|(piece, _)| piece == name).map(|(_, amount)| amount).sum()
        };
        let reserved = |lot: &Lot| -> f64 { lot.reserved.iter().map(|(_, amount)| amount).sum() };
        Self {
            stock,
            free: stock.lots.iter().map(|lot| lot.relied_on() - reserved(lot)).collect(),
            kept: stock
                .lots
                .iter()
                .map(|lot| pieces.iter().map(|name| kept_for(lot, name)).collect())
                .collect(),
        }
    }

    /// Lots of these goods that may be used on a day.
    pub fn lots(&self, ware: &Ware, day: Option<Date>) -> Vec<usize> {
        let fit = |lot: &Lot| {
            lot.ware.is(ware)
                && !matches!((lot.expires, day), (Some(last), Some(day)) if last < day)
        };
        (0..self.stock.lots.len()).filter(|lot| fit(&self.stock.lots[*lot])).collect()
    }

    /// What a piece may take from a lot.
    pub fn for_piece(&self, lot: usize, piece: usize) -> f64 {
        self.free[lot] + self.kept[lot][piece]
    }

    /// What is left in a lot that no other piece has.
    pub fn free(&self, lot: usize) -> f64 {
        self.free[lot]
    }

    /// Takes an amount for a piece, first of what is kept for it.
    pub fn take(&mut self, lot: usize, piece: usize, amount: f64) -> Taken {
        let of_kept = amount.min(self.kept[lot][piece]);
        self.kept[lot][piece] -= of_kept;
        self.free[lot] -= amount - of_kept;
        Taken { lot, piece, amount }
    }
}
