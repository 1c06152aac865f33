//! Clear distances between stones that are neighbours.

use super::{Disc, Gaps, mean_and_spread, widest_mm};
use crate::going::Going;
use crate::space::Space;

/// Rounding, mm.
const ROUNDING_MM: f64 = 1e-6;

/// Two neighbours, by their places in the list of stones.
#[derive(Debug, Clone, Copy)]
pub struct Pair {
    pub stones: [usize; 2],
    /// From girdle to girdle, mm.
    pub gap_mm: f64,
}

impl Gaps {
    /// Of all these gaps; `None` without any.
    pub(super) fn of(mut all: Vec<f64>) -> Option<Self> {
        let (mean_mm, spread_mm) = mean_and_spread(&all)?;
        all.sort_by(f64::total_cmp);
        Some(Self {
            pairs: all.len(),
            mean_mm,
            spread_mm,
            least_mm: all[0],
            nine_in_ten_mm: all[(9 * all.len()).div_ceil(10) - 1],
        })
    }
}

/// All pairs of neighbours; `own_mm` is the side of the square that a stone has to itself.
pub fn pairs(discs: &[Disc], space: &Space, own_mm: f64, going: Going<'_>) -> Vec<Pair> {
    let widest_mm = widest_mm(discs);
    let (mut found, mut beside) = (Vec::new(), Vec::new());
    let mut all: Vec<Pair> = Vec::with_capacity(3 * discs.len());
    for (number, disc) in discs.iter().enumerate().take_while(|(number, _)| going.at(*number)) {
        space.within(disc.centre_mm, disc.radius_mm + own_mm + widest_mm, &mut found);
        let clear = |other: usize| {
            discs[other].centre_mm.distance(disc.centre_mm)
                - discs[other].radius_mm
                - disc.radius_mm
        };
        beside.clear();
        beside.extend(
            found
                .iter()
                .filter(|other| **other != number)
                .map(|other| (clear(*other), *other))
                .filter(|(gap_mm, _)| *gap_mm <= own_mm),
        );
        beside.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        // What touches the circle between this stone and another is nearer to this one than the
        // other is, so that it stands before it in the list; or as near, with rounding.
        for (place, (gap_mm, other)) in beside.iter().enumerate() {
            if *other < number {
                continue;
            }
            let way = (discs[*other].centre_mm - disc.centre_mm).normalize_or_zero();
            let middle = disc.centre_mm + way * (disc.radius_mm + gap_mm / 2.0);
            let touches = |third: usize| {
                let reach_mm = discs[third].radius_mm + gap_mm / 2.0 + ROUNDING_MM;
                discs[third].centre_mm.distance_squared(middle) <= reach_mm * reach_mm
            };
            let until = beside[place..].partition_point(|next| next.0 <= gap_mm + ROUNDING_MM);
            let before = &beside[..place + until];
            if !before.iter().any(|(_, third)| third != other && touches(*third)) {
                all.push(Pair { stones: [number, *other], gap_mm: *gap_mm });
            }
        }
    }
    all
}
