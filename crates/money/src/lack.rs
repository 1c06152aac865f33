//! What several pieces need together, what of it is on hand, and what lacks.

use crate::Bill;
use crate::shelf::{HAIR, Shelf, Taken, Unused};
use jiff::civil::Date;
use piece::stock::Stock;
use piece::{Settings, Ware};

/// A piece whose goods are to be there.
#[derive(Debug, Clone, Copy)]
pub struct Asked<'a> {
    /// Name of its file without `.toml`.
    pub name: &'a str,
    /// Its bill.
    pub bill: &'a Bill,
    /// Day on which its goods must be there; `None` if none is known.
    pub by: Option<Date>,
}

/// What the pieces need, have and lack.
#[derive(Debug, Clone, PartialEq)]
pub struct Lacks {
    /// By goods: in the order of the bills, each kind of goods once; then what only refills stock.
    pub lines: Vec<Lack>,
    /// Levels that stock falls below when everything is taken.
    pub shortfalls: Vec<Shortfall>,
    /// Lots of needed goods of which something is not used, and why.
    pub unused: Vec<(usize, Unused)>,
    /// Lots whose goods no piece here needs.
    pub idle: Vec<usize>,
}

/// One kind of goods.
#[derive(Debug, Clone, PartialEq)]
pub struct Lack {
    /// What it is.
    pub ware: Ware,
    /// For people, as in the bill.
    pub item: String,
    /// Unit of all amounts.
    pub unit: String,
    /// What each piece needs.
    pub needed: Vec<Needed>,
    /// What is taken from stock.
    pub taken: Vec<Taken>,
    /// What is bought beside to bring stock back to its least.
    pub refill: f64,
}

/// What one piece needs of one kind of goods.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Needed {
    /// Index of the piece among those asked.
    pub piece: usize,
    /// How much must be at hand.
    pub amount: f64,
    /// What of it must be bought.
    pub lacks: f64,
    /// Day on which it must be there.
    pub by: Option<Date>,
}

/// Stock that falls below its least.
#[derive(Debug, Clone, PartialEq)]
pub struct Shortfall {
    /// Index of the level in the stock file.
    pub least: usize,
    /// What is left of it, everything taken.
    pub left: f64,
}

impl Lack {
    /// What all pieces need.
    pub fn need(&self) -> f64 {
        self.needed.iter().map(|needed| needed.amount).sum()
    }

    /// What is taken from stock.
    pub fn from_stock(&self) -> f64 {
        self.taken.iter().map(|taken| taken.amount).sum()
    }

    /// What must be bought for the pieces.
    pub fn lacks(&self) -> f64 {
        self.needed.iter().map(|needed| needed.lacks).sum()
    }
}

/// Whether all that one piece takes of these goods comes from one lot or seller, since colours differ.
pub(crate) fn in_one_lot(ware: &Ware) -> bool {
    ware.shade().is_some()
}

/// What the pieces need together, less what is on hand.
///
/// Pieces are served in their order. What has a colour is taken from one lot if one holds enough for the
/// piece, the smallest that does, else all of it is bought; anything else from all lots, the one that
/// expires first first. Lots that expire before the piece's day, and what is kept for others, are left.
pub fn lacks(asked: &[Asked], stock: &Stock, settings: &Settings, refill: bool) -> Lacks {
    let names: Vec<&str> = asked.iter().map(|one| one.name).collect();
    let mut shelf = Shelf::new(stock, &names);
    let mut lines = needs(asked);
    for line in &mut lines {
        for needed in &mut line.needed {
            let taken = serve(&mut shelf, stock, &line.ware, needed);
            needed.lacks = needed.amount - taken.iter().map(|taken| taken.amount).sum::<f64>();
            if needed.lacks < HAIR {
                needed.lacks = 0.0;
            }
            line.taken.extend(taken);
        }
    }
    let latest = asked.iter().filter_map(|one| one.by).max();
    let mut shortfalls = Vec::new();
    for (index, least) in stock.least.iter().enumerate() {
        let left: f64 = shelf.lots(&least.ware, latest).iter().map(|lot| shelf.free(*lot)).sum();
        if left + HAIR >= least.amount {
            continue;
        }
        shortfalls.push(Shortfall { least: index, left });
        if refill {
            fill_up(&mut lines, &least.ware, least.amount - left, settings);
        }
    }
    let unused = unused(&shelf, stock, &lines, asked);
    let idle = (0..stock.lots.len())
        .filter(|lot| !lines.iter().any(|line| line.ware.is(&stock.lots[*lot].ware)))
        .collect();
    Lacks { lines, shortfalls, unused, idle }
}

fn needs(asked: &[Asked]) -> Vec<Lack> {
    let mut lines: Vec<Lack> = Vec::new();
    for (piece, one) in asked.iter().enumerate() {
        for line in &one.bill.lines {
            let needed = Needed { piece, amount: line.at_hand, lacks: line.at_hand, by: one.by };
            match lines.iter_mut().find(|known| known.ware.is(&line.ware)) {
                // A piece may know a colour by two names.
                Some(known) => match known.needed.iter_mut().find(|needed| needed.piece == piece) {
                    Some(same) => same.amount += line.at_hand,
                    None => known.needed.push(needed),
                },
                None => lines.push(Lack {
                    ware: line.ware.clone(),
                    item: line.item.clone(),
                    unit: line.unit.clone(),
                    needed: vec![needed],
                    taken: Vec::new(),
                    refill: 0.0,
                }),
            }
        }
    }
    lines
}

fn serve(shelf: &mut Shelf, stock: &Stock, ware: &Ware, needed: &Needed) -> Vec<Taken> {
    let mut lots = shelf.lots(ware, needed.by);
    let there = |shelf: &Shelf, lot: usize| shelf.for_piece(lot, needed.piece);
    if in_one_lot(ware) {
        lots.retain(|lot| there(shelf, *lot) + HAIR >= needed.amount);
        let smallest =
            lots.into_iter().min_by(|a, b| there(shelf, *a).total_cmp(&there(shelf, *b)));
        return smallest
            .map(|lot| shelf.take(lot, needed.piece, needed.amount))
            .into_iter()
            .collect();
    }
    lots.sort_by_key(|lot| (stock.lots[*lot].expires.unwrap_or(Date::MAX), *lot));
    let mut open = needed.amount;
    let mut taken = Vec::new();
    for lot in lots {
        let amount = open.min(there(shelf, lot));
        if amount > HAIR {
            taken.push(shelf.take(lot, needed.piece, amount));
            open -= amount;
        }
    }
    taken
}

fn fill_up(lines: &mut Vec<Lack>, ware: &Ware, amount: f64, settings: &Settings) {
    if let Some(line) = lines.iter_mut().find(|line| line.ware.is(ware)) {
        line.refill = amount;
        return;
    }
    let of_supply = |name: &str| {
        let supply = settings.supplies.iter().find(|supply| supply.name == name);
        supply.map_or_else(|| "each".to_owned(), |supply| supply.unit.clone())
    };
    let unit = match ware {
        Ware::Supply { name } => of_supply(name),
        _ => ware.unit().unwrap_or_default().to_owned(),
    };
    lines.push(Lack {
        ware: ware.clone(),
        item: ware.words(),
        unit,
        needed: Vec::new(),
        taken: Vec::new(),
        refill: amount,
    });
}

/// Of goods that lack although some of them is there: what is there, and why it is not taken.
fn unused(shelf: &Shelf, stock: &Stock, lines: &[Lack], asked: &[Asked]) -> Vec<(usize, Unused)> {
    let mut unused = Vec::new();
    for line in lines.iter().filter(|line| line.lacks() > 0.0) {
        for (index, lot) in stock.lots.iter().enumerate() {
            if !lot.ware.is(&line.ware) {
                continue;
            }
            let others: f64 = lot
                .reserved
                .iter()
                .filter(|(name, _)| !asked.iter().any(|one| one.name == name))
                .map(|(_, amount)| amount)
                .sum();
            let last_needed = line.needed.iter().filter_map(|needed| needed.by).min();
            match (lot.expires, last_needed) {
                (Some(last), Some(day)) if last < day => {
                    unused.push((index, Unused::Expired(last)));
                }
                _ if shelf.free(index) > HAIR && in_one_lot(&line.ware) => {
                    unused.push((index, Unused::TooLittle(shelf.free(index))));
                }
                _ if others > HAIR => unused.push((index, Unused::Reserved(others))),
                _ => {}
            }
        }
    }
    unused
}
