//! A piece from its four sides, all at one scale and with the axis in the middle.

use crate::camera::FILL;
use crate::cut::circle;
use crate::{Camera, Image, Scene, render_view};

/// Pixels of each picture, about.
const PIXELS: f32 = 130_000.0;
/// The narrowest and the widest picture, width over height.
const ASPECT: (f32, f32) = (0.5, 1.2);

/// A side of a piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// Where `around` is 0.
    Front,
    /// A quarter turn to the right as one looks at the front.
    Right,
    /// Half a turn.
    Back,
    /// Three quarters of a turn to the right.
    Left,
}

impl Side {
    /// All, each the next to the right of the one before.
    pub const ALL: [Self; 4] = [Self::Front, Self::Right, Self::Back, Self::Left];

    /// How far round to the right from the front it is, degrees.
    pub fn degrees(self) -> f32 {
        match self {
            Self::Front => 0.0,
            Self::Right => 90.0,
            Self::Back => 180.0,
            Self::Left => 270.0,
        }
    }
}

/// Pictures of all sides, as large as the piece asks for.
#[derive(Debug, Clone)]
pub struct Sides {
    /// Each side with its camera and picture, in the order of [`Side::ALL`].
    pub views: [(Side, Camera, Image); 4],
}

impl Sides {
    /// Draws them.
    pub fn of(scene: &Scene) -> Self {
        let (width, height) = size(scene);
        let pitch = Camera::portrait_pitch(scene);
        let views = Side::ALL.map(|side| {
            let camera = Camera::all_round(scene, side.degrees() / 360.0, pitch, width, height);
            (side, camera, render_view(scene, &camera, width, height))
        });
        Self { views }
    }

    /// Pixels across and down of each picture.
    pub fn size(&self) -> (usize, usize) {
        let image = &self.views[0].2;
        (image.width, image.height)
    }
}

/// Width and height of a picture that the piece fills well, pixels.
fn size(scene: &Scene) -> (usize, usize) {
    let points = || scene.meshes.iter().flat_map(|mesh| &mesh.positions);
    let low = points().map(|p| p.z).fold(f32::INFINITY, f32::min);
    let high = points().map(|p| p.z).fold(f32::NEG_INFINITY, f32::max);
    let radius = points().map(|p| (p.x * p.x + p.y * p.y).sqrt()).fold(0.0, f32::max);
    if !(high > low && radius.is_finite() && high.is_finite()) {
        return (400, 600);
    }
    // What is seen of a cylinder from above: its height and its lid lean by the pitch.
    let (level, up) = circle(Camera::portrait_pitch(scene));
    let tall = (high - low) * level + 2.0 * radius * up;
    let fill = FILL.1 / FILL.0;
    let aspect = (2.0 * radius / tall * fill as f32).clamp(ASPECT.0, ASPECT.1);
    let width = (PIXELS * aspect).sqrt().round();
    (width as usize, (PIXELS / width).round() as usize)
}
