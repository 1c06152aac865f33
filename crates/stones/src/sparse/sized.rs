//! Which size each single stone has.

use super::Accents;
use crate::fill::{Order, Spot};
use crate::graded::Steps;
use piece::Blend;
use piece::chance::unit_of;
use rand_core::Rng;
use shape::SurfacePoint;
use std::f64::consts::PI;

/// The places in an order of chance, each with its throw of the dice.
fn waiting(field: &Accents<'_>) -> Vec<(u64, SurfacePoint)> {
    let mut chance = field.chance.clone();
    let mut waiting: Vec<(u64, SurfacePoint)> =
        field.places.iter().map(|at| (chance.next_u64(), *at)).collect();
    waiting.sort_by_key(|(dice, _)| *dice);
    waiting
}

fn takes(field: &Accents<'_>, at: SurfacePoint, diameter_mm: f64) -> bool {
    field.bed.takes(at, diameter_mm) && field.ground.allows(at, diameter_mm)
}

/// Gives every place the size that is asked for there, or else the next smaller one that it holds.
/// Between two sizes chance decides, the likelier the nearer.
pub(super) fn graded(field: &Accents<'_>, order: &Order, steps: &Steps) -> Vec<Spot> {
    let mut left: Vec<usize> = (0..order.sizes.len())
        .map(|size| order.most.get(size).copied().flatten().unwrap_or(usize::MAX))
        .collect();
    let mut spots = Vec::new();
    for (dice, at) in waiting(field) {
        let first = (steps.asked(at) + unit_of(dice)).floor() as usize;
        let found = (first.min(left.len() - 1)..left.len())
            .find(|size| left[*size] > 0 && takes(field, at, order.sizes[*size].0));
        if let Some(size) = found {
            left[size] -= 1;
            spots.push(Spot { at, size, row: 0 });
        }
    }
    spots
}

/// Gives every place its size by the shares: the largest by chance among the places that hold them.
pub(super) fn shared(field: &Accents<'_>, order: &Order) -> Vec<Spot> {
    let area = |diameter_mm: f64| PI / 4.0 * diameter_mm * diameter_mm;
    let weights: Vec<f64> = order
        .sizes
        .iter()
        .map(|(diameter_mm, share)| match order.blend {
            Blend::Area => share / area(*diameter_mm),
            Blend::Count | Blend::Free => *share,
        })
        .collect();
    let sum: f64 = weights.iter().sum();
    let mut ladder: Vec<usize> = (0..order.sizes.len()).collect();
    ladder.sort_by(|a, b| order.sizes[*b].0.total_cmp(&order.sizes[*a].0));
    let mut waiting = waiting(field);
    let mut spots = Vec::with_capacity(waiting.len());
    let mut due = 0.0;
    for (step, size) in ladder.iter().copied().enumerate() {
        let diameter_mm = order.sizes[size].0;
        // What is rounded off goes to the next size.
        due += weights[size] / sum * field.places.len() as f64;
        let most = order.most.get(size).copied().flatten().unwrap_or(usize::MAX);
        let last = step + 1 == ladder.len();
        let count = if last { waiting.len() } else { due.round().max(0.0) as usize }.min(most);
        let mut taken = 0;
        waiting.retain(|(_, at)| {
            let fits = taken < count && takes(field, *at, diameter_mm);
            if fits {
                taken += 1;
                spots.push(Spot { at: *at, size, row: 0 });
            }
            !fits
        });
        due -= taken as f64;
    }
    spots
}
