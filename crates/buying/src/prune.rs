//! Which packs an order that costs no more than a known one can hold.

use crate::choice::{Choice, Choices, cost_for};
use crate::{Book, Postage};

/// Most sellers of which every set is looked at.
const MOST_SELLERS: usize = 8;

/// For each offer whether it can stand in an order that costs no more than `most`.
///
/// For every set of sellers, each item alone for least and the least postage of each seller is what no
/// order from just these sellers is below; a pack that lifts its item's least by more than is left up to
/// `most` stands in no such order.
pub(crate) fn useful(book: &Book, choices: &[Choices], most: i64) -> Vec<bool> {
    let n = book.sellers.len();
    if n > MOST_SELLERS {
        return vec![true; book.offers.len()];
    }
    let mut useful = vec![false; book.offers.len()];
    for set in 1..1_u64 << n {
        let open = |seller: usize| set >> seller & 1 == 1;
        let Some(base) = base(book, choices, &open) else { continue };
        if base > most {
            continue;
        }
        for (offer, told) in book.offers.iter().enumerate() {
            if useful[offer] || !open(told.seller) {
                continue;
            }
            let items =
                told.holds.iter().map(|(item, _)| *item).filter(|item| book.wanted(*item) > 0);
            let lifts = items.map(|item| lift(book, choices, (offer, item), &open));
            useful[offer] = lifts.max().is_none_or(|lift| base.saturating_add(lift) <= most);
        }
    }
    useful
}

/// What no order from just these sellers is below; `None` if they do not have everything.
fn base(book: &Book, choices: &[Choices], open: &dyn Fn(usize) -> bool) -> Option<i64> {
    let mut base: i64 = 0;
    for (_, told) in book.sellers.iter().enumerate().filter(|(seller, _)| open(*seller)) {
        base += match &told.postage {
            Postage::BySpend(tiers) => tiers.iter().map(|tier| tier.postage).min().unwrap_or(0),
            Postage::ByWeight { first, .. } => *first,
        };
    }
    for item in 0..book.items.len() {
        let lists = choices.iter().filter(|list| list.item == item);
        let mut least = 0;
        for list in lists {
            least = least.max(list_least(book, list, open)?);
        }
        base += least;
    }
    Some(base)
}

/// What the wants of a list cost at least from these sellers.
fn list_least(book: &Book, list: &Choices, open: &dyn Fn(usize) -> bool) -> Option<i64> {
    let held = |way: &&Choice| way.sellers.iter().all(|seller| open(*seller));
    if !list.one_lot {
        return list.ways.iter().filter(held).map(|way| way.low).min();
    }
    let wants: Vec<usize> =
        (0..book.wants.len()).filter(|want| book.wants[*want].item == list.item).collect();
    let ways: Vec<&Choice> = list.ways.iter().filter(held).collect();
    if list.singly {
        let each = wants.iter().map(|want| {
            ways.iter().filter(|way| way.wants.contains(want)).map(|way| way.low).min()
        });
        return each.sum();
    }
    parts(&ways, &wants)
}

/// The least of ways that serve each want once.
fn parts(ways: &[&Choice], wants: &[usize]) -> Option<i64> {
    let Some(first) = wants.first() else { return Some(0) };
    let fits = ways.iter().filter(|way| {
        way.wants.contains(first) && way.wants.iter().all(|want| wants.contains(want))
    });
    fits.filter_map(|way| {
        let rest: Vec<usize> =
            wants.iter().copied().filter(|want| !way.wants.contains(want)).collect();
        Some(way.low + parts(ways, &rest)?)
    })
    .min()
}

/// By how much a pack lifts what its item costs at least from these sellers.
fn lift(
    book: &Book,
    choices: &[Choices],
    (offer, item): (usize, usize),
    open: &dyn Fn(usize) -> bool,
) -> i64 {
    let (cost, held) = (cost_for(book, offer, item), book.held(offer, item));
    let seller = book.offers[offer].seller;
    let after = |way: &Choice| {
        let rest = way.costs.of(way.need.saturating_sub(held));
        rest.map(|rest| (cost + rest).max(way.low))
    };
    let mut before = 0;
    let mut with_it = 0;
    for list in choices.iter().filter(|list| list.item == item) {
        let Some(least) = list_least(book, list, open) else { return 0 };
        before = before.max(least);
        with_it = with_it.max(if list.singly {
            least
        } else if list.one_lot {
            // It serves one of its seller's ways, or is bought beside.
            let ways = list.ways.iter().filter(|way| way.sellers.contains(&seller));
            let lifts = ways.filter_map(|way| Some(after(way)? - way.low)).chain([cost]);
            least + lifts.min().unwrap_or(cost)
        } else {
            // The way from all open sellers that have it in time.
            let ways = list.ways.iter().chain(&list.idle);
            let within = ways.filter(|way| way.sellers.iter().all(|seller| open(*seller)));
            match within.max_by_key(|way| way.sellers.len()) {
                Some(way) if way.sellers.contains(&seller) => after(way).unwrap_or(least),
                _ => least,
            }
        });
    }
    (with_it - before).max(0)
}
