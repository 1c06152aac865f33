//! Light in a cut stone: in through a facet, off the mirrored facets below, out again.

use crate::chance::units;
use crate::cut::{StoneFrame, TABLE_HEIGHT, circle};
use crate::shade::{Lights, fresnel, reflect};
use crate::studio::smoothstep;
use crate::tone::luminance;
use glam::Vec3;

/// Refractive index of crown glass (about 1.52: any optics handbook) a little raised, as makers of
/// stones choose their glass.
const INDEX: f32 = 1.56;

/// Facets below the girdle: inward unit normals and distance from the middle of the flat back.
#[derive(Debug)]
pub(crate) struct Pavilion {
    facets: Vec<(Vec3, f32)>,
}

impl Pavilion {
    /// Eight main facets, and between them eight narrower ones that are steeper.
    pub(crate) fn new() -> Self {
        let facet = |turn: f32, slope: f32, depth: f32| {
            let (c, s) = circle(turn);
            let normal = Vec3::new(-c * slope, -s * slope, 1.0).normalize();
            (normal, -depth * normal.z)
        };
        let mains = (0..8).map(|i| facet((i as f32 + 0.5) / 8.0, 0.42, 0.22));
        let halves = (0..8).map(|i| facet(i as f32 / 8.0, 0.66, 0.315));
        Self { facets: mains.chain(halves).collect() }
    }

    /// The facet a ray from inside meets first: its normal and how far away it is.
    fn meet(&self, from: Vec3, ray: Vec3) -> (Vec3, f32) {
        let mut nearest = (Vec3::Z, f32::MAX);
        for (normal, offset) in &self.facets {
            let speed = normal.dot(ray);
            if speed < -1e-4 {
                let way = (offset - normal.dot(from)) / speed;
                if way > 0.0 && way < nearest.1 {
                    nearest = (*normal, way);
                }
            }
        }
        nearest
    }
}

/// One facet of one stone, ready to be lit.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Facet {
    frame: StoneFrame,
    /// In the stone's axes.
    normal: Vec3,
    tint: Vec3,
}

impl Facet {
    /// `key` tells stones apart: no two are quite of one colour.
    pub(crate) fn new(frame: StoneFrame, corners: [Vec3; 3], colour: Vec3, key: u32) -> Self {
        let [a, b, c] = corners;
        let normal = (b - a).cross(c - a).normalize_or(frame.axes.z_axis);
        let [strength, warmth, _] = units([key, 0x0c_01, 7]);
        let tint = colour
            * (0.86 + 0.28 * strength)
            * Vec3::new(1.0 + 0.05 * (warmth - 0.5), 1.0, 1.0 - 0.05 * (warmth - 0.5));
        Self { frame, normal: self_axes(&frame, normal), tint }
    }

    /// Light towards the eye from a place on the facet.
    pub(crate) fn light(
        &self,
        at: Vec3,
        view: Vec3,
        pavilion: &Pavilion,
        lights: &Lights<'_>,
    ) -> Vec3 {
        let place = self_axes(&self.frame, at - self.frame.centre_mm) / self.frame.diameter_mm;
        let view = self_axes(&self.frame, view);
        let facing = self.normal.dot(view).max(0.0);
        let mirrored = fresnel(0.055, facing);
        let outer = lights.sparkle(self.frame.axes * reflect(view, self.normal));

        let inward = refract(-view, self.normal, 1.0 / INDEX);
        let (below, way) = pavilion.meet(place, inward);
        let bounced = reflect(-inward, below);
        let leaving = if bounced.z > 0.05 { bounced } else { reflect(-bounced, Vec3::Z) };
        // Out through the table; rays too flat to leave it are turned back and come out paler.
        let flat = INDEX * INDEX * (1.0 - leaving.z * leaving.z);
        let out = if flat < 1.0 {
            Vec3::new(leaving.x * INDEX, leaving.y * INDEX, (1.0 - flat).sqrt())
        } else {
            Vec3::new(leaving.x, leaving.y, leaving.z.max(0.2)).normalize()
        };
        let inner = lights.sparkle(self.frame.axes * out);

        // Colour deepens with the way through the glass; a mean stone shows the named colour.
        let depth = ((way + 0.12) * 1.9).clamp(0.55, 1.6);
        let body = self.tint * (1.0 + (1.0 - depth) * 0.55);
        let hot = smoothstep(2.4, 10.0, luminance(inner)) * 0.75;
        let inside = body * (inner * 1.5 + 0.055) + Vec3::splat(hot);
        // Near the girdle little light comes in past the neighbours.
        let open = 0.42 + 0.58 * smoothstep(-0.02, 0.6 * TABLE_HEIGHT, place.z);
        (inside * (1.0 - mirrored) + outer.min(Vec3::splat(16.0)) * mirrored) * open
    }
}

/// A direction in the stone's axes.
fn self_axes(frame: &StoneFrame, v: Vec3) -> Vec3 {
    let a = &frame.axes;
    Vec3::new(a.x_axis.dot(v), a.y_axis.dot(v), a.z_axis.dot(v))
}

/// Snell's law: `ratio` is the index outside over the index inside; always enters a denser glass.
fn refract(ray: Vec3, normal: Vec3, ratio: f32) -> Vec3 {
    let cosine = -ray.dot(normal);
    let inside = 1.0 - ratio * ratio * (1.0 - cosine * cosine);
    ray * ratio + normal * (ratio * cosine - inside.max(0.0).sqrt())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_ray_bends_by_snells_law() {
        // sin a = n sin b; 30 degrees in air is 18.71 degrees in an index of 1.56.
        let a = 30.0_f32.to_radians();
        let bent = refract(Vec3::new(a.sin(), 0.0, -a.cos()), Vec3::Z, 1.0 / INDEX);
        assert!((bent.length() - 1.0).abs() < 1e-5);
        assert!((bent.x - a.sin() / INDEX).abs() < 1e-6);
    }

    #[test]
    fn every_ray_into_a_stone_meets_a_facet_below() {
        let pavilion = Pavilion::new();
        for i in 0..400 {
            let [x, y, z] = units([i, 2, 3]);
            let from = Vec3::new(0.7 * x - 0.35, 0.7 * y - 0.35, 0.05 + 0.2 * z);
            let [a, b, _] = units([i, 4, 5]);
            let ray = Vec3::new(a - 0.5, b - 0.5, -1.0).normalize();
            let (normal, way) = pavilion.meet(from, ray);
            assert!(way > 0.0 && way < 2.0 && normal.dot(ray) < 0.0, "{from} {ray} {way}");
        }
    }
}
