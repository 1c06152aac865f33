//! Money: the bill of materials and the price.
//!
//! Takes everything the road has worked out and gives a [`Bill`] and a [`Price`].
//! Read first: `bill.rs`, then `price.rs`.

use coats::Coats;
use piece::{Money, Piece, Settings};
use stones::Stones;
use work::Steps;

/// What a line of the bill is about, in the order of the list.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Goods {
    /// Stones.
    Stones,
    /// Glue for them.
    Glue,
    /// Resin.
    Resin,
    /// Paint.
    Paint,
    /// Glitter.
    Glitter,
    /// Adhesive film and transfer tape.
    Film,
    /// Blanks and supplies.
    Supplies,
}

/// One line of the bill, for the whole quantity.
#[derive(Debug, Clone, PartialEq)]
pub struct BillLine {
    /// What it is about.
    pub goods: Goods,
    /// What to buy, such as `SS10 glass, deep tide`.
    pub item: String,
    /// Unit of the amounts: `stones`, `ml`, `g`, `sheets`, `each`.
    pub unit: String,
    /// What goes on the pieces or is used up, losses included.
    pub need: f64,
    /// Need and spare.
    pub with_spare: f64,
    /// Units in a pack.
    pub pack: f64,
    /// Packs to buy to have `with_spare`.
    pub packs: u32,
    /// Price of a pack.
    pub pack_price: Money,
    /// Cost of what is used, spare included, at the pack's unit price.
    pub cost_used: Money,
    /// Cost of the packs.
    pub cost_bought: Money,
}

/// The bill of materials.
#[derive(Debug, Clone, PartialEq)]
pub struct Bill {
    /// In order of [`Goods`], then item.
    pub lines: Vec<BillLine>,
}

/// The price of one piece and how it came about.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Price {
    /// Materials used.
    pub materials: Money,
    /// Wage for hands-on time.
    pub labour: Money,
    /// Overhead for hands-on time.
    pub overhead: Money,
    /// Share for pieces that fail.
    pub failure: Money,
    /// Floor: the four above; below it money is lost.
    pub cost: Money,
    /// Profit.
    pub profit: Money,
    /// Channel and card fees at the asked price.
    pub fees: Money,
    /// Asked, rounded up.
    pub asked: Money,
    /// What is left over cost and fees.
    pub margin: Money,
    /// What an hour of hands-on time really earns: wage and margin.
    pub earned_per_h: Money,
}

/// The bill for the whole quantity.
///
/// # Errors
/// A stone size and material that the settings give no price for.
pub fn plan_bill(
    piece: &Piece,
    settings: &Settings,
    coats: &Coats,
    stones: &Stones,
    steps: &Steps,
) -> Result<Bill, Vec<piece::Diagnostic>> {
    let _ = (piece, settings, coats, stones, steps);
    todo!()
}

/// The price of one piece.
pub fn plan_price(piece: &Piece, settings: &Settings, bill: &Bill, steps: &Steps) -> Price {
    let _ = (piece, settings, bill, steps);
    todo!()
}
