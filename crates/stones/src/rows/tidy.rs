//! Filling the holes that rows leave along ragged edges and where counts change.

use crate::bed::Bed;
use crate::fill::Spot;
use shape::SurfacePoint;
use std::cmp::Ordering;
use std::collections::BinaryHeap;

/// A spot to try, the one nearest to the rim first.
#[derive(Debug, Clone, Copy)]
struct Try {
    at: SurfacePoint,
    row: u32,
}

impl Ord for Try {
    fn cmp(&self, other: &Self) -> Ordering {
        other
            .at
            .along_mm
            .total_cmp(&self.at.along_mm)
            .then(other.at.around.total_cmp(&self.at.around))
    }
}
impl PartialOrd for Try {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}
impl PartialEq for Try {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}
impl Eq for Try {}

/// Stones looked at before asking whether to go on.
const AT_ONCE: usize = 128;

/// Lays a stone wherever a whole one still fits against two stones or a stone and an edge, while it
/// is `going`.
pub fn fill_holes(
    bed: &mut Bed<'_>,
    diameter_mm: f64,
    size: usize,
    going: &mut dyn FnMut(&Bed<'_>) -> bool,
) {
    let mut tries = BinaryHeap::new();
    for number in 0..bed.laid.len() {
        if number % AT_ONCE == 0 && !going(bed) {
            return;
        }
        offer(bed, number, diameter_mm, &mut tries);
    }
    let mut tried = 0_usize;
    while let Some(Try { at, row }) = tries.pop() {
        tried += 1;
        if tried.is_multiple_of(AT_ONCE) && !going(bed) {
            return;
        }
        if let Some(number) = bed.try_lay(Spot { at, size, row }, diameter_mm) {
            offer(bed, number, diameter_mm, &mut tries);
        }
    }
}

fn offer(bed: &Bed<'_>, number: usize, diameter_mm: f64, tries: &mut BinaryHeap<Try>) {
    let mut near = Vec::new();
    bed.neighbours(number, 1.25 * bed.touching_mm(number, diameter_mm), &mut near);
    if near.len() >= 6 {
        return;
    }
    let row = bed.laid[number].spot.row;
    let mut offer_at = |at: SurfacePoint| {
        if bed.takes(at, diameter_mm) {
            tries.push(Try { at, row });
        }
    };
    bed.neighbours(number, 2.0 * bed.touching_mm(number, diameter_mm), &mut near);
    for other in near {
        bed.spots_on_two(number, other, diameter_mm).into_iter().flatten().for_each(&mut offer_at);
    }
    let mut flush = Vec::new();
    bed.spots_on_edge(number, diameter_mm, &mut flush);
    flush.into_iter().for_each(offer_at);
}
