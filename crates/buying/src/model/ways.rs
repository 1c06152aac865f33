//! Rows that tie packs to what is wanted: cover, and the ways in which an item may come.

use super::Program;
use crate::Book;
use crate::choice::{Choices, cost_for};
use crate::cover::gcd;
use highs::Col;

impl Program {
    /// For each last day of an item that may come from anyone: what is wanted by then from those who
    /// deliver by then. A pack counts for no more than is wanted, which cuts off fractions of large packs.
    pub(super) fn add_cover(&mut self, book: &Book, item: usize) {
        let wants = || book.wants.iter().filter(|want| want.item == item);
        let mut days: Vec<Option<i64>> = wants().map(|want| want.latest).collect();
        days.sort_by_key(|day| day.unwrap_or(i64::MAX));
        days.dedup();
        for day in days {
            let in_it =
                |latest: Option<i64>| day.is_none_or(|day| latest.is_some_and(|own| own <= day));
            let needed: u64 =
                wants().filter(|want| in_it(want.latest)).map(|want| want.amount).sum();
            let offers: Vec<(Col, u64)> = (0..book.offers.len())
                .filter(|offer| book.in_time(book.offers[*offer].seller, day))
                .filter_map(|offer| Some((self.packs[offer]?, book.held(offer, item).min(needed))))
                .filter(|(_, held)| *held > 0)
                .collect();
            let unit = offers.iter().fold(0, |unit, (_, held)| gcd(unit, *held)).max(1);
            let terms = offers.iter().map(|(packs, held)| (*packs, (held / unit) as f64)).collect();
            self.row_at_least(needed.div_ceil(unit) as f64, terms);
        }
    }

    /// Each want of the item by one way, and from each seller as much as its ways take.
    pub(super) fn add_lots(&mut self, book: &Book, list: &Choices) {
        let first = self.lots.len();
        for way in &list.ways {
            let column = self.whole(0, 1);
            self.lots.push((way.sellers[0], way.wants.clone(), column, list.singly));
        }
        let own = self.lots[first..].to_vec();
        for seller in 0..book.sellers.len() {
            let ways = || list.ways.iter().zip(&own).filter(|(_, (sender, ..))| *sender == seller);
            if ways().next().is_none() {
                continue;
            }
            let mut opened: Vec<(Col, f64)> =
                self.parcels[seller].iter().map(|tier| (*tier, 1.0)).collect();
            if list.singly {
                for (_, (.., column, _)) in ways() {
                    let one = opened.iter().copied().chain([(*column, -1.0)]);
                    self.row_at_least(0.0, one.collect());
                }
            } else {
                opened.extend(ways().map(|(_, (.., column, _))| (*column, -1.0)));
                self.row_at_least(0.0, opened);
            }
            let amount = |wants: &[usize]| -> u64 {
                wants.iter().map(|want| book.wants[*want].amount).sum()
            };
            let held = |offer: usize| book.held(offer, list.item) as f64;
            let mut supply: Vec<_> =
                self.own(book, seller, held).filter(|(_, held)| *held > 0.0).collect();
            supply.extend(
                ways().map(|(way, (.., column, _))| (*column, -(amount(&way.wants) as f64))),
            );
            self.row_at_least(0.0, supply);
            self.add_low(
                book,
                list.item,
                &[seller],
                ways().map(|(way, (.., column, _))| (*column, way.low)).collect(),
            );
        }
        let mut wants: Vec<usize> = own.iter().flat_map(|(_, wants, ..)| wants.clone()).collect();
        wants.sort_unstable();
        wants.dedup();
        for want in wants {
            let serve = own.iter().filter(|(_, wants, ..)| wants.contains(&want));
            self.problem.add_row(
                1.0..=1.0,
                serve.map(|(.., column, _)| (*column, 1.0)).collect::<Vec<_>>(),
            );
        }
    }

    /// One way for what is wanted by a day, from sellers that get an order.
    pub(super) fn add_mixes(&mut self, book: &Book, list: &Choices) {
        let columns: Vec<Col> = list.ways.iter().map(|_| self.whole(0, 1)).collect();
        let ways = || list.ways.iter().zip(&columns);
        self.problem
            .add_row(1.0..=1.0, columns.iter().map(|column| (*column, 1.0)).collect::<Vec<_>>());
        let mut sellers: Vec<usize> =
            list.ways.iter().flat_map(|way| way.sellers.clone()).collect();
        sellers.sort_unstable();
        sellers.dedup();
        for seller in &sellers {
            let mut opened: Vec<(Col, f64)> =
                self.parcels[*seller].iter().map(|tier| (*tier, 1.0)).collect();
            let of_it = ways().filter(|(way, _)| way.sellers.contains(seller));
            opened.extend(of_it.map(|(_, column)| (*column, -1.0)));
            self.row_at_least(0.0, opened);
        }
        self.add_low(
            book,
            list.item,
            &sellers,
            ways().map(|(way, column)| (*column, way.low)).collect(),
        );
        self.mixes
            .push(ways().map(|(way, column)| (way.sellers.clone(), way.low, *column)).collect());
    }

    /// Packs of the item from these sellers cost no less than the way that is chosen.
    fn add_low(&mut self, book: &Book, item: usize, sellers: &[usize], ways: Vec<(Col, i64)>) {
        let mut terms: Vec<(Col, f64)> = Vec::new();
        for offer in 0..book.offers.len() {
            if let (true, true, Some(packs)) = (
                sellers.contains(&book.offers[offer].seller),
                book.held(offer, item) > 0,
                self.packs[offer],
            ) {
                terms.push((packs, cost_for(book, offer, item) as f64));
            }
        }
        terms.extend(ways.into_iter().map(|(column, low)| (column, -(low as f64))));
        self.row_at_least(0.0, terms);
    }
}
