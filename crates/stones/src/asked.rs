//! One layer of a zone's stones as it is asked for.

use piece::{StoneFinish, StoneLayer, StoneSize};

/// A layer with the finish it belongs to.
#[derive(Debug, Clone, Copy)]
pub struct Asked<'a> {
    /// The whole finish of the zone.
    pub finish: &'a StoneFinish,
    /// The layer.
    pub layer: &'a StoneLayer,
}

impl<'a> Asked<'a> {
    /// Sizes of the layer, largest first, with their shares.
    pub fn sizes(&self) -> Vec<(&'a StoneSize, f64)> {
        let size = |(index, share): &(usize, f64)| (&self.finish.sizes[*index], *share);
        self.layer.sizes.iter().map(size).collect()
    }
}
