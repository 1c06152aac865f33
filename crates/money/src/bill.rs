//! The bill of materials for the whole quantity.

use crate::{goods, stock};
use coats::Coats;
use piece::{Diagnostic, FieldPath, Money, Piece, Settings, Shade, Ware};
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
    /// What tells it apart from other goods.
    pub ware: Ware,
    /// What to buy, such as `SS10 glass, deep tide`.
    pub item: String,
    /// Unit of the amounts: `stones`, `ml`, `g`, `sheets`, `each`.
    pub unit: String,
    /// What goes on the pieces or is used up, losses included.
    pub need: f64,
    /// What goes into the customers' repair kits beside that.
    pub repair_kit: f64,
    /// Need, spare and repair kits: the usual share more of what is used up by amount, exactly the need
    /// of what is counted out (blanks, boxes, gloves).
    pub with_spare: f64,
    /// What must be at hand: `with_spare`, or more where a shaker must hold more or sheets are opened.
    pub at_hand: f64,
    /// Units in a pack.
    pub pack: f64,
    /// Packs to buy to have `at_hand`; for glitter at least what the shaker must hold, most of which is
    /// caught and kept; for film the sheets of the cutting plan.
    pub packs: u32,
    /// Price of a pack.
    pub pack_price: Money,
    /// Cost of need and spare, at the pack's unit price.
    pub cost_used: Money,
    /// Cost of the packs.
    pub cost_bought: Money,
}

/// The bill of materials.
#[derive(Debug, Clone, PartialEq)]
pub struct Bill {
    /// In order of [`Goods`]; stones by material, size and colour, the rest by item.
    pub lines: Vec<BillLine>,
}

impl Bill {
    /// Cost of what is used, for the whole quantity.
    pub fn cost_used(&self) -> Money {
        self.lines.iter().map(|line| line.cost_used).sum()
    }

    /// Cost of the packs.
    pub fn cost_bought(&self) -> Money {
        self.lines.iter().map(|line| line.cost_bought).sum()
    }
}

/// Most packs of one thing.
const MOST_PACKS: u32 = 100_000_000;

/// Most that a bill or an order may come to, in minor units: far below what an amount can hold and
/// below 2^53, up to which each whole number has its own floating-point one.
pub(crate) const MOST: Money = Money(1_000_000_000_000_000);

/// The bill for the whole quantity.
///
/// # Errors
/// A stone size and material that the settings give no price for; packs so small or so dear that
/// the bill has no sense.
pub fn plan_bill(
    piece: &Piece,
    settings: &Settings,
    coats: &Coats,
    stones: &Stones,
    steps: &Steps,
) -> Result<Bill, Vec<Diagnostic>> {
    let mut lines = stock::stones(piece, settings, stones)?;
    lines.extend(stock::glue(piece, settings, stones));
    lines.extend(goods::resin(piece, settings, coats));
    lines.extend(goods::paint(piece, settings, coats));
    lines.extend(goods::glitter(piece, settings, coats));
    lines.extend(goods::film(piece, settings, coats));
    lines.extend(goods::supplies(piece, settings, steps));
    let bill = Bill { lines };
    let absurd: Vec<Diagnostic> =
        bill.lines.iter().filter_map(|line| absurd_line(settings, line)).collect();
    if !absurd.is_empty() {
        return Err(absurd);
    }
    if bill.cost_bought() > MOST {
        let message = format!(
            "all goods together cost {}, more than {}, the most that can be reckoned with",
            settings.currency.show(bill.cost_bought()),
            settings.currency.show(MOST)
        );
        return Err(vec![
            Diagnostic::error(FieldPath::root().key("quantity"), message)
                .hint("look at the prices of packs in the studio's settings, and at the quantity"),
        ]);
    }
    Ok(bill)
}

fn absurd_line(settings: &Settings, line: &BillLine) -> Option<Diagnostic> {
    let told = if line.packs > MOST_PACKS {
        format!("more than {MOST_PACKS} packs are needed")
    } else if line.cost_bought > MOST {
        format!("{} packs cost more than {}", line.packs, settings.currency.show(MOST))
    } else {
        return None;
    };
    let message = format!(
        "the bill for `{}` makes no sense: {told}, with {} {} in a pack at {}",
        line.item,
        line.pack,
        line.unit,
        settings.currency.show(line.pack_price)
    );
    Some(
        Diagnostic::error(FieldPath::root().key("quantity"), message)
            .hint("look at the content and the price of its pack in the studio's settings, and at the quantity"),
    )
}

/// A colour of the piece, as goods have it.
pub(crate) fn shade(piece: &Piece, colour: usize) -> Shade {
    let colour = &piece.colours[colour];
    Shade { name: Some(colour.name.clone()), srgb: Some(colour.srgb) }
}

/// What a line is made from.
pub(crate) struct Wanted {
    pub goods: Goods,
    pub ware: Ware,
    pub item: String,
    pub unit: &'static str,
    pub need: f64,
    pub repair_kit: f64,
    /// Need and the usual spare, if it has one, and repair kits.
    pub spared: f64,
    /// What to have at hand, where that is more.
    pub at_hand: f64,
    pub pack: f64,
    pub pack_price: Money,
}

impl Wanted {
    pub fn line(self) -> BillLine {
        let at_hand = self.spared.max(self.at_hand);
        // A hair is taken off so that rounding noise buys no further pack.
        let packs = (at_hand / self.pack - 1e-9).ceil().max(0.0) as u32;
        BillLine {
            goods: self.goods,
            ware: self.ware,
            item: self.item,
            unit: self.unit.to_owned(),
            need: self.need,
            repair_kit: self.repair_kit,
            with_spare: self.spared,
            at_hand,
            pack: self.pack,
            packs,
            pack_price: self.pack_price,
            cost_used: self.pack_price.times(self.spared / self.pack),
            cost_bought: self.pack_price.times(f64::from(packs)),
        }
    }
}
