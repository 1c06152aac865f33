//! The finished piece as meshes.

use crate::Scene;
use piece::Piece;
use shape::Shape;
use stones::Stones;

/// The finished piece as meshes.
pub fn build_scene(piece: &Piece, shape: &Shape, stones: &Stones) -> Scene {
    let _ = (piece, shape, stones);
    todo!()
}
