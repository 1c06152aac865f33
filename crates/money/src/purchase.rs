//! What to buy from whom, and what cannot be bought.

use crate::lack::Lacks;
use crate::order::{Ordering, amount, day_number, day_of, worth};
use buying::{Refusal, Why, solve};
use jiff::civil::Date;
use piece::Money;
use piece::sellers::Sellers;
use piece::settings::Currency;

/// How it is bought.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BuyTerms {
    /// Day of ordering; `None` if it is not known, and then nobody is too late.
    pub on: Option<Date>,
    /// Most seconds that the solver gets.
    pub seconds: f64,
}

/// What to buy.
#[derive(Debug, Clone, PartialEq)]
pub struct Purchase {
    /// Packs, by seller and then in the order of the sellers file.
    pub bought: Vec<Bought>,
    /// One for each seller that gets an order.
    pub parcels: Vec<Parcel>,
    /// Price of all packs.
    pub goods: Money,
    /// Postage of all parcels.
    pub postage: Money,
    /// What is left over when all pieces are made, by line of [`Lacks`].
    pub left: Vec<Left>,
    /// What was made least: goods and postage, less what the content of the packs is worth.
    pub net: Money,
    /// What `net` is not below in any order.
    pub bound: Money,
    /// Whether this order reaches the bound.
    pub proven: bool,
    /// What cannot be bought.
    pub unbuyable: Vec<Unbuyable>,
    /// Offers of goods that lack whose price is not known, by their index in the sellers file.
    pub unpriced: Vec<usize>,
}

/// Packs of one offer.
#[derive(Debug, Clone, PartialEq)]
pub struct Bought {
    /// Index of the offer in the sellers file.
    pub offer: usize,
    /// How many packs.
    pub packs: u64,
    /// What they cost.
    pub cost: Money,
}

/// What one seller sends.
#[derive(Debug, Clone, PartialEq)]
pub struct Parcel {
    /// Index of the seller.
    pub seller: usize,
    /// Price of its packs.
    pub goods: Money,
    /// Its postage.
    pub postage: Money,
    /// Last day to order, so that it is there when the first of its goods is needed.
    pub order_by: Option<Date>,
    /// Day on which it is there, if the day of ordering is known.
    pub arrives: Option<Date>,
}

/// What is left of what was bought.
#[derive(Debug, Clone, PartialEq)]
pub struct Left {
    /// Index of the line of [`Lacks`].
    pub line: usize,
    /// How much.
    pub amount: f64,
    /// What it is worth.
    pub worth: Money,
}

/// Something that lacks and cannot be bought.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unbuyable {
    /// Index of the line of [`Lacks`].
    pub line: usize,
    /// Index of the piece that needs it; `None` for a refill.
    pub piece: Option<usize>,
    /// Why, in words.
    pub why: String,
}

/// What to buy so that money spent less the worth of what is bought is least.
///
/// What cannot be bought is told, and everything else is bought.
///
/// # Errors
/// Why nothing can be ordered at all, in words.
pub fn purchase(
    lacks: &Lacks,
    sellers: &Sellers,
    currency: &Currency,
    terms: &BuyTerms,
) -> Result<Purchase, String> {
    let mut without: Vec<(usize, Option<usize>)> = Vec::new();
    let mut unbuyable = Vec::new();
    let unpriced = unpriced(lacks, sellers);
    loop {
        let ordering = Ordering::new(lacks, sellers, terms, &without);
        match solve(&ordering.book, terms.seconds) {
            Ok(order) => {
                return Ok(made(&ordering, &order, lacks, sellers, terms, (unbuyable, unpriced)));
            }
            Err(Refusal::Unmet(unmet)) => {
                for one in unmet {
                    let (line, at) = ordering.wants[one.want];
                    let needed = at.map(|at| lacks.lines[line].needed[at]);
                    without.push((line, at));
                    unbuyable.push(Unbuyable {
                        line,
                        piece: needed.map(|needed| needed.piece),
                        why: why(one.why, &lacks.lines[line].unit, currency, terms),
                    });
                }
            }
            Err(refusal) => return Err(refusal.to_string()),
        }
    }
}

fn unpriced(lacks: &Lacks, sellers: &Sellers) -> Vec<usize> {
    let lacking = |offer: &piece::sellers::Offer| {
        lacks.lines.iter().any(|line| {
            line.lacks() + line.refill > 0.0
                && offer.holds.iter().any(|(ware, _)| ware.is(&line.ware))
        })
    };
    let offers = sellers.offers.iter().enumerate();
    offers
        .filter(|(_, offer)| offer.price.is_none() && lacking(offer))
        .map(|(index, _)| index)
        .collect()
}

fn why(why: Why, unit: &str, currency: &Currency, terms: &BuyTerms) -> String {
    match why {
        Why::NobodySells => "nobody sells it at a known price".to_owned(),
        Why::TooLate(day) => match terms.on {
            Some(_) => format!("nobody delivers it in time; the earliest would be {}", day_of(day)),
            None => "nobody delivers it in time".to_owned(),
        },
        Why::LeastOrder(least) => format!(
            "those who sell it take no order below {}, which what lacks does not come to",
            currency.show(Money(least))
        ),
        Why::TooFew(most) => {
            format!("there are only {} {unit} of it on offer in time", amount(most))
        }
        Why::NoOneSeller(most) => format!(
            "it has to come in one lot, and the most that one seller has in time is {} {unit}",
            amount(most)
        ),
    }
}

fn made(
    ordering: &Ordering,
    order: &buying::Order,
    lacks: &Lacks,
    sellers: &Sellers,
    terms: &BuyTerms,
    (unbuyable, unpriced): (Vec<Unbuyable>, Vec<usize>),
) -> Purchase {
    let mut bought: Vec<Bought> = ordering
        .offers
        .iter()
        .zip(&order.packs)
        .zip(&ordering.book.offers)
        .filter(|((_, packs), _)| **packs > 0)
        .map(|((offer, packs), told)| Bought {
            offer: *offer,
            packs: *packs,
            cost: Money(told.price * *packs as i64),
        })
        .collect();
    bought.sort_by_key(|one| (sellers.offers[one.offer].seller, one.offer));
    let parcels = order.parcels.iter().map(|parcel| {
        let lead = i64::from(sellers.sellers[parcel.seller].lead_days);
        let needed = first_need(ordering, order, lacks, parcel.seller);
        Parcel {
            seller: parcel.seller,
            goods: Money(parcel.goods),
            postage: Money(parcel.postage),
            order_by: needed.map(|day| day_of(day_number(day) - lead)),
            arrives: terms.on.map(|on| day_of(day_number(on) + lead)),
        }
    });
    let parcels = parcels.collect();
    let left = order.left.iter().enumerate().filter(|(_, left)| **left > 0);
    let left = left.map(|(line, left)| {
        let amount = amount(*left);
        Left { line, amount, worth: worth(&lacks.lines[line].ware, amount, sellers) }
    });
    Purchase {
        left: left.collect(),
        bought,
        parcels,
        goods: Money(order.goods),
        postage: Money(order.postage),
        net: Money(order.net()),
        bound: Money(order.bound),
        proven: order.proven,
        unbuyable,
        unpriced,
    }
}

/// The earliest day on which something that a seller may send is needed: wants in one lot are known to
/// come from one seller, of others any seller's pack may be the one that is opened first.
fn first_need(
    ordering: &Ordering,
    order: &buying::Order,
    lacks: &Lacks,
    seller: usize,
) -> Option<Date> {
    let sends = |item: usize| {
        let offers = ordering.book.offers.iter().zip(&order.packs);
        offers
            .filter(|(offer, packs)| offer.seller == seller && **packs > 0)
            .any(|(offer, _)| offer.holds.iter().any(|(held, _)| *held == item))
    };
    let wants = ordering.wants.iter().enumerate();
    let own = wants.filter(|(want, (line, _))| match order.from.get(*want).copied().flatten() {
        Some(from) => from == seller,
        None => sends(*line),
    });
    own.filter_map(|(_, (line, at))| lacks.lines[*line].needed.get((*at)?)?.by).min()
}
