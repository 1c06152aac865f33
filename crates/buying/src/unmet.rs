//! What cannot be had, and why.

use crate::Book;

/// A want that no order can meet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unmet {
    /// Which want.
    pub want: usize,
    /// Why.
    pub why: Why,
}

/// Why a want cannot be met.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Why {
    /// Nobody sells it.
    NobodySells,
    /// Nobody delivers it by the day; the earliest arrival.
    TooLate(i64),
    /// All that sell it in time would sell less than their least order: the smallest least order.
    LeastOrder(i64),
    /// The most that there is of it in time, from all sellers and for all wants of that day and before.
    TooFew(u64),
    /// The most of it that one seller has, where it must come in one lot.
    NoOneSeller(u64),
}

/// Wants that cannot be met even if nothing else were wanted, in their order.
pub fn unmet(book: &Book) -> Vec<Unmet> {
    let wants = book.wants.iter().enumerate();
    wants.filter_map(|(want, _)| Some(Unmet { want, why: why(book, want)? })).collect()
}

/// Whether a seller can be brought to its least order at all, with what is wanted.
pub(crate) fn can_order(book: &Book, seller: usize) -> bool {
    let own = (0..book.offers.len()).filter(|offer| book.offers[*offer].seller == seller);
    let most: i64 = own
        .map(|offer| book.offers[offer].price.saturating_mul(book.most_packs(offer) as i64))
        .fold(0, i64::saturating_add);
    most >= book.sellers[seller].least_order
}

fn why(book: &Book, want: usize) -> Option<Why> {
    let told = book.wants[want];
    let selling: Vec<usize> =
        (0..book.offers.len()).filter(|offer| book.held(*offer, told.item) > 0).collect();
    let seller = |offer: &usize| book.offers[*offer].seller;
    if selling.is_empty() {
        return Some(Why::NobodySells);
    }
    let in_time: Vec<usize> =
        selling.iter().copied().filter(|offer| book.in_time(seller(offer), told.latest)).collect();
    let arrivals = selling.iter().map(|offer| book.sellers[seller(offer)].arrives);
    if in_time.is_empty() {
        return arrivals.min().map(Why::TooLate);
    }
    let open: Vec<usize> =
        in_time.iter().copied().filter(|offer| can_order(book, seller(offer))).collect();
    if open.is_empty() {
        let least = in_time.iter().map(|offer| book.sellers[seller(offer)].least_order);
        return least.min().map(Why::LeastOrder);
    }
    let content = |offer: usize| {
        let most = book.offers[offer].most.unwrap_or(u64::MAX);
        book.held(offer, told.item).saturating_mul(most)
    };
    let total = |offers: &mut dyn Iterator<Item = usize>| {
        offers.map(content).fold(0_u64, u64::saturating_add)
    };
    if book.items[told.item].one_lot {
        let most = (0..book.sellers.len())
            .map(|one| total(&mut open.iter().copied().filter(|offer| seller(offer) == one)))
            .max()?;
        return (most < told.amount).then_some(Why::NoOneSeller(most));
    }
    let needed: u64 = book
        .wants
        .iter()
        .filter(|other| other.item == told.item)
        .filter(|other| told.latest.is_none_or(|day| other.latest.is_some_and(|own| own <= day)))
        .map(|other| other.amount)
        .sum();
    let most = total(&mut open.iter().copied());
    (most < needed).then_some(Why::TooFew(most))
}
