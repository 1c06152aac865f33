//! Made-up books of things to buy, from a seed.

// Each test and bench uses a part of it.
#![allow(dead_code)]

use buying::{Book, Item, Offer, Postage, Seller, Tier, Want};
use rand_core::Rng;
use rand_pcg::Pcg64;

/// A number by chance from `least` to `most`.
fn pick(dice: &mut Pcg64, least: u64, most: u64) -> u64 {
    least + dice.next_u64() % (most - least + 1)
}

/// How large a book is.
#[derive(Debug, Clone, Copy)]
pub struct Size {
    pub items: usize,
    pub packs: usize,
    pub sellers: usize,
    /// Share of items whose wants must come in one lot, per cent.
    pub one_lot: u64,
    /// Most that is wanted of an item.
    pub most: u64,
}

/// Packs of the trade, as multiples of the smallest.
const PACKS: [u64; 8] = [1, 2, 5, 10, 20, 50, 100, 200];
/// What they cost by the unit beside the smallest.
const REBATES: [f64; 8] = [1.0, 0.92, 0.82, 0.76, 0.70, 0.63, 0.58, 0.53];

/// A book as studios have it: larger packs cost less by the unit, each seller has a price level of its
/// own for each item, postage ends at a threshold, leftovers are worth a part of the cheapest unit.
pub fn studio(seed: u64, size: Size) -> Book {
    let dice = &mut Pcg64::new(u128::from(seed), 0x0b1d_5e11);
    let mut book = Book::default();
    for number in 0..size.sellers {
        let free = pick(dice, 25, 90) * 100;
        let dear = pick(dice, 350, 900) as i64;
        let tiers = match number % 3 {
            0 => vec![(0, dear), (free as i64, 0)],
            1 => vec![(0, dear), (free as i64 / 2, dear / 2), (free as i64, 0)],
            _ => vec![(0, dear)],
        };
        let tiers = tiers.into_iter().map(|(from, postage)| Tier { from, postage }).collect();
        book.sellers.push(Seller {
            postage: Postage::BySpend(tiers),
            least_order: [0, 0, 1000, 1500][number % 4],
            arrives: 3 + 2 * number as i64,
        });
    }
    for item in 0..size.items {
        book.items.push(Item { one_lot: pick(dice, 1, 100) <= size.one_lot });
        let wants = pick(dice, 1, 2);
        for _ in 0..wants {
            let latest = (pick(dice, 1, 4) == 1).then_some(7);
            book.wants.push(Want { item, amount: pick(dice, 1, size.most), latest });
        }
        let most_spent = pick(dice, 200, 3000) as f64;
        let wanted = book.wants[book.wants.len() - wants as usize..].iter().map(|want| want.amount);
        // What is wanted of one item comes to 2 to 30 of the main unit.
        let unit = most_spent / wanted.sum::<u64>() as f64;
        let base = [1, 10, 100, 144][pick(dice, 0, 3) as usize];
        let first = book.offers.len();
        for seller in 0..size.sellers {
            let level = pick(dice, 85, 120) as f64 / 100.0;
            for (pack, rebate) in PACKS.iter().zip(REBATES).take(size.packs) {
                let amount = base * pack;
                let price = (unit * amount as f64 * level * rebate).round().max(1.0) as i64;
                let most = (pick(dice, 1, 6) == 1).then(|| pick(dice, 1, 12));
                let grams = amount / 10;
                book.offers.push(Offer {
                    seller,
                    holds: vec![(item, amount)],
                    price,
                    worth: 0,
                    most,
                    grams,
                });
            }
        }
        let offers = &mut book.offers[first..];
        let unit_price = |offer: &Offer| offer.price as f64 / offer.holds[0].1 as f64;
        let cheapest = offers.iter().map(unit_price).fold(f64::INFINITY, f64::min);
        let share = pick(dice, 0, 50) as f64 / 100.0;
        for offer in offers {
            offer.worth = (share * cheapest * offer.holds[0].1 as f64).floor() as i64;
        }
    }
    book
}

/// A small book with everything in it: kits, postage by weight and postage that rises, least orders,
/// few packs, late sellers.
pub fn small(seed: u64) -> Book {
    let dice = &mut Pcg64::new(u128::from(seed), 0x0b1d_5e11);
    let (n_items, n_sellers) = (pick(dice, 1, 4) as usize, pick(dice, 1, 3) as usize);
    let mut book = Book::default();
    for _ in 0..n_sellers {
        let money = |dice: &mut Pcg64| pick(dice, 0, 600) as i64;
        let postage = match pick(dice, 0, 3) {
            0 => Postage::ByWeight {
                first: money(dice),
                included_g: pick(dice, 0, 50),
                step_g: pick(dice, 1, 40),
                each: pick(dice, 0, 120) as i64,
            },
            _ => {
                let middle = pick(dice, 100, 900) as i64;
                let tiers = [(0, money(dice)), (middle, money(dice)), (2 * middle, money(dice))];
                let tiers = tiers.map(|(from, postage)| Tier { from, postage }).to_vec();
                Postage::BySpend(tiers)
            }
        };
        let least_order = [0, 0, 300, 800][pick(dice, 0, 3) as usize];
        book.sellers.push(Seller { postage, least_order, arrives: pick(dice, 1, 5) as i64 });
    }
    for item in 0..n_items {
        book.items.push(Item { one_lot: pick(dice, 0, 1) == 1 });
        for _ in 0..pick(dice, 1, 2) {
            let latest = (pick(dice, 0, 2) == 0).then(|| pick(dice, 2, 5) as i64);
            book.wants.push(Want { item, amount: pick(dice, 1, 20), latest });
        }
    }
    for _ in 0..pick(dice, 2, 7) {
        let item = pick(dice, 0, n_items as u64 - 1) as usize;
        let mut holds = vec![(item, pick(dice, 1, 12))];
        if n_items > 1 && pick(dice, 0, 3) == 0 {
            holds.push(((item + 1) % n_items, pick(dice, 1, 12)));
        }
        let price = pick(dice, 20, 500) as i64;
        book.offers.push(Offer {
            seller: pick(dice, 0, n_sellers as u64 - 1) as usize,
            holds,
            price,
            worth: pick(dice, 0, price as u64 / 2) as i64,
            most: (pick(dice, 0, 2) == 0).then(|| pick(dice, 1, 4)),
            grams: pick(dice, 0, 30),
        });
    }
    book
}
