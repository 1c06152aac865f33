//! Colours by their shares: exact counts, evenly mingled.

use crate::chance::unit;
use crate::going::Going;
use crate::space::Space;
use glam::DVec3;
use rand_pcg::Pcg64;

/// Whole numbers that sum to `total` and come nearest to the shares (largest remainder, Hamilton's
/// method); equal remainders go to the earlier share.
pub fn counts(shares: &[f64], total: usize) -> Vec<usize> {
    let sum: f64 = shares.iter().sum();
    let exact: Vec<f64> = shares.iter().map(|share| share / sum * total as f64).collect();
    let mut counts: Vec<usize> = exact.iter().map(|value| value.floor() as usize).collect();
    let mut order: Vec<usize> = (0..shares.len()).collect();
    order.sort_by(|a, b| exact[*b].fract().total_cmp(&exact[*a].fract()).then(a.cmp(b)));
    let short = total.saturating_sub(counts.iter().sum());
    for index in order.into_iter().cycle().take(short) {
        counts[index] += 1;
    }
    counts
}

/// An index into `shares` for each centre, any when no longer `going`. Each stone takes the colour that its
/// set neighbours lack most, measured against the shares, with a little chance so that no pattern shows.
pub fn mingle(
    centres_mm: &[DVec3],
    pitch_mm: f64,
    shares: &[f64],
    mut chance: Pcg64,
    going: Going<'_>,
) -> Vec<usize> {
    let mut left = counts(shares, centres_mm.len());
    if shares.len() == 1 {
        return vec![0; centres_mm.len()];
    }
    let mut space = Space::new(2.0 * pitch_mm, centres_mm.len());
    let mut chosen: Vec<usize> = Vec::with_capacity(centres_mm.len());
    let mut near = Vec::new();
    for (number, centre) in centres_mm.iter().enumerate() {
        if !going.at(number) {
            break;
        }
        space.within(*centre, 3.2 * pitch_mm, &mut near);
        let mut seen = vec![0.0; shares.len()];
        let mut weight = 0.0;
        for other in &near {
            let away = centres_mm[*other].distance(*centre) / pitch_mm;
            let pull = 1.0 / (away * away).max(0.25);
            seen[chosen[*other]] += pull;
            weight += pull;
        }
        let stones_left = (centres_mm.len() - number) as f64;
        let lack = |colour: usize, dice: f64| {
            // What is left, rather than the share asked, keeps the last stones as mingled as the first.
            let share = left[colour] as f64 / stones_left;
            share * (weight + 1.0) - seen[colour] + 1.8 * dice * share.sqrt()
        };
        let mut best: Option<(f64, usize)> = None;
        for (colour, left) in left.iter().enumerate() {
            let dice = unit(&mut chance);
            let score = lack(colour, dice);
            if *left > 0 && best.is_none_or(|(most, _)| score > most) {
                best = Some((score, colour));
            }
        }
        let colour = best.map_or(0, |(_, colour)| colour);
        left[colour] -= 1;
        chosen.push(colour);
        space.set(*centre, pitch_mm, 0.0);
    }
    chosen.resize(centres_mm.len(), 0);
    chosen
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn counts_follow_the_largest_remainder() {
        // Exact shares 5.61, 3.06 and 1.33 of 10: floors 5, 3, 1 and the last to the largest
        // remainder (Hamilton's method).
        assert_eq!(counts(&[0.561, 0.306, 0.133], 10), [6, 3, 1]);
        assert_eq!(counts(&[1.0 / 3.0, 1.0 / 3.0, 1.0 / 3.0], 100), [34, 33, 33]);
        assert_eq!(counts(&[0.5, 0.5], 1), [1, 0]);
        assert_eq!(counts(&[1.0], 0), [0]);
    }

    #[test]
    fn colours_mingle_better_than_by_chance() {
        let mut centres = Vec::new();
        for row in 0..40 {
            for k in 0..40 {
                let x = f64::from(k) + if row % 2 == 1 { 0.5 } else { 0.0 };
                centres.push(DVec3::new(x, f64::from(row) * 0.75_f64.sqrt(), 0.0));
            }
        }
        let colours = mingle(&centres, 1.0, &[0.6, 0.4], Pcg64::new(7, 1), Going::always());
        assert_eq!(colours.iter().filter(|colour| **colour == 0).count(), 960);
        // Among touching pairs, chance alone would give 0.6² + 0.4² = 0.52 of one colour.
        let (mut alike, mut pairs) = (0, 0);
        for i in 0..centres.len() {
            for j in 0..i {
                if centres[i].distance(centres[j]) < 1.01 {
                    pairs += 1;
                    alike += u32::from(colours[i] == colours[j]);
                }
            }
        }
        let share = f64::from(alike) / f64::from(pairs);
        assert!((0.30..0.48).contains(&share), "{share}");
    }
}
