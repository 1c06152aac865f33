//! The stones about a place while all the others lie still, and how other stones take their places.

use crate::pack::board::{Board, Disc};
use crate::pack::chart::{Place, distance_squared};
use crate::pack::laid::Laid;

/// A place with the stones about it.
pub struct Window {
    /// Indices into the stones of the zone, ascending.
    pub moving: Vec<usize>,
    /// What they may touch.
    pub still: Vec<Disc>,
    pub middle: Place,
    pub within_mm: f64,
}

impl Window {
    /// The stones nearer to a place than `within_mm`, and the others nearer than `beyond_mm`.
    pub fn about(
        board: &Board,
        laid: &Laid,
        middle: &Place,
        within_mm: f64,
        beyond_mm: f64,
    ) -> Self {
        let fixed = board.fixed.len();
        let (mut moving, mut still) = (Vec::new(), Vec::new());
        laid.near(board, middle, beyond_mm, |number| {
            let disc = &laid.discs[number];
            let away = distance_squared(&disc.place, middle);
            if number >= fixed && away < within_mm * within_mm {
                moving.push(number - fixed);
            } else if away < beyond_mm * beyond_mm {
                still.push(*disc);
            }
            true
        });
        moving.sort_unstable();
        Self { moving, still, middle: *middle, within_mm }
    }
}

/// Puts other stones, more or fewer, in the places of those of windows that do not touch.
pub fn take_over(ours: &mut Vec<Disc>, found: impl Iterator<Item = (Vec<usize>, Vec<Disc>)>) {
    let mut gone: Vec<usize> = Vec::new();
    for (moving, discs) in found {
        gone.extend(moving.iter().skip(discs.len()));
        for (k, disc) in discs.into_iter().enumerate() {
            match moving.get(k) {
                Some(number) => ours[*number] = disc,
                None => ours.push(disc),
            }
        }
    }
    gone.sort_unstable();
    for number in gone.into_iter().rev() {
        ours.remove(number);
    }
}
