//! An order to begin from: for each set of sellers, each item alone for least.

use crate::choice::{Choice, Choices};
use crate::{Book, Order, Postage, faults, reckon};

/// Most sellers of which every set is tried.
const MOST_SELLERS: usize = 8;

/// The best order of all sets of sellers, with what ends postage added; `None` if none holds.
pub(crate) fn start(book: &Book, choices: &[Choices]) -> Option<Order> {
    let n = book.sellers.len();
    let sets: Vec<u64> = if n <= MOST_SELLERS { (1..1 << n).collect() } else { vec![u64::MAX] };
    let orders = sets.into_iter().filter_map(|open| from_sellers(book, choices, open));
    let best = |orders: &mut dyn Iterator<Item = Order>| {
        orders
            .filter(|order| faults(book, order).is_empty())
            .min_by_key(|order| (order.net(), order.parcels.len()))
    };
    let first = best(&mut orders.flat_map(|order| lifted(book, order)))?;
    // A second seller may be lifted too.
    best(&mut lifted(book, first).into_iter())
}

/// Each item for least from the sellers whose bits are set.
fn from_sellers(book: &Book, choices: &[Choices], open: u64) -> Option<Order> {
    let mut packs = vec![0; book.offers.len()];
    let mut from = vec![None; book.wants.len()];
    for item in 0..book.items.len() {
        let mut unserved: Vec<usize> =
            (0..book.wants.len()).filter(|want| book.wants[*want].item == item).collect();
        // The list of the last day serves all wants of an item.
        while let Some(want) = unserved.first().copied() {
            let lists = choices.iter().filter(|list| list.item == item);
            let ways = lists.flat_map(|list| {
                let all = list.ways.iter().chain(&list.idle);
                all.map(|way| (list.one_lot, way))
            });
            let fits = ways.filter(|(one_lot, way)| {
                way.packs.is_some()
                    && way.sellers.iter().all(|seller| open >> (*seller).min(63) & 1 == 1)
                    && way.wants.contains(&want)
                    && if *one_lot {
                        way.wants.iter().all(|want| unserved.contains(want))
                    } else {
                        way.wants.len() == unserved.len() && in_time(book, item, way)
                    }
            });
            let amount = |wants: &[usize]| -> u64 {
                wants.iter().map(|want| book.wants[*want].amount).sum()
            };
            // Least by the unit, so that wants served together are not dearer for being more.
            let (one_lot, way) = fits.min_by(|(_, a), (_, b)| {
                let crosswise = |a: &Choice, b: &[usize]| i128::from(a.low) * i128::from(amount(b));
                crosswise(a, &b.wants).cmp(&crosswise(b, &a.wants))
            })?;
            for (offer, count) in way.packs.iter().flatten() {
                packs[*offer] += count;
            }
            for served in &way.wants {
                from[*served] = if one_lot { way.sellers.first().copied() } else { None };
            }
            unserved.retain(|want| !way.wants.contains(want));
        }
    }
    for (offer, told) in book.offers.iter().enumerate() {
        packs[offer] = packs[offer].min(told.most.unwrap_or(u64::MAX));
    }
    Some(reckon(book, packs, from))
}

/// Whether what is wanted earlier comes from those who deliver earlier.
fn in_time(book: &Book, item: usize, way: &Choice) -> bool {
    way.wants.iter().all(|want| {
        let by = book.wants[*want].latest;
        let earlier = |latest: Option<i64>| by.is_none_or(|by| latest.is_some_and(|own| own <= by));
        let due = way.wants.iter().filter(|want| earlier(book.wants[**want].latest));
        let needed: u64 = due.map(|want| book.wants[*want].amount).sum();
        let packs = way.packs.iter().flatten();
        let early = packs.filter(|(offer, _)| book.in_time(book.offers[*offer].seller, by));
        early.map(|(offer, count)| book.held(*offer, item) * count).sum::<u64>() >= needed
    })
}

/// The order, and the same with one kind of pack more that lifts a parcel to a higher tier or to the least
/// order.
fn lifted(book: &Book, order: Order) -> Vec<Order> {
    let mut all = Vec::new();
    for parcel in &order.parcels {
        let seller = &book.sellers[parcel.seller];
        let tiers = match &seller.postage {
            Postage::BySpend(tiers) => tiers.iter().map(|tier| tier.from).collect(),
            Postage::ByWeight { .. } => Vec::new(),
        };
        for goal in tiers.into_iter().chain([seller.least_order]) {
            let gap = goal - parcel.goods;
            if gap <= 0 {
                continue;
            }
            for (index, offer) in book.offers.iter().enumerate() {
                if offer.seller != parcel.seller || offer.price <= 0 || book.most_packs(index) == 0
                {
                    continue;
                }
                let mut packs = order.packs.clone();
                packs[index] += gap.unsigned_abs().div_ceil(offer.price.unsigned_abs());
                if packs[index] <= book.most_packs(index) {
                    all.push(reckon(book, packs, order.from.clone()));
                }
            }
        }
    }
    all.push(order);
    all
}
