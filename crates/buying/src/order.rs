//! An order, reckoned and checked in whole numbers.

use crate::Book;

/// What to buy from whom.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Order {
    /// Packs of each offer.
    pub packs: Vec<u64>,
    /// Who supplies each want whose item must come in one lot; `None` for the others.
    pub from: Vec<Option<usize>>,
    /// One for each seller that gets an order, in the order of the sellers.
    pub parcels: Vec<Parcel>,
    /// Price of all packs, minor units.
    pub goods: i64,
    /// Postage of all parcels, minor units.
    pub postage: i64,
    /// What the content of all packs would be worth where it is left over, minor units: what is used up
    /// counts in every order alike.
    pub worth: i64,
    /// What is left of each item when all that is wanted is used up.
    pub left: Vec<u64>,
    /// What `goods + postage - worth` is not below in any order.
    pub bound: i64,
    /// Whether this order reaches the bound: no other costs less.
    pub proven: bool,
}

impl Order {
    /// What was made least: money spent less what its content is worth, minor units.
    pub fn net(&self) -> i64 {
        self.goods + self.postage - self.worth
    }
}

/// What goes to one seller.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Parcel {
    /// The seller.
    pub seller: usize,
    /// Price of its packs, minor units.
    pub goods: i64,
    /// Its postage, minor units.
    pub postage: i64,
    /// What it weighs, g.
    pub grams: u64,
}

/// Reckons an order from its packs, in whole numbers; nothing is proved of it yet.
pub fn reckon(book: &Book, packs: Vec<u64>, from: Vec<Option<usize>>) -> Order {
    let mut parcels = Vec::new();
    for (index, seller) in book.sellers.iter().enumerate() {
        let own = || book.offers.iter().zip(&packs).filter(move |(offer, _)| offer.seller == index);
        if own().all(|(_, packs)| *packs == 0) {
            continue;
        }
        let goods = own().map(|(offer, packs)| offer.price * *packs as i64).sum();
        let grams = own().map(|(offer, packs)| offer.grams * packs).sum();
        let postage = seller.postage(goods, grams);
        parcels.push(Parcel { seller: index, goods, postage, grams });
    }
    let supplied = |item| (0..packs.len()).map(|offer| book.held(offer, item) * packs[offer]).sum();
    let left = (0..book.items.len())
        .map(|item| {
            let had: u64 = supplied(item);
            had.saturating_sub(book.wanted(item))
        })
        .collect();
    Order {
        goods: parcels.iter().map(|parcel| parcel.goods).sum(),
        postage: parcels.iter().map(|parcel| parcel.postage).sum(),
        worth: book
            .offers
            .iter()
            .zip(&packs)
            .map(|(offer, packs)| offer.worth * *packs as i64)
            .sum(),
        left,
        bound: i64::MIN,
        proven: false,
        parcels,
        packs,
        from,
    }
}

/// What is wrong with an order, in words; nothing if it can be placed and covers what is wanted.
pub fn faults(book: &Book, order: &Order) -> Vec<String> {
    let mut faults = Vec::new();
    for (index, offer) in book.offers.iter().enumerate() {
        if offer.most.is_some_and(|most| order.packs[index] > most) {
            faults.push(format!("more packs of offer {index} than there are"));
        }
    }
    for parcel in &order.parcels {
        if parcel.goods < book.sellers[parcel.seller].least_order {
            faults.push(format!("the order from seller {} is below its least", parcel.seller));
        }
    }
    for (item, told) in book.items.iter().enumerate() {
        let fault = if told.one_lot {
            lot_fault(book, order, item)
        } else {
            cover_fault(book, order, item)
        };
        faults.extend(fault);
    }
    faults
}

/// How much of an item comes from these sellers.
fn supply(book: &Book, order: &Order, item: usize, from: impl Fn(usize) -> bool) -> u64 {
    let packs = order.packs.iter().enumerate();
    packs
        .filter(|(offer, _)| from(book.offers[*offer].seller))
        .map(|(offer, packs)| book.held(offer, item) * packs)
        .sum()
}

/// What is wanted by a day must come from sellers that deliver by it; as those who deliver by an earlier
/// day also deliver by a later one, this for every day is enough.
fn cover_fault(book: &Book, order: &Order, item: usize) -> Option<String> {
    let wants = || book.wants.iter().filter(|want| want.item == item);
    let no_later = |a: Option<i64>, b: Option<i64>| b.is_none_or(|b| a.is_some_and(|a| a <= b));
    let short = wants().any(|by| {
        let needed: u64 =
            wants().filter(|want| no_later(want.latest, by.latest)).map(|want| want.amount).sum();
        supply(book, order, item, |seller| book.in_time(seller, by.latest)) < needed
    });
    short.then(|| format!("too little of item {item}"))
}

fn lot_fault(book: &Book, order: &Order, item: usize) -> Option<String> {
    let wants = || book.wants.iter().enumerate().filter(|(_, want)| want.item == item);
    for (index, want) in wants() {
        match order.from.get(index).copied().flatten() {
            Some(seller) if book.in_time(seller, want.latest) => {}
            Some(seller) => return Some(format!("seller {seller} is too late for want {index}")),
            None => return Some(format!("nobody supplies want {index}")),
        }
    }
    (0..book.sellers.len()).find_map(|seller| {
        let needed: u64 = wants()
            .filter(|(index, _)| order.from[*index] == Some(seller))
            .map(|(_, want)| want.amount)
            .sum();
        let short = supply(book, order, item, |other| other == seller) < needed;
        short.then(|| format!("too little of item {item} from seller {seller}"))
    })
}
