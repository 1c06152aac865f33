//! How much resin to mix for one coat.

use crate::Mix;
use piece::settings::ResinProduct;

/// The mix that leaves a film of `film_mm` on `area_mm2`.
///
/// On the cup: area times thickness (cure shrinkage, 3 to 7 % by volume, is not added: it is smaller
/// than the spread of what stays in the mixing cup). Lost: the product's share of everything mixed,
/// but never less than its least amount.
pub fn mix(area_mm2: f64, film_mm: f64, resin: &ResinProduct) -> Mix {
    let on_cup_ml = area_mm2 * film_mm / 1000.0;
    let share = resin.loss.clamp(0.0, 0.95);
    let loss_ml = (on_cup_ml * share / (1.0 - share)).max(resin.least_loss_ml.max(0.0));
    let mixed_ml = on_cup_ml + loss_ml;
    let (a_parts, b_parts) = resin.ratio_by_volume;
    let a_ml = mixed_ml * a_parts / (a_parts + b_parts);
    let b_ml = mixed_ml - a_ml;
    let (a_density, b_density) = resin.density_g_per_ml;
    Mix { on_cup_ml, loss_ml, a_ml, b_ml, a_g: a_ml * a_density, b_g: b_ml * b_density }
}

/// Grams of part B to 100 g of part A, from the ratio by volume and the two densities.
pub fn b_to_100_a_by_weight(resin: &ResinProduct) -> f64 {
    let (a_parts, b_parts) = resin.ratio_by_volume;
    let (a_density, b_density) = resin.density_g_per_ml;
    100.0 * (b_parts * b_density) / (a_parts * a_density)
}
