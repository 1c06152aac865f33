//! Glitter: flakes as cells, each tilted its own way.

use crate::chance::{unit, units};
use crate::cut::circle;
use crate::shade::{Hit, Lights, reflect};
use crate::tone::luminance;
use glam::Vec3;

/// The flake at a place: three numbers of its own.
fn flake(at: Vec3, width_mm: f32) -> [f32; 3] {
    let p = at / width_mm;
    let base = (p - 0.5).floor();
    let mut nearest = (f32::MAX, [0_u32; 3]);
    for corner in 0..8_u32 {
        let offset =
            Vec3::new((corner & 1) as f32, (corner >> 1 & 1) as f32, (corner >> 2 & 1) as f32);
        let cell = base + offset;
        let key = [cell.x, cell.y, cell.z].map(|v| (v as i32) as u32);
        let word = crate::chance::pcg3d(key);
        let jitter = Vec3::from_array(word.map(unit));
        let seed = cell + 0.5 + (jitter - 0.5) * 0.8;
        let distance = p.distance_squared(seed);
        if distance < nearest.0 {
            nearest = (distance, key);
        }
    }
    let [x, y, z] = nearest.1;
    units([x ^ 0x9e37_79b9, y, z])
}

/// Light from glitter of a colour.
pub(crate) fn light(hit: &Hit, colour: Vec3, width_mm: f32, lights: &Lights<'_>) -> Vec3 {
    let [lean, way, shade] = flake(hit.at, width_mm);
    let (c, s) = circle_fast(way);
    // Most flakes lie nearly flat, a few stand up.
    let tilt = 0.04 + 0.62 * lean * lean * (0.35 + 0.65 * lean);
    let right = hit.normal.cross(Vec3::new(0.23, 0.31, 0.92)).normalize_or(Vec3::X);
    let up = right.cross(hit.normal);
    let normal = (hit.normal + tilt * (c * right + s * up)).normalize();
    let towards = reflect(hit.view, normal);
    let seen = if lean > 0.45 { lights.sparkle_soft(towards) } else { lights.satin(towards) * 1.1 };
    let metal = colour * (0.74 + 0.5 * shade);
    let flash = ((luminance(seen) - 5.0) * 0.05).clamp(0.0, 0.8);
    metal * (seen * 1.12 + lights.matt(hit.normal) * 0.16)
        + Vec3::splat(flash) * (0.4 + colour * 0.6)
}

/// Cosine and sine of a share of a turn, from a table of sixty-four: flakes need no more.
fn circle_fast(share: f32) -> (f32, f32) {
    use std::sync::OnceLock;
    static TABLE: OnceLock<Vec<(f32, f32)>> = OnceLock::new();
    let table = TABLE.get_or_init(|| (0..64).map(|i| circle(i as f32 / 64.0)).collect());
    table[(share * 64.0) as usize & 63]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_flake_is_about_as_wide_as_it_says() {
        // Cells of a jittered lattice of spacing w: a straight line crosses about 1.5 borders for
        // each w (Voronoi cells of one seed in a cube; counted here, between 1.1 and 2).
        let (mut changes, mut last) = (0, [0.0; 3]);
        let steps = 40_000;
        for i in 0..steps {
            let t = i as f32 * 0.01;
            let now = flake(Vec3::new(t * 0.8, t * 0.36 + 3.0, t * 0.48), 0.4);
            changes += u32::from(now != last);
            last = now;
        }
        let per_width = changes as f32 / (steps as f32 * 0.01 / 0.4);
        assert!((1.1..2.0).contains(&per_width), "{per_width}");
    }
}
