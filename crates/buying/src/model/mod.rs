//! The integer program.
//!
//! Whole numbers: packs of each offer; steps of weight beyond the first. Yes or no: each seller's parcel
//! in one of its tiers; each way in which an item may come (`choice.rs`). What a way costs at least is
//! known, so that packs in fractions cannot be had for less than whole ones.
//! The objective is price less worth and postage, in minor units, and beside it less than half a minor
//! unit for all parcels, so that of orders that cost the same the one with the fewest parcels and then
//! from the sellers named first is taken.

mod run;
mod ways;

pub(crate) use run::Nothing;

use crate::choice::Choices;
use crate::unmet::can_order;
use crate::{Book, Postage};
use highs::{Col, RowProblem};

/// The program for a book.
pub(crate) struct Program {
    problem: RowProblem,
    n_columns: usize,
    /// Packs of each offer; `None` where it cannot be of use.
    packs: Vec<Option<Col>>,
    /// Tiers of each seller's parcel; none if it cannot get an order.
    parcels: Vec<Vec<Col>>,
    /// Steps of weight by seller.
    steps: Vec<Option<Col>>,
    /// Ways in one lot: who sends, what for, and whether singly.
    lots: Vec<(usize, Vec<usize>, Col, bool)>,
    /// Other ways, by what they serve: from whom, and what it costs at least.
    mixes: Vec<Vec<(Vec<usize>, i64, Col)>>,
    /// Parts of a minor unit, in which parcels count beside their postage.
    weight: i64,
    /// No order has more of these parts.
    most_extra: i64,
}

impl Program {
    /// The program.
    pub fn new(book: &Book, choices: &[Choices], useful: &[bool]) -> Self {
        let n = book.sellers.len() as i64;
        // One parcel more weighs more than any choice of sellers; the 1 is left for rounding.
        let most_extra = n * per_parcel(n) + n * (n - 1) / 2 + 1;
        let mut program = Self {
            problem: RowProblem::default(),
            n_columns: 0,
            packs: Vec::new(),
            parcels: Vec::new(),
            steps: vec![None; book.sellers.len()],
            lots: Vec::new(),
            mixes: Vec::new(),
            // Twice the extras: rounding of the solver cannot lift a bound to the next minor unit.
            weight: 2 * most_extra + 1,
            most_extra,
        };
        program.add_packs(book, useful);
        program.add_parcels(book);
        for list in choices {
            if list.one_lot {
                program.add_lots(book, list);
            } else {
                program.add_mixes(book, list);
            }
        }
        for item in (0..book.items.len()).filter(|item| !book.items[*item].one_lot) {
            program.add_cover(book, item);
        }
        program
    }

    /// A column of whole numbers; its cost is in parts of a minor unit.
    fn whole(&mut self, cost: i64, most: u64) -> Col {
        self.n_columns += 1;
        self.problem.add_integer_column(cost as f64 / self.weight as f64, 0.0..=most as f64)
    }

    fn row_at_least(&mut self, least: f64, terms: Vec<(Col, f64)>) {
        self.problem.add_row(least.., terms);
    }

    fn add_packs(&mut self, book: &Book, useful: &[bool]) {
        for (index, offer) in book.offers.iter().enumerate() {
            let most = if useful[index] && can_order(book, offer.seller) {
                book.most_packs(index)
            } else {
                0
            };
            let cost = (offer.price - offer.worth) * self.weight;
            let column = (most > 0).then(|| self.whole(cost, most));
            self.packs.push(column);
        }
    }

    /// Packs of a seller, with a figure for each.
    fn own<'a>(
        &'a self,
        book: &'a Book,
        seller: usize,
        figure: impl Fn(usize) -> f64 + 'a,
    ) -> impl Iterator<Item = (Col, f64)> + 'a {
        let offers =
            (0..book.offers.len()).filter(move |offer| book.offers[*offer].seller == seller);
        offers.filter_map(move |offer| Some((self.packs[offer]?, figure(offer))))
    }

    fn add_parcels(&mut self, book: &Book) {
        let n = book.sellers.len() as i64;
        for (seller, told) in book.sellers.iter().enumerate() {
            let extra = per_parcel(n) + seller as i64;
            if self.own(book, seller, |_| 1.0).next().is_none() {
                self.parcels.push(Vec::new());
                continue;
            }
            let tiers: Vec<(i64, i64)> = match &told.postage {
                Postage::BySpend(tiers) => tiers.iter().map(|t| (t.from, t.postage)).collect(),
                Postage::ByWeight { first, .. } => vec![(0, *first)],
            };
            let columns: Vec<Col> = tiers
                .iter()
                .map(|(_, postage)| self.whole(postage * self.weight + extra, 1))
                .collect();
            // One tier at most, and goods for it.
            self.problem.add_row(..=1.0, columns.iter().map(|column| (*column, 1.0)));
            let goods = |offer: usize| book.offers[offer].price as f64;
            let mut reached: Vec<(Col, f64)> = self.own(book, seller, goods).collect();
            let least = tiers.iter().map(|(from, _)| -(*from.max(&told.least_order) as f64));
            reached.extend(columns.iter().copied().zip(least));
            self.row_at_least(0.0, reached);
            if tiers.windows(2).any(|two| two[1].1 > two[0].1) {
                self.add_upper_ends(book, seller, &tiers, &columns);
            }
            for offer in 0..book.offers.len() {
                if let (true, Some(packs)) =
                    (book.offers[offer].seller == seller, self.packs[offer])
                {
                    let most = book.most_packs(offer) as f64;
                    let mut terms: Vec<_> = columns.iter().map(|column| (*column, most)).collect();
                    terms.push((packs, -1.0));
                    self.row_at_least(0.0, terms);
                }
            }
            if let Postage::ByWeight { included_g, step_g, each, .. } = &told.postage {
                self.add_weight(book, seller, columns[0], (*included_g, *step_g, *each));
            }
            self.parcels.push(columns);
        }
    }

    /// Postage that rises with the goods must not be had for less by naming a lower tier.
    fn add_upper_ends(
        &mut self,
        book: &Book,
        seller: usize,
        tiers: &[(i64, i64)],
        columns: &[Col],
    ) {
        let most: f64 = (0..book.offers.len())
            .filter(|offer| book.offers[*offer].seller == seller)
            .map(|offer| book.offers[offer].price as f64 * book.most_packs(offer) as f64)
            .sum();
        let ends = (1..=tiers.len())
            .map(|next| tiers.get(next).map_or(most, |(from, _)| (from - 1) as f64));
        let mut terms: Vec<(Col, f64)> =
            self.own(book, seller, |offer| -(book.offers[offer].price as f64)).collect();
        terms.extend(columns.iter().copied().zip(ends));
        self.row_at_least(0.0, terms);
    }

    fn add_weight(
        &mut self,
        book: &Book,
        seller: usize,
        parcel: Col,
        (included_g, step_g, each): (u64, u64, i64),
    ) {
        let own = (0..book.offers.len()).filter(|offer| book.offers[*offer].seller == seller);
        let most_g: u64 = own.map(|offer| book.offers[offer].grams * book.most_packs(offer)).sum();
        let steps = self.whole(each * self.weight, most_g.div_ceil(step_g));
        self.steps[seller] = Some(steps);
        let grams = |offer: usize| -(book.offers[offer].grams as f64);
        let mut terms: Vec<(Col, f64)> = self.own(book, seller, grams).collect();
        terms.push((parcel, included_g as f64));
        terms.push((steps, step_g as f64));
        self.row_at_least(0.0, terms);
    }
}

/// What one parcel adds to the objective beside its seller's number: more than all numbers together.
fn per_parcel(sellers: i64) -> i64 {
    sellers * (sellers - 1) / 2 + 1
}
