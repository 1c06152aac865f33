//! From whom one item may come, and what it costs then at least.

use crate::Book;
use crate::cover::{Costs, Pack, Rounded, cover};
use crate::unmet::can_order;

/// Most sellers of one item of which every set is looked at.
const MOST_SELLERS: usize = 6;
/// Most wants of one item in lots of which every set is looked at.
const MOST_WANTS: usize = 4;

/// One way to have an amount of an item.
#[derive(Debug, Clone)]
pub(crate) struct Choice {
    /// Sellers that it comes from.
    pub sellers: Vec<usize>,
    /// Wants that it serves.
    pub wants: Vec<usize>,
    /// What it does not cost less than, minor units.
    pub low: i64,
    /// What it serves, and what less would cost at least.
    pub need: u64,
    pub costs: Costs,
    /// Packs that do it: offers and how many; `None` if none were found.
    pub packs: Option<Vec<(usize, u64)>>,
}

/// Ways of one item of which so much is chosen that every want is served once.
#[derive(Debug, Clone)]
pub(crate) struct Choices {
    /// Which item.
    pub item: usize,
    /// Whether each way comes from one seller and serves whole wants.
    pub one_lot: bool,
    /// Whether each way serves a single want, and a seller may have several of them.
    pub singly: bool,
    /// The ways.
    pub ways: Vec<Choice>,
    /// Ways that cost no less than another from a part of their sellers: never needed, but they tell what
    /// their packs cost.
    pub idle: Vec<Choice>,
}

/// What a pack of an offer costs one of the items in it, less its worth: a kit's cost is shared by its
/// items in whole minor units, so that their costs together are no more than the kit's.
pub(crate) fn cost_for(book: &Book, offer: usize, item: usize) -> i64 {
    let told = &book.offers[offer];
    let wanted = told.holds.iter().filter(|(held, _)| book.wanted(*held) > 0).count().max(1);
    if book.wanted(item) == 0 { 0 } else { (told.price - told.worth) / wanted as i64 }
}

/// Offers of these sellers that hold the item.
fn offers_of(book: &Book, item: usize, sellers: &[usize]) -> Vec<usize> {
    let fits = |offer: &usize| {
        sellers.contains(&book.offers[*offer].seller) && book.held(*offer, item) > 0
    };
    (0..book.offers.len()).filter(fits).collect()
}

/// The least that an amount costs from these sellers, and packs for it.
fn way(book: &Book, item: usize, sellers: &[usize], wants: Vec<usize>) -> Option<Choice> {
    let need = wants.iter().map(|want| book.wants[*want].amount).sum();
    let offers = offers_of(book, item, sellers);
    let packs: Vec<Pack> = offers
        .iter()
        .map(|offer| Pack {
            cost: cost_for(book, *offer, item),
            amount: book.held(*offer, item),
            most: book.offers[*offer].most.unwrap_or(u64::MAX),
        })
        .collect();
    let (low, counts, costs) = cover(&packs, need, Rounded::Low)?;
    let counts = match costs.exact {
        true => Some(counts),
        false => cover(&packs, need, Rounded::Safe).map(|(_, counts, _)| counts),
    };
    let packs = counts
        .map(|counts| offers.into_iter().zip(counts).filter(|(_, count)| *count > 0).collect());
    Some(Choice { sellers: sellers.to_vec(), wants, low, need, costs, packs })
}

/// All sets of some things but the empty one, smaller numbers first.
fn sets(things: &[usize]) -> impl Iterator<Item = Vec<usize>> + '_ {
    (1..1_usize << things.len()).map(|bits| {
        things
            .iter()
            .enumerate()
            .filter(|(at, _)| bits >> at & 1 == 1)
            .map(|(_, one)| *one)
            .collect()
    })
}

/// The ways of every item; of one that may come from several sellers, one list for each last day, and
/// none if there are too many sellers to look at every set.
pub(crate) fn choices(book: &Book) -> Vec<Choices> {
    let open: Vec<usize> =
        (0..book.sellers.len()).filter(|seller| can_order(book, *seller)).collect();
    let mut all = Vec::new();
    for (item, told) in book.items.iter().enumerate() {
        let wants: Vec<usize> =
            (0..book.wants.len()).filter(|want| book.wants[*want].item == item).collect();
        if wants.is_empty() {
            continue;
        }
        if told.one_lot {
            all.push(in_lots(book, item, &open, &wants));
        } else {
            let mut days: Vec<Option<i64>> =
                wants.iter().map(|want| book.wants[*want].latest).collect();
            days.sort_by_key(|day| day.unwrap_or(i64::MAX));
            days.dedup();
            all.extend(
                days.into_iter().filter_map(|day| by_a_day(book, item, &open, (&wants, day))),
            );
        }
    }
    all
}

/// Sets of wants from each seller; of too many wants each singly, which cost together at least what their
/// amount costs by the cheapest unit.
fn in_lots(book: &Book, item: usize, open: &[usize], wants: &[usize]) -> Choices {
    let singly = wants.len() > MOST_WANTS;
    let mut ways = Vec::new();
    for seller in open {
        let in_time: Vec<usize> = wants
            .iter()
            .copied()
            .filter(|want| book.in_time(*seller, book.wants[*want].latest))
            .collect();
        if !singly {
            ways.extend(sets(&in_time).filter_map(|set| way(book, item, &[*seller], set)));
            continue;
        }
        for want in in_time {
            let Some(alone) = way(book, item, &[*seller], vec![want]) else { continue };
            let amount = i128::from(book.wants[want].amount);
            let by_unit = offers_of(book, item, &[*seller]).into_iter().map(|offer| {
                i128::from(cost_for(book, offer, item)) * amount
                    / i128::from(book.held(offer, item))
            });
            let low = by_unit.min().unwrap_or(0).clamp(0, i128::from(alone.low)) as i64;
            ways.push(Choice { low, ..alone });
        }
    }
    Choices { item, one_lot: true, singly, ways, idle: Vec::new() }
}

/// What is wanted by a day, from those who deliver by it. A set of sellers that costs no less than a part
/// of it does is left out: who buys from all of them may as well be taken to buy from that part.
fn by_a_day(
    book: &Book,
    item: usize,
    open: &[usize],
    (wants, day): (&[usize], Option<i64>),
) -> Option<Choices> {
    let in_it = |latest: Option<i64>| day.is_none_or(|day| latest.is_some_and(|own| own <= day));
    let due: Vec<usize> =
        wants.iter().copied().filter(|want| in_it(book.wants[*want].latest)).collect();
    let selling = |seller: &usize| {
        book.in_time(*seller, day) && !offers_of(book, item, &[*seller]).is_empty()
    };
    let sellers: Vec<usize> = open.iter().copied().filter(selling).collect();
    if sellers.len() > MOST_SELLERS {
        return None;
    }
    let (mut ways, mut idle): (Vec<Choice>, Vec<Choice>) = (Vec::new(), Vec::new());
    let mut found: Vec<Vec<usize>> = sets(&sellers).collect();
    found.sort_by_key(Vec::len);
    for set in found {
        let Some(new) = way(book, item, &set, due.clone()) else { continue };
        let part = |known: &Choice| {
            known.low <= new.low && known.sellers.iter().all(|seller| set.contains(seller))
        };
        if ways.iter().any(part) {
            idle.push(new);
        } else {
            ways.push(new);
        }
    }
    Some(Choices { item, one_lot: false, singly: false, ways, idle })
}
