//! Which colour each stone of a layer has: mingled, along a gradient, or as in a picture.

mod difference;
mod gradient;
mod halftone;
mod hull;
mod mingle;
mod mingling;
mod near;
mod outside;
mod picture;
mod way;

pub(crate) use difference::told_by_letter;
pub use difference::{ciede2000, difference, near_colours};
pub(crate) use mingling::mingling_while;
pub use mingling::{Mingling, mingling};
pub(crate) use outside::outside;
pub use picture::picture_difference;
pub(crate) use picture::picture_difference_while;
pub use way::Course;

use crate::going::Going;
use glam::DVec3;
use piece::{Colour, Colouring, StoneLayer};
use rand_pcg::Pcg64;
use shape::{Surface, SurfacePoint};

/// The stones of a layer that wait for their colours, from the rim down.
#[derive(Debug, Clone, Copy)]
pub struct Uncoloured<'a> {
    /// The surface they are set on.
    pub surface: &'a Surface,
    /// Where on it each lies.
    pub at: &'a [SurfacePoint],
    /// Centres of the flat backs, mm.
    pub centres_mm: &'a [DVec3],
    /// Diameters, mm.
    pub diameters_mm: &'a [f64],
    /// From stone to stone on average, mm.
    pub pitch_mm: f64,
    /// Whether to go on; when not, any colours will do.
    pub going: Going<'a>,
}

/// A colour for each stone, as an index into `palette`, the colours of the piece.
pub fn give(
    stones: &Uncoloured<'_>,
    layer: &StoneLayer,
    palette: &[Colour],
    chance: Pcg64,
) -> Vec<usize> {
    match &layer.colouring {
        Colouring::Mingled => {
            let shares: Vec<f64> = layer.colours.iter().map(|(_, share)| *share).collect();
            let chosen =
                mingle::mingle(stones.centres_mm, stones.pitch_mm, &shares, chance, stones.going);
            chosen.into_iter().map(|index| layer.colours[index].0).collect()
        }
        Colouring::Gradient { way, stops } => gradient::dither(stones, way, stops, chance),
        Colouring::Picture(picture) => {
            let choice: Vec<usize> = layer.colours.iter().map(|(colour, _)| *colour).collect();
            picture::set(stones, picture, &choice, palette)
        }
    }
}
