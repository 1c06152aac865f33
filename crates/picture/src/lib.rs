//! Pictures: the finished piece as a scene of meshes, and that scene as pixels.
//!
//! Takes a piece, its shape and stones, and gives a [`Scene`] (also what `piece.glb` is written
//! from); [`render`] makes an [`Image`] of it in software, the same on every machine.
//! It knows no prices, no times, no files.
//! Read first: `scene.rs`, then `render.rs`.

mod backdrop;
mod camera;
mod chance;
mod contact;
mod cut;
mod directions;
mod facets;
mod flakes;
mod glints;
mod raster;
mod region;
mod render;
mod resolve;
mod scene;
mod shade;
mod shell;
pub mod sides;
mod strips;
mod studio;
pub mod tone;
mod weights;

pub use camera::Camera;
pub use cut::StoneFrame;
pub use render::{prepare, render, render_view};
pub use scene::{Scene, build_scene};

use glam::Vec3;

/// What a mesh is made of.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Material {
    /// Brushed bare steel.
    Steel,
    /// The same under clear resin.
    CoatedSteel,
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
    /// How open to the light each vertex is, 0 to 1; empty where all are quite open. Only pictures
    /// use it.
    pub open: Vec<f32>,
    /// The stones this mesh is made of, each an equal run of vertices and triangles; empty where it
    /// is none.
    pub stones: Vec<StoneFrame>,
}

impl Mesh {
    /// A mesh that is no stones and lies open to the light.
    pub fn new(
        name: impl Into<String>,
        material: Material,
        positions: Vec<Vec3>,
        normals: Vec<Vec3>,
        triangles: Vec<[u32; 3]>,
    ) -> Self {
        let (open, stones) = (Vec::new(), Vec::new());
        Self { name: name.into(), material, positions, normals, triangles, open, stones }
    }

    /// Cut stones of one colour; empty for no stones.
    pub fn of_stones(name: impl Into<String>, srgb: [u8; 3], stones: Vec<StoneFrame>) -> Self {
        let (corners, facets) = cut::cut();
        let mut mesh = Self::new(name, Material::Stone { srgb }, vec![], vec![], vec![]);
        for (frame, first) in stones.iter().zip((0..).step_by(corners.len())) {
            mesh.positions.extend(corners.iter().map(|corner| frame.place(*corner)));
            mesh.triangles.extend(facets.iter().map(|facet| facet.map(|i| i + first)));
        }
        mesh.stones = stones;
        mesh
    }
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
