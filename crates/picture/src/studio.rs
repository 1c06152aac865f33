//! The photographer's studio, made in code: a dim room, soft boxes, and many tiny lamps.
//!
//! Frame: z up, the camera stands towards +x, so that -y is at its left hand.

use crate::chance::units;
use crate::cut::circle;
use crate::directions::DirectionMap;
use glam::Vec3;

/// What surfaces of different gloss see of the studio.
#[derive(Debug)]
pub(crate) struct Studio {
    /// Soft boxes and tiny lamps, sharp: what facets flash with.
    pub(crate) sparkle: DirectionMap,
    /// The same, a little soft: for flakes smaller than a pixel.
    pub(crate) sparkle_soft: DirectionMap,
    /// Soft boxes without the tiny lamps: what clear coats and steel mirror.
    pub(crate) boxes: DirectionMap,
    /// The same, a little soft: what brushed steel mirrors.
    pub(crate) brushed: DirectionMap,
    /// Soft boxes as a satin surface mirrors them.
    pub(crate) satin: DirectionMap,
    /// Mean light on a matt surface.
    pub(crate) matt: DirectionMap,
}

/// A rectangle of light, far away.
struct SoftBox {
    towards: Vec3,
    right: Vec3,
    up: Vec3,
    /// Half width and height as tangents of angles.
    half: (f32, f32),
    /// How wide its edges fade, as a tangent.
    fade: f32,
    light: Vec3,
}

impl SoftBox {
    /// `round` and `high` in degrees: right of the camera, and over the level.
    fn new(round: f32, high: f32, width: f32, height: f32, light: Vec3) -> Self {
        let (cr, sr) = circle(round / 360.0);
        let (ch, sh) = circle(high / 360.0);
        let towards = Vec3::new(ch * cr, ch * sr, sh);
        let right = Vec3::new(-sr, cr, 0.0);
        let half_tangent = |angle: f32| {
            let (c, s) = circle(angle / 720.0);
            s / c
        };
        let half = (half_tangent(width), half_tangent(height));
        Self { towards, right, up: towards.cross(right), half, fade: 0.035, light }
    }

    /// The same, fading all the way from its middle.
    fn without_edges(self) -> Self {
        Self { fade: self.half.0.max(self.half.1), ..self }
    }

    /// Brightest in the middle, as cloth before a lamp is; edges fade within a degree or two.
    fn light(&self, d: Vec3) -> Vec3 {
        let depth = d.dot(self.towards);
        if depth <= 0.05 {
            return Vec3::ZERO;
        }
        let x = (d.dot(self.right) / depth / self.half.0).abs();
        let y = (d.dot(self.up) / depth / self.half.1).abs();
        let edge =
            |v: f32, half: f32| smoothstep(1.0, (1.0 - self.fade / half.max(0.05)).max(0.0), v);
        let cover = edge(x, self.half.0) * edge(y, self.half.1);
        self.light * (cover * (1.0 - 0.35 * (0.6 * x * x + 0.4 * y * y).min(1.0)))
    }
}

impl Studio {
    /// Hangs the lamps.
    pub(crate) fn new() -> Self {
        let soft_boxes = soft_boxes();
        let boxes = DirectionMap::new(384, |d| {
            soft_boxes.iter().fold(room(d), |light, soft_box| light + soft_box.light(d))
        });
        let mut sparkle = boxes.clone();
        for i in 0..LAMPS {
            let (towards, angle, light) = lamp(i);
            let edge = libm::cosf(angle);
            let inner = libm::cosf(angle * 0.7);
            sparkle.splat(towards, angle, |d| light * smoothstep(edge, inner, d.dot(towards)));
        }
        let brushed = boxes.halved().halved();
        let coarse = brushed.halved();
        Self {
            sparkle_soft: sparkle.halved().halved(),
            satin: coarse.blurred(64, |c| {
                let (c2, c4) = (c * c, c * c * c * c);
                c4 * c4 * c4 * c4 * c4 * c2
            }),
            matt: coarse.blurred(40, |c| c),
            sparkle,
            brushed,
            boxes,
        }
    }
}

/// Walls, ceiling, and the warm table below.
fn room(d: Vec3) -> Vec3 {
    let wall = Vec3::new(0.150, 0.146, 0.150) * (1.0 + 0.5 * d.z);
    let table = Vec3::new(0.56, 0.50, 0.45);
    // What lies behind the piece is the lit backdrop.
    let behind = smoothstep(-0.35, -0.95, d.x) * 0.30;
    let wall = wall + Vec3::new(1.0, 0.96, 0.92) * behind;
    wall.lerp(table, smoothstep(0.03, -0.22, d.z))
}

fn soft_boxes() -> Vec<SoftBox> {
    let warm = Vec3::new(1.0, 0.95, 0.88);
    let cool = Vec3::new(0.90, 0.955, 1.0);
    let white = Vec3::ONE;
    vec![
        // Key, tall strip at the left; rim, narrow strip at the right; large cloth overhead.
        SoftBox::new(-62.0, 18.0, 20.0, 78.0, warm * 8.0),
        SoftBox::new(80.0, 14.0, 9.0, 74.0, cool * 6.5),
        SoftBox::new(0.0, 76.0, 62.0, 34.0, white * 4.6),
        // Fill beside and above the camera.
        SoftBox::new(-21.0, 27.0, 17.0, 12.0, warm * 4.4),
        SoftBox::new(27.0, 33.0, 11.0, 11.0, cool * 4.6),
        SoftBox::new(3.0, -17.0, 40.0, 9.0, warm * 1.3).without_edges(),
        // Kickers from behind on both sides.
        SoftBox::new(-128.0, 24.0, 12.0, 60.0, white * 5.0),
        SoftBox::new(132.0, 20.0, 14.0, 56.0, warm * 4.0),
    ]
}

const LAMPS: u32 = 320;

/// Direction, angular radius and light of a tiny lamp.
fn lamp(i: u32) -> (Vec3, f32, Vec3) {
    let [round, high, size] = units([i, 0x1a_3b, 2]);
    let [strength, tint, _] = units([i, 0x1a_3b, 3]);
    let z = -0.30 + 1.22 * high;
    let (c, s) = circle(round);
    let level = (1.0 - z * z).max(0.0).sqrt();
    let colour = match (tint * 4.0) as u32 {
        0 => Vec3::ONE,
        1 => Vec3::new(1.0, 0.90, 0.74),
        2 => Vec3::new(0.78, 0.88, 1.0),
        _ => Vec3::new(1.0, 0.84, 0.90),
    };
    // Most are small and strong, some larger and mild.
    let (angle, light) = if i.is_multiple_of(4) {
        (0.035 + 0.06 * size, 1.2 + 2.6 * strength)
    } else {
        (0.011 + 0.016 * size, 26.0 + 60.0 * strength)
    };
    (Vec3::new(level * c, level * s, z), angle, colour * light)
}

/// 0 before `from`, 1 after `to`, smooth between; `from` may be the larger.
pub(crate) fn smoothstep(from: f32, to: f32, v: f32) -> f32 {
    let t = ((v - from) / (to - from)).clamp(0.0, 1.0);
    t * t * (3.0 - 2.0 * t)
}
