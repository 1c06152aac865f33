//! What could be bought instead of what cannot be had.

use piece::sellers::Sellers;
use piece::{StoneSize, Ware};
use stones::colour::difference;

/// Colours that are told of at most.
const COLOURS: usize = 3;

/// Goods that are near to those that cannot be had.
#[derive(Debug, Clone, PartialEq)]
pub struct Instead {
    /// What it is, as the seller tells it.
    pub ware: Ware,
    /// Index of the offer in the sellers file.
    pub offer: usize,
    /// How different the colours look: CIEDE2000; `None` for another size of the same colour.
    pub delta_e: Option<f64>,
}

/// What is near to these goods among offers with a price: the nearest colours of the same kind, material
/// and size by CIEDE2000, nearest first, of those whose sRGB is told; then the next smaller and the next
/// larger size of stones in the same colour.
pub fn instead(ware: &Ware, sellers: &Sellers) -> Vec<Instead> {
    let priced = || sellers.offers.iter().enumerate().filter(|(_, offer)| offer.price.is_some());
    let held = || {
        priced().flat_map(|(index, offer)| offer.holds.iter().map(move |(held, _)| (index, held)))
    };
    let mut colours: Vec<Instead> = Vec::new();
    if let Some(own) = ware.shade().and_then(|shade| shade.srgb) {
        for (offer, other) in held() {
            let Some(srgb) = other.shade().and_then(|shade| shade.srgb) else { continue };
            let known = colours.iter().any(|one| one.ware.is(other));
            if other.is_but_for_colour(ware) && !other.is(ware) && !known {
                let delta_e = Some(difference(own, srgb));
                colours.push(Instead { ware: other.clone(), offer, delta_e });
            }
        }
    }
    colours.sort_by(|a, b| a.delta_e.unwrap_or(0.0).total_cmp(&b.delta_e.unwrap_or(0.0)));
    colours.truncate(COLOURS);
    colours.extend(sizes(ware, held()));
    colours
}

/// The next smaller and the next larger size in the same material and colour.
fn sizes<'a>(ware: &Ware, held: impl Iterator<Item = (usize, &'a Ware)>) -> Vec<Instead> {
    let Ware::Stones { material, size, shade } = ware else { return Vec::new() };
    let mut smaller: Option<(&StoneSize, Instead)> = None;
    let mut larger: Option<(&StoneSize, Instead)> = None;
    for (offer, other) in held {
        let Ware::Stones { material: of, size: other_size, shade: other_shade } = other else {
            continue;
        };
        if of != material || !other_shade.is(shade) {
            continue;
        }
        let diameter = other_size.diameter_mm;
        let found = || (other_size, Instead { ware: other.clone(), offer, delta_e: None });
        if diameter < size.diameter_mm
            && smaller.as_ref().is_none_or(|(best, _)| best.diameter_mm < diameter)
        {
            smaller = Some(found());
        } else if diameter > size.diameter_mm
            && larger.as_ref().is_none_or(|(best, _)| best.diameter_mm > diameter)
        {
            larger = Some(found());
        }
    }
    smaller.into_iter().chain(larger).map(|(_, instead)| instead).collect()
}
