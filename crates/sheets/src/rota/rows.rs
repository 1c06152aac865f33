//! The rows of one week: orders, spindles, makers, with how high each is.

use super::axis::Axis;
use super::blocks::{BAR, NAME, SMALL, width};
use super::captions::{Caption, LINE, Word, lines, place};
use super::lanes::{busy_until, lanes, rests_until, span};
use super::{local, marks};
use crate::drawing::Letters;
use crate::words;
use work::rota::Rota;

/// Space above and below what a row shows, mm.
pub(super) const PAD: f64 = 1.5;
/// Height of a spindle's row, mm.
const SPINDLE: f64 = 6.0;
/// What a row with two lines of words at its left takes at least, mm.
const LEAST: f64 = 2.0 * PAD + NAME + 1.4 + SMALL + 1.0;

/// What a row is about.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum About {
    /// Index of the order, and its lanes with their captions.
    Order(usize, Vec<Lane>),
    /// Number of the spindle, from 1.
    Spindle(u32),
    /// Index of the maker, and the captions beneath her blocks.
    Maker(usize, Vec<Caption>),
}

/// Sittings beside each other.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Lane {
    /// By index.
    pub(super) sittings: Vec<usize>,
    pub(super) captions: Vec<Caption>,
}

/// One row.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Row {
    pub(super) about: About,
    /// mm.
    pub(super) height: f64,
}

/// Height of a lane with its captions, mm.
pub(super) fn lane_height(captions: &[Caption]) -> f64 {
    BAR + LINE * lines(captions) as f64
}

/// The rows of a week, orders first; an order in which nothing happens has none.
pub(super) fn rows(rota: &Rota, axis: &Axis, letters: &Letters) -> Vec<Row> {
    let orders = (0..rota.orders.len()).filter_map(|order| order_row(rota, axis, letters, order));
    let spindles =
        (1..=spindles(rota)).map(|number| Row { about: About::Spindle(number), height: SPINDLE });
    let makers = (0..rota.makers.len()).map(|maker| maker_row(rota, axis, letters, maker));
    orders.chain(spindles).chain(makers).collect()
}

/// How many spindles are drawn: all that there are, and any that is turned on.
pub(super) fn spindles(rota: &Rota) -> u32 {
    let turning = rota.sittings.iter().filter_map(|sitting| sitting.turning.as_ref());
    let used = turning.flat_map(|(numbers, _)| numbers).max();
    let there = rota.machines.first().map_or(0, |(_, count)| u32::from(*count));
    used.map_or(0, |used| there.max(*used))
}

fn order_row(rota: &Rota, axis: &Axis, letters: &Letters, order: usize) -> Option<Row> {
    let told = &rota.orders[order];
    let (_, said) = marks::drawn(rota, told, axis, (0.0, 0.0, 0.0));
    let mut lanes = lanes(rota, axis, order);
    if lanes.is_empty() && said.is_empty() {
        return None;
    }
    if lanes.is_empty() {
        lanes.push(Vec::new());
    }
    let lane = |(number, sittings): (usize, Vec<usize>)| {
        let mut words: Vec<Word> = sittings
            .iter()
            .filter_map(|&index| {
                let sitting = &rota.sittings[index];
                let (from, until) = span(rota, axis, sitting.at)?;
                let text = words::step_kind(sitting.kind).to_owned();
                axis.holds(local(rota, sitting.at.0)).then_some(Word {
                    from,
                    until,
                    text,
                    strong: false,
                })
            })
            .collect();
        if number == 0 {
            words.extend(said.iter().cloned());
        }
        Lane { sittings, captions: place(letters, words, axis.right()) }
    };
    let lanes: Vec<_> = lanes.into_iter().enumerate().map(lane).collect();
    let high: f64 = lanes.iter().map(|lane| lane_height(&lane.captions) + 0.6).sum();
    Some(Row { about: About::Order(order, lanes), height: (high + 2.0 * PAD).max(LEAST) })
}

fn maker_row(rota: &Rota, axis: &Axis, letters: &Letters, maker: usize) -> Row {
    let mine = rota.sittings.iter().filter(|sitting| sitting.maker == Some(maker));
    let words = mine.filter_map(|sitting| {
        let (from, until) = span(rota, axis, sitting.at)?;
        let text = (sitting.order + 1).to_string();
        // A number stands beneath the middle of its block.
        let side = width(letters, &text, SMALL) / 2.0;
        let middle = (from + until) / 2.0;
        let from = if until - from > 2.0 * side { middle - side } else { from };
        Some(Word { from, until, text, strong: false })
    });
    let captions = place(letters, words.collect(), axis.right());
    let height = lane_height(&captions) + 2.0 * PAD;
    Row { about: About::Maker(maker, captions), height: height.max(LEAST) }
}

/// Whether anything is done, turns, rests or leaves in the week; days that are only due are no work.
pub(super) fn anything(rota: &Rota, axis: &Axis) -> bool {
    let marks = rota.orders.iter().flat_map(|order| marks::days(rota, order));
    let mut marks = marks.filter(|(day, _)| *day == marks::Day::Leaves);
    let sittings = rota.sittings.iter().any(|sitting| {
        let until = busy_until(sitting).max(rests_until(sitting));
        span(rota, axis, (sitting.at.0, until)).is_some()
    });
    sittings || marks.any(|(_, at)| axis.holds(at))
}
