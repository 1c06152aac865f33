//! How well colours are mingled.

use crate::Stone;
use crate::going::Going;
use crate::space::Space;

/// Neighbours that are looked at: as many as a place in a plane has on average (Euler).
const NEIGHBOURS: usize = 6;

/// How often neighbours are of one colour.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mingling {
    /// Share of neighbours of one colour.
    pub alike: f64,
    /// The same if the colours were dealt out by chance.
    pub by_chance: f64,
}

impl Mingling {
    /// Below 1: better mingled than by chance; 1: as by chance; above: in clumps.
    pub fn against_chance(&self) -> f64 {
        self.alike / self.by_chance
    }
}

/// How often the six nearest neighbours of a stone have its own colour, against chance: a join-count
/// statistic, expected without replacement (Cliff and Ord 1981, Spatial Processes, chapter 1; from
/// memory). The stones are those of one zone. `None` where there are no two stones of one colour or
/// only one colour.
pub fn mingling(stones: &[Stone]) -> Option<Mingling> {
    mingling_while(stones, Going::always())
}

/// The same, of the stones that were looked at while it was `going`.
pub fn mingling_while(stones: &[Stone], going: Going<'_>) -> Option<Mingling> {
    let count = stones.len();
    let colours = stones.iter().map(|stone| stone.colour).max()? + 1;
    let mut of_colour = vec![0_usize; colours];
    for stone in stones {
        of_colour[stone.colour] += 1;
    }
    let pairs = |count: usize| count as f64 * count.saturating_sub(1) as f64;
    let by_chance = of_colour.iter().map(|of| pairs(*of)).sum::<f64>() / pairs(count);
    if count < 2 || by_chance == 0.0 || of_colour.contains(&count) {
        return None;
    }
    let mean_mm = stones.iter().map(|stone| stone.diameter_mm).sum::<f64>() / count as f64;
    let mut space = Space::new(2.0 * mean_mm, count);
    for stone in stones {
        space.set(stone.centre_mm, stone.diameter_mm, 0.0);
    }
    let wanted = NEIGHBOURS.min(count - 1);
    let (mut alike, mut looked) = (0_usize, 0_usize);
    let mut found = Vec::new();
    for (number, stone) in stones.iter().enumerate().take_while(|(number, _)| going.at(*number)) {
        let mut reach_mm = 2.0 * mean_mm;
        loop {
            space.within(stone.centre_mm, reach_mm, &mut found);
            if found.len() > wanted {
                break;
            }
            reach_mm *= 1.5;
        }
        found.retain(|other| *other != number);
        let away = |other: &usize| stones[*other].centre_mm.distance_squared(stone.centre_mm);
        found.sort_by(|a, b| away(a).total_cmp(&away(b)).then(a.cmp(b)));
        looked += wanted;
        alike +=
            found[..wanted].iter().filter(|other| stones[**other].colour == stone.colour).count();
    }
    Some(Mingling { alike: alike as f64 / looked as f64, by_chance })
}
