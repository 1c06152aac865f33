//! The dark line where a stone meets what it is set on.

use crate::cut::StoneFrame;
use crate::raster::{Layer, NOTHING};
use crate::studio::smoothstep;
use crate::{Camera, Scene};
use glam::Vec3;

/// A stone's surroundings on the raster: an ellipse of samples and the way back to the flat back.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Surround {
    centre: (f32, f32),
    half: (f32, f32),
    /// Rows of the map from samples to shares of the diameter.
    inverse: [(f32, f32); 2],
    depth_mm: f32,
    diameter_mm: f32,
}

/// How far from the middle the darkness reaches, in diameters.
const REACH: f32 = 0.90;

/// The surroundings of every stone that faces the eye.
pub(crate) fn surrounds(
    scene: &Scene,
    camera: &Camera,
    (width, height): (usize, usize),
) -> Vec<Surround> {
    let eye = camera.eye_mm.as_vec3();
    let seen = |p: Vec3| {
        let clip = camera.clip_from_piece * p.as_dvec3().extend(1.0);
        let x = (clip.x / clip.w * 0.5 + 0.5) * width as f64;
        let y = (0.5 - clip.y / clip.w * 0.5) * height as f64;
        (x as f32, y as f32, clip.w as f32)
    };
    let surround = |frame: &StoneFrame| {
        if frame.axes.z_axis.dot(eye - frame.centre_mm) <= 0.0 {
            return None;
        }
        // Light comes from above: the darkness lies a little lower than the stone.
        let down = Vec3::NEG_Z - frame.axes.z_axis * -frame.axes.z_axis.z;
        let middle = frame.centre_mm + down * (0.10 * frame.diameter_mm);
        let (x, y, depth_mm) = seen(middle);
        let (ax, ay, _) = seen(middle + frame.axes.x_axis * frame.diameter_mm);
        let (bx, by, _) = seen(middle + frame.axes.y_axis * frame.diameter_mm);
        let (ax, ay, bx, by) = (ax - x, ay - y, bx - x, by - y);
        let det = ax * by - ay * bx;
        if det.abs() < 0.5 || depth_mm <= 1.0 {
            return None;
        }
        let half = ((ax * ax + bx * bx).sqrt() * REACH, (ay * ay + by * by).sqrt() * REACH);
        let inverse = [(by / det, -bx / det), (-ay / det, ax / det)];
        Some(Surround { centre: (x, y), half, inverse, depth_mm, diameter_mm: frame.diameter_mm })
    };
    scene.meshes.iter().flat_map(|mesh| &mesh.stones).filter_map(surround).collect()
}

impl Surround {
    /// First and last row it touches.
    pub(crate) fn rows(&self) -> (i32, i32) {
        ((self.centre.1 - self.half.1).floor() as i32, (self.centre.1 + self.half.1).ceil() as i32)
    }

    /// Darkens the samples of a band that lie close round the stone; `is_stone` tells which seen
    /// triangles are themselves stones.
    pub(crate) fn darken(
        &self,
        open: &mut [f32],
        layer: &Layer,
        is_stone: impl Fn(u32) -> bool,
        width: usize,
        top_row: usize,
    ) {
        let rows = open.len() / width;
        let (top, bottom) = self.rows();
        let left = ((self.centre.0 - self.half.0).floor() as i32).max(0);
        let right = ((self.centre.0 + self.half.0).ceil() as i32).min(width as i32 - 1);
        for row in top.max(top_row as i32)..=bottom.min((top_row + rows) as i32 - 1) {
            let dy = row as f32 + 0.5 - self.centre.1;
            for column in left..=right {
                let at = (row as usize - top_row) * width + column as usize;
                let seen = layer.seen[at];
                if seen == NOTHING || is_stone(seen) {
                    continue;
                }
                let dx = column as f32 + 0.5 - self.centre.0;
                let [p, q] = self.inverse.map(|(a, b)| a * dx + b * dy);
                let away = p * p + q * q;
                if away >= REACH * REACH {
                    continue;
                }
                let depth = 1.0 / layer.nearness[at];
                if (depth - self.depth_mm).abs() > 1.5 * self.diameter_mm {
                    continue;
                }
                open[at] *= 1.0 - 0.60 * smoothstep(REACH, 0.42, away.sqrt());
            }
        }
    }
}
