//! From colour to colour along a way, the border between two dithered.

use crate::colour::Uncoloured;
use crate::colour::halftone::{Changes, Wanted, searched};
use crate::colour::way::Course;
use piece::Way;
use rand_core::Rng;
use rand_pcg::Pcg64;

/// Two stones swap colours only where their shares are this near, so that what is counted out along
/// the way stays counted out.
const SWAP_WITHIN: f64 = 0.03;

/// A colour for each stone, so that everywhere their shares are those of the way: pure at a stop, and
/// between two stops as near to one as it is far from the other.
pub fn dither(
    stones: &Uncoloured<'_>,
    way: &Way,
    stops: &[(f64, usize)],
    mut chance: Pcg64,
) -> Vec<usize> {
    let mut colours: Vec<usize> = stops.iter().map(|(_, colour)| *colour).collect();
    colours.sort_unstable();
    colours.dedup();
    let depth = colours.len();
    let course = Course::new(way, stones.surface);
    let mut targets = vec![0.0; stones.at.len() * depth];
    for (number, at) in stones.at.iter().enumerate() {
        if !stones.going.at(number) {
            return vec![stops[0].1; stones.at.len()];
        }
        for (colour, share) in shares(stops, course.share(*at)) {
            let part = colours.partition_point(|one| *one < colour);
            targets[number * depth + part] += share;
        }
    }
    let pure = |part: usize| (0..depth).map(|k| f64::from(u8::from(k == part))).collect();
    let wanted = Wanted {
        depth,
        targets,
        weights: vec![1.0; stones.at.len()],
        colours: (0..depth).map(pure).collect(),
        changes: Changes::Swaps(SWAP_WITHIN),
    };
    let allowed = |number: usize, part: usize| wanted.targets[number * depth + part] > 0.0;
    let mut order: Vec<(f64, u64, usize)> = (stones.at.iter().enumerate())
        .map(|(number, at)| (course.share(*at), chance.next_u64(), number))
        .collect();
    order.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
    // Stone by stone along the way, whatever colour is owed most: so every stretch of it has the
    // shares it asks for. Where in the stretch they lie best is then searched.
    let mut owed = vec![0.0; depth];
    let mut draft = vec![0; stones.at.len()];
    for (_, _, number) in order {
        let target = &wanted.targets[number * depth..(number + 1) * depth];
        for (owed, share) in owed.iter_mut().zip(target) {
            *owed += share;
        }
        let parts = (0..depth).filter(|part| allowed(number, *part));
        let most = parts.max_by(|a, b| owed[*a].total_cmp(&owed[*b])).unwrap_or(0);
        owed[most] -= 1.0;
        draft[number] = most;
    }
    let chosen = searched(stones, &wanted, draft, allowed);
    chosen.into_iter().map(|part| colours[part]).collect()
}

/// The colours at a place of the way, with their shares, which sum to 1.
fn shares(stops: &[(f64, usize)], at: f64) -> Vec<(usize, f64)> {
    let after = stops.partition_point(|(place, _)| *place <= at);
    match (after.checked_sub(1).and_then(|before| stops.get(before)), stops.get(after)) {
        (Some((from, first)), Some((to, second))) => {
            let share = (at - from) / (to - from);
            if share > 0.0 {
                vec![(*first, 1.0 - share), (*second, share)]
            } else {
                vec![(*first, 1.0)]
            }
        }
        (Some((_, only)), None) | (None, Some((_, only))) => vec![(*only, 1.0)],
        (None, None) => Vec::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn between_two_stops_the_shares_are_linear() {
        let stops = [(0.2, 4), (0.6, 1), (1.0, 4)];
        assert_eq!(shares(&stops, 0.1), [(4, 1.0)]);
        assert_eq!(shares(&stops, 0.6), [(1, 1.0)]);
        assert_eq!(shares(&stops, 1.0), [(4, 1.0)]);
        let quarter = shares(&stops, 0.3);
        assert!((quarter[0].1 - 0.75).abs() < 1e-12 && (quarter[1].1 - 0.25).abs() < 1e-12);
    }
}
