//! Pictures: the finished piece as a scene of meshes, and that scene as pixels.
//!
//! Takes a piece, its shape and stones, and gives a [`Scene`] (also what `piece.glb` is written
//! from); [`render`] makes an [`Image`] of it in software, the same on every machine.
//! It knows no prices, no times, no files.
//! Read first: `scene.rs`, then `render.rs`.

use glam::{DMat4, Vec3};
use piece::Piece;
use shape::Shape;
use stones::Stones;

/// What a mesh is made of.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Material {
    /// Brushed bare steel.
    Steel,
    /// Paint or a coloured blank, sRGB; `gloss` when clear resin lies on it.
    Paint {
        /// Colour.
        srgb: [u8; 3],
        /// Under clear resin.
        gloss: bool,
    },
    /// Glitter, sRGB and flake width; `gloss` when clear resin lies on it.
    Glitter {
        /// Colour.
        srgb: [u8; 3],
        /// Flake width, mm.
        flake_mm: f32,
        /// Under clear resin.
        gloss: bool,
    },
    /// Film, sRGB.
    Vinyl {
        /// Colour.
        srgb: [u8; 3],
        /// Under clear resin.
        gloss: bool,
    },
    /// A cut stone, sRGB.
    Stone {
        /// Colour.
        srgb: [u8; 3],
    },
    /// Clear lid plastic.
    ClearPlastic,
}

/// One mesh, triangles with shared vertices.
#[derive(Debug, Clone, PartialEq)]
pub struct Mesh {
    /// Name: part and zone.
    pub name: String,
    /// What it is made of.
    pub material: Material,
    /// Vertices, mm, z up, the piece put together and standing on z = 0, front at +x.
    pub positions: Vec<Vec3>,
    /// Unit normals; empty for meshes of flat facets.
    pub normals: Vec<Vec3>,
    /// Counter-clockwise seen from outside.
    pub triangles: Vec<[u32; 3]>,
}

/// The finished piece.
#[derive(Debug, Clone, PartialEq)]
pub struct Scene {
    /// Surfaces and stones; stones of one zone and colour are one mesh.
    pub meshes: Vec<Mesh>,
}

/// Where the eye is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Camera {
    /// View and projection.
    pub clip_from_piece: DMat4,
    /// Where the eye is, mm.
    pub eye_mm: glam::DVec3,
}

/// Pixels, row by row from the top, sRGB.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Image {
    /// Pixels across.
    pub width: usize,
    /// Pixels down.
    pub height: usize,
    /// Three bytes a pixel.
    pub rgb: Vec<u8>,
}

/// The finished piece as meshes.
pub fn build_scene(piece: &Piece, shape: &Shape, stones: &Stones) -> Scene {
    let _ = (piece, shape, stones);
    todo!()
}

/// A portrait of a scene from the front and a little above.
pub fn render(scene: &Scene, width: usize, height: usize) -> Image {
    let _ = (scene, width, height);
    todo!()
}
