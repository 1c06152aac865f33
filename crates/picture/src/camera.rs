//! Where the picture is taken from.

use crate::Scene;
use crate::cut::circle;
use glam::{DMat4, DVec3, DVec4, Vec3};
use std::collections::BTreeMap;

/// Where the eye is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Camera {
    /// View and projection.
    pub clip_from_piece: DMat4,
    /// Where the eye is, mm.
    pub eye_mm: DVec3,
}

/// Focal length over picture height of an 85 mm lens on a 24 mm by 36 mm frame held upright.
const FOCAL: f64 = 85.0 / 36.0;
/// How much of the picture the piece may fill, across and down.
pub(crate) const FILL: (f64, f64) = (0.74, 0.83);
/// How far up pictures of tall and of flat pieces are taken from, shares of a full turn.
const TALL_PITCH: f32 = 0.036;
const FLAT_PITCH: f32 = 0.17;
/// Height of a ring of the swept scene, mm, and its corners.
const RING_MM: f32 = 2.0;
const RING_CORNERS: usize = 32;
/// How far beside the axis the middle of a scene of parts side by side lies, as a share of its size.
const LOPSIDED: f32 = 0.05;
/// The piece stands this much above the middle, as a share of the picture's height.
const RAISE: f64 = 0.012;

impl Camera {
    /// A camera that frames the whole scene. `turn` and `pitch` are shares of a full turn: how far
    /// it has gone round to the right from the front, and how far up.
    pub fn framing(scene: &Scene, turn: f32, pitch: f32, width: usize, height: usize) -> Self {
        let points: Vec<Vec3> =
            scene.meshes.iter().flat_map(|mesh| mesh.positions.iter().copied()).collect();
        Self::fitted(&points, turn, pitch, width as f64 / height as f64)
    }

    /// A camera that would frame the scene at any turn: pictures from all sides are then of one
    /// scale, with the axis of the piece in the middle.
    pub fn all_round(scene: &Scene, turn: f32, pitch: f32, width: usize, height: usize) -> Self {
        Self::fitted(&swept(scene), turn, pitch, width as f64 / height as f64)
    }

    fn fitted(points: &[Vec3], turn: f32, pitch: f32, aspect: f64) -> Self {
        let (ct, st) = circle(turn);
        let (cp, sp) = circle(pitch);
        let back = Vec3::new(cp * ct, cp * st, sp);
        let right = Vec3::new(-st, ct, 0.0);
        let up = back.cross(right);
        let (mut x, mut y, mut distance) = (0.0, 0.0, 1000.0);
        for round in 0..8 {
            let mut low = [f64::INFINITY; 2];
            let mut high = [f64::NEG_INFINITY; 2];
            let mut nearest = f64::NEG_INFINITY;
            for p in points {
                let depth = distance - f64::from(p.dot(back));
                let scale = FOCAL / depth.max(1.0);
                let seen =
                    [(f64::from(p.dot(right)) - x) * scale, (f64::from(p.dot(up)) - y) * scale];
                for k in 0..2 {
                    low[k] = low[k].min(seen[k]);
                    high[k] = high[k].max(seen[k]);
                }
                nearest = nearest.max(f64::from(p.dot(back)));
            }
            if !low[0].is_finite() {
                break;
            }
            x += (low[0] + high[0]) / 2.0 * distance / FOCAL;
            y += (low[1] + high[1]) / 2.0 * distance / FOCAL;
            // Sizes are in units of the picture's height.
            let grow = ((high[0] - low[0]) / (FILL.0 * aspect)).max((high[1] - low[1]) / FILL.1);
            if round < 7 {
                distance = (distance * grow).max(nearest + 50.0);
            }
        }
        y -= RAISE * distance / FOCAL;
        let target = right.as_dvec3() * x + up.as_dvec3() * y;
        Self::new(
            target + back.as_dvec3() * distance,
            [right.as_dvec3(), up.as_dvec3(), back.as_dvec3()],
            aspect,
        )
    }

    /// How far up a portrait is best taken from, as a share of a full turn: a little above a tall
    /// piece, well above one that is flat.
    pub fn portrait_pitch(scene: &Scene) -> f32 {
        let points = || scene.meshes.iter().flat_map(|mesh| &mesh.positions);
        let low = points().fold(Vec3::INFINITY, |low, p| low.min(*p));
        let high = points().fold(Vec3::NEG_INFINITY, |high, p| high.max(*p));
        let size = high - low;
        let upright = ((size.z / size.x.max(size.y).max(1.0) - 0.1) / 1.1).clamp(0.0, 1.0);
        FLAT_PITCH + (TALL_PITCH - FLAT_PITCH) * upright.sqrt()
    }

    /// Where a place lies in the picture, as shares of its width from the left and of its height from
    /// the top.
    pub fn seen(&self, place_mm: DVec3) -> (f64, f64) {
        let clip = self.clip_from_piece * place_mm.extend(1.0);
        (clip.x / clip.w * 0.5 + 0.5, 0.5 - clip.y / clip.w * 0.5)
    }

    /// The way from the piece to the camera, not of unit length.
    pub(crate) fn back(&self) -> Vec3 {
        -self.clip_from_piece.row(3).truncate().as_vec3()
    }

    /// A camera at `eye_mm` with its own right, up and back as unit vectors at right angles.
    fn new(eye_mm: DVec3, [right, up, back]: [DVec3; 3], aspect: f64) -> Self {
        let row = |axis: DVec3, scale: f64| (axis * scale).extend(-axis.dot(eye_mm) * scale);
        let (near, far) = (10.0, 10_000.0);
        let depth = row(back, 1.0);
        let clip_from_piece = DMat4::from_cols(
            row(right, 2.0 * FOCAL / aspect),
            row(up, 2.0 * FOCAL),
            depth * ((far + near) / (near - far)) + DVec4::W * (2.0 * far * near / (near - far)),
            -depth,
        )
        .transpose();
        Self { clip_from_piece, eye_mm }
    }

    /// Directions from the eye that gain one millimetre of depth: for the middle of the picture's
    /// top left corner, and how it changes for each pixel across and down.
    pub(crate) fn rays(&self, width: usize, height: usize) -> [Vec3; 3] {
        let piece_from_clip = self.clip_from_piece.inverse();
        let seen = |x: f64, y: f64| {
            let p = piece_from_clip.project_point3(DVec3::new(x, y, 0.0)) - self.eye_mm;
            let depth = (self.clip_from_piece * (self.eye_mm + p).extend(1.0)).w;
            p / depth
        };
        let corner = seen(-1.0, 1.0);
        let across = (seen(1.0, 1.0) - corner) / width as f64;
        let down = (seen(-1.0, -1.0) - corner) / height as f64;
        [corner.as_vec3(), across.as_vec3(), down.as_vec3()]
    }
}

/// Corners of what a scene sweeps when it is turned about its middle, ring by ring.
fn swept(scene: &Scene) -> Vec<Vec3> {
    let points = || scene.meshes.iter().flat_map(|mesh| &mesh.positions);
    let low = points().fold(Vec3::INFINITY, |low, p| low.min(*p));
    let high = points().fold(Vec3::NEG_INFINITY, |high, p| high.max(*p));
    let middle = (low + high) / 2.0;
    // Stones make no piece lopsided: only parts side by side have another middle than the axis.
    let lopsided = middle.truncate().length() > LOPSIDED * (high - low).max_element();
    let middle = if lopsided { Vec3::new(middle.x, middle.y, 0.0) } else { Vec3::ZERO };
    let mut rings: BTreeMap<i32, f32> = BTreeMap::new();
    for p in points().filter(|p| p.is_finite()) {
        let away = *p - middle;
        let reach = rings.entry((p.z / RING_MM).floor() as i32).or_default();
        *reach = reach.max(away.x * away.x + away.y * away.y);
    }
    let corners = |(ring, reach): (i32, f32)| {
        // A polygon round the circle.
        let radius = reach.sqrt() / circle(0.5 / RING_CORNERS as f32).0;
        let z = (ring as f32 + 0.5) * RING_MM;
        (0..RING_CORNERS).map(move |corner| {
            let (c, s) = circle(corner as f32 / RING_CORNERS as f32);
            middle + Vec3::new(radius * c, radius * s, z)
        })
    };
    rings.into_iter().flat_map(corners).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Material, Mesh};

    #[test]
    fn the_whole_piece_is_in_the_picture_from_every_side() {
        let positions = vec![
            Vec3::new(44.0, 0.0, 0.0),
            Vec3::new(-44.0, 10.0, 0.0),
            Vec3::new(0.0, 44.0, 210.0),
            Vec3::new(0.0, -44.0, 210.0),
        ];
        let mesh = Mesh::new("block", Material::Steel, positions.clone(), vec![], vec![]);
        let scene = Scene { meshes: vec![mesh] };
        for turn in [0.0, 0.1, 0.5, 0.77] {
            let camera = Camera::framing(&scene, turn, 0.027, 900, 1100);
            let mut reach = 0.0_f64;
            for p in &positions {
                let clip = camera.clip_from_piece * p.as_dvec3().extend(1.0);
                let (x, y) = (clip.x / clip.w, clip.y / clip.w);
                assert!(x.abs() < 0.95 && y.abs() < 0.95, "{x} {y}");
                reach = reach.max(y.abs()).max(x.abs());
            }
            assert!(reach > 0.6, "it fills the picture: {reach}");
        }
    }

    #[test]
    fn a_ray_through_a_place_meets_it() {
        let scene = Scene { meshes: vec![] };
        let camera = Camera::framing(&scene, 0.13, 0.03, 300, 400);
        let place = DVec3::new(12.0, -30.0, 55.0);
        let clip = camera.clip_from_piece * place.extend(1.0);
        let pixel = ((clip.x / clip.w + 1.0) * 150.0, (1.0 - clip.y / clip.w) * 200.0);
        let [corner, across, down] = camera.rays(300, 400);
        let ray = corner + across * pixel.0 as f32 + down * pixel.1 as f32;
        let met = camera.eye_mm.as_vec3() + ray * clip.w as f32;
        assert!(met.distance(place.as_vec3()) < 1e-2, "{met}");
    }
}
