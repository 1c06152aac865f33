//! The program handed to the solver, from an order to begin from to the packs that it found.

use super::Program;
use crate::{Book, Order, Postage};
use highs::{Col, HighsModelStatus, Model, Sense};

/// What the solver found.
pub(crate) struct Found {
    /// Packs of each offer.
    pub packs: Vec<u64>,
    /// Who supplies each want in one lot.
    pub from: Vec<Option<usize>>,
    /// What no order costs less than, minor units.
    pub bound: i64,
}

/// Why the solver gave nothing.
pub(crate) enum Nothing {
    /// There is no order.
    Infeasible,
    /// None was found in the time.
    Time,
    /// It came to no end of its own.
    Solver(String),
}

impl Program {
    /// Lets the solver work for so many seconds and branches.
    pub fn solve(
        self,
        book: &Book,
        start: Option<&Order>,
        (seconds, branches): (f64, i32),
    ) -> Result<Found, Nothing> {
        let fault = |what: &str| Nothing::Solver(what.to_owned());
        let begin = start.map(|order| self.values(book, order));
        let mut model =
            Model::try_new(self.problem).map_err(|_| fault("the program was not taken"))?;
        model.set_sense(Sense::Minimise);
        let taken = [
            model.try_set_option("threads", 1).is_ok(),
            model.try_set_option("parallel", "off").is_ok(),
            model.try_set_option("random_seed", 0).is_ok(),
            // Proofs are claimed, so no gap is left that another order could lie in.
            model.try_set_option("mip_rel_gap", 0.0).is_ok(),
            model.try_set_option("mip_abs_gap", 0.9 / self.weight as f64).is_ok(),
            model.try_set_option("time_limit", seconds).is_ok(),
            model.try_set_option("mip_max_nodes", branches).is_ok(),
        ];
        if taken.contains(&false) {
            return Err(fault("an option was not taken"));
        }
        if let Some(values) = begin {
            // Presolve loses the order to begin from, and then takes its cost in the reduced program for a
            // bound that holds (seen with HiGHS 1.16); packs of no use are gone already.
            if model.try_set_option("presolve", "off").is_err() {
                return Err(fault("an option was not taken"));
            }
            // Without it the same is found, later.
            let _ = model.try_set_solution(Some(&values), None, None, None);
        }
        let solved = model.try_solve().map_err(|_| fault("the program could not be solved"))?;
        use HighsModelStatus::{Infeasible, UnboundedOrInfeasible};
        if matches!(solved.status(), Infeasible | UnboundedOrInfeasible) {
            return Err(Nothing::Infeasible);
        }
        if solved.primal_solution_status() != highs::HighsSolutionStatus::Feasible {
            return Err(Nothing::Time);
        }
        let solution = solved.get_solution();
        let value = |column: Col| solution.columns()[column.index()].round().max(0.0) as u64;
        let packs: Vec<u64> = self.packs.iter().map(|packs| packs.map_or(0, value)).collect();
        let mut from = vec![None; book.wants.len()];
        for (seller, wants, way, _) in &self.lots {
            if value(*way) == 1 {
                wants.iter().for_each(|want| from[*want] = Some(*seller));
            }
        }
        let bound =
            solved.double_info_value(c"mip_dual_bound").map_err(|_| fault("it tells no bound"))?;
        // The extras of any order are at most `most_extra`.
        let bound = (bound - self.most_extra as f64 / self.weight as f64).ceil();
        Ok(Found { packs, from, bound: bound as i64 })
    }

    /// The values of all columns in an order.
    fn values(&self, book: &Book, order: &Order) -> Vec<f64> {
        let mut values = vec![0.0; self.n_columns];
        for (packs, column) in order.packs.iter().zip(&self.packs) {
            column.iter().for_each(|column| values[column.index()] = *packs as f64);
        }
        for parcel in &order.parcels {
            let tier = match &book.sellers[parcel.seller].postage {
                Postage::BySpend(tiers) => {
                    tiers.iter().rposition(|tier| tier.from <= parcel.goods).unwrap_or(0)
                }
                Postage::ByWeight { included_g, step_g, .. } => {
                    let steps = parcel.grams.saturating_sub(*included_g).div_ceil(*step_g);
                    let column = self.steps[parcel.seller];
                    column.iter().for_each(|column| values[column.index()] = steps as f64);
                    0
                }
            };
            let column = self.parcels[parcel.seller].get(tier);
            column.iter().for_each(|column| values[column.index()] = 1.0);
        }
        for (seller, wants, way, singly) in &self.lots {
            let served: Vec<usize> = (0..order.from.len())
                .filter(|want| order.from[*want] == Some(*seller))
                .filter(|want| book.wants[*want].item == book.wants[wants[0]].item)
                .collect();
            let chosen = if *singly { served.contains(&wants[0]) } else { served == *wants };
            values[way.index()] = f64::from(u8::from(chosen));
        }
        for ways in &self.mixes {
            let open = |seller: &usize| order.parcels.iter().any(|parcel| parcel.seller == *seller);
            let held = ways.iter().filter(|(sellers, ..)| sellers.iter().all(open));
            let way = held.min_by_key(|(_, low, _)| *low);
            way.iter().for_each(|(.., column)| values[column.index()] = 1.0);
        }
        values
    }
}
