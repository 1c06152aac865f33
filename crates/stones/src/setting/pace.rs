//! How long a hand takes to set a stone.

use crate::Stone;
use piece::{Finish, Piece, Settings};

/// Stones an hour of a practised hand, where the settings know no such stone; common practice, no
/// source.
const PRACTISED_PER_H: f64 = 300.0;

/// The studio's pace for every size of every zone.
#[derive(Debug, Clone)]
pub struct Pace {
    /// By zone, then size, min.
    each_min: Vec<Vec<f64>>,
}

impl Pace {
    /// Looks up every size of every zone.
    pub fn new(piece: &Piece, settings: &Settings) -> Self {
        let of_zone = |finish: &Finish| match finish {
            Finish::Stones(finish) => finish
                .sizes
                .iter()
                .map(|size| {
                    let known = settings
                        .stones
                        .iter()
                        .find(|one| one.material == finish.material && one.size == size.name);
                    let per_h = known.map_or(PRACTISED_PER_H, |one| one.set_per_h);
                    60.0 / if per_h > 0.0 { per_h } else { PRACTISED_PER_H }
                })
                .collect(),
            _ => Vec::new(),
        };
        Self { each_min: piece.zones.iter().map(|zone| of_zone(&zone.finish)).collect() }
    }

    /// To set one stone, min.
    pub fn min_of(&self, stone: &Stone) -> f64 {
        self.each_min[stone.zone][stone.size]
    }
}
