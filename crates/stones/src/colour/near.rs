//! Who is whose neighbour among stones, and in which order to walk them.

use crate::colour::Uncoloured;
use crate::going::Going;
use crate::space::Space;
use glam::DVec3;

/// The neighbours of each stone, with a weight that falls with distance.
#[derive(Debug)]
pub struct Near {
    starts: Vec<usize>,
    others: Vec<(u32, f64)>,
}

impl Near {
    /// Neighbours up to `reach` pitches away; `weight` is asked for the weight at a distance in
    /// pitches. Later stones have none when no longer `going`.
    pub fn new(
        centres_mm: &[DVec3],
        pitch_mm: f64,
        reach: f64,
        weight: impl Fn(f64) -> f64,
        going: Going<'_>,
    ) -> Self {
        let mut space = Space::new(reach * pitch_mm, centres_mm.len());
        for centre in centres_mm {
            space.set(*centre, 0.0, 0.0);
        }
        let mut starts = vec![0];
        let (mut others, mut found) = (Vec::new(), Vec::new());
        for (number, centre) in centres_mm.iter().enumerate() {
            if !going.at(number) {
                break;
            }
            space.within(*centre, reach * pitch_mm, &mut found);
            others.extend(found.iter().filter(|other| **other != number).map(|other| {
                (*other as u32, weight(centres_mm[*other].distance(*centre) / pitch_mm))
            }));
            starts.push(others.len());
        }
        starts.resize(centres_mm.len() + 1, others.len());
        Self { starts, others }
    }

    /// Neighbours of a stone with their weights, ascending.
    pub fn of(&self, number: usize) -> impl Iterator<Item = (usize, f64)> {
        let others = &self.others[self.starts[number]..self.starts[number + 1]];
        others.iter().map(|(other, weight)| (*other as usize, *weight))
    }
}

/// The stones one row of about a pitch after the other, every second row backwards.
pub fn serpentine(stones: &Uncoloured<'_>) -> Vec<usize> {
    let row = |number: usize| (stones.at[number].along_mm / stones.pitch_mm).floor() as i64;
    let mut order: Vec<usize> = (0..stones.at.len()).collect();
    order.sort_by(|a, b| {
        let round = stones.at[*a].around.total_cmp(&stones.at[*b].around);
        let round = if row(*a) % 2 == 0 { round } else { round.reverse() };
        row(*a).cmp(&row(*b)).then(round).then(a.cmp(b))
    });
    order
}
