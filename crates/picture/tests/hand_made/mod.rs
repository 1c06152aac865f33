//! A cup made by hand for looking at: plain formulas, no measurements.

use glam::Vec3;
use picture::{Material, Mesh, Scene, StoneFrame};
use std::f32::consts::TAU;

const HEIGHT_MM: f32 = 172.0;

fn radius_mm(z: f32) -> f32 {
    34.5 + 9.4 * z / HEIGHT_MM
}

/// A surface turned round the axis from points of (radius, height), outside on the left of the way.
pub fn turned(name: &str, material: Material, profile: &[(f32, f32)]) -> Mesh {
    let around = 240_u32;
    let mut mesh = Mesh::new(name, material, vec![], vec![], vec![]);
    for pair in profile.windows(2) {
        let first = mesh.positions.len() as u32;
        let (dr, dz) = (pair[1].0 - pair[0].0, pair[1].1 - pair[0].1);
        for i in 0..=around {
            let (s, c) = (i as f32 / around as f32 * TAU).sin_cos();
            let normal = Vec3::new(dz * c, dz * s, -dr).normalize();
            for (r, z) in pair {
                mesh.positions.push(Vec3::new(r * c, r * s, *z));
                mesh.normals.push(normal);
            }
        }
        for i in 0..around {
            let a = first + 2 * i;
            mesh.triangles.extend([[a, a + 2, a + 1], [a + 1, a + 2, a + 3]]);
        }
    }
    mesh
}

/// A tapered cup with lid: glitter above, resin-covered paint below, stones between.
pub fn cup(stone_diameter_mm: f32) -> Scene {
    let paint = Material::Paint { srgb: [18, 52, 59], gloss: true };
    let sand = Material::Glitter { srgb: [201, 178, 143], flake_mm: 0.5, gloss: true };
    let wall = |low: f32, high: f32, out: f32| {
        vec![(radius_mm(low) + out, low), (radius_mm(high) + out, high)]
    };
    let top = radius_mm(HEIGHT_MM);
    let rim: Vec<(f32, f32)> = (0..=12)
        .map(|i| {
            let (s, c) = (i as f32 / 12.0 * TAU / 2.0).sin_cos();
            (top - 1.2 + 1.2 * c, HEIGHT_MM + 1.2 * s)
        })
        .collect();
    let mut meshes = vec![
        turned("steel", Material::Steel, &wall(0.0, HEIGHT_MM, 0.0)),
        turned("rim", Material::Steel, &rim),
        turned("inside", Material::Steel, &[(top - 2.4, HEIGHT_MM), (33.0, 6.0), (0.0, 6.0)]),
        turned("foot", Material::Steel, &[(0.0, 0.0), (34.5, 0.0)]),
        turned("paint", paint, &wall(6.0, 100.0, 0.4)),
        turned("glitter", sand, &wall(100.0, 158.0, 0.4)),
        turned(
            "lid",
            Material::ClearPlastic,
            &[
                (top + 0.4, HEIGHT_MM - 6.0),
                (top + 0.4, HEIGHT_MM + 4.0),
                (top - 2.0, HEIGHT_MM + 7.0),
                (9.0, HEIGHT_MM + 7.0),
            ],
        ),
    ];
    let colours = [
        [18, 104, 120],
        [40, 150, 160],
        [233, 214, 188],
        [196, 92, 84],
        [226, 168, 74],
        [238, 240, 242],
    ];
    let mut frames = vec![Vec::new(); colours.len()];
    let pitch = stone_diameter_mm * 1.03;
    let mut key = 0;
    let mut row = 0;
    let mut z = 14.0 + pitch / 2.0;
    while z < 140.0 {
        let count = (TAU * radius_mm(z) / pitch).floor();
        for i in 0..count as u32 {
            let around = (i as f32 + 0.5 * (row % 2) as f32) / count * TAU;
            let turn = if around > TAU / 2.0 { around - TAU } else { around };
            let edge = 118.0 + 10.0 * (around * 5.0).cos();
            if z > edge {
                continue;
            }
            key += 1;
            let across = turn * radius_mm(z);
            let flower = across.hypot(z - 72.0);
            let petals = 17.0 + 5.0 * (5.0 * across.atan2(z - 72.0)).cos();
            let colour = match () {
                () if flower < 5.0 => 4,
                () if flower < petals - 4.0 => 3,
                () if flower < petals => 2,
                () if z > edge - 4.5 * pitch => 5,
                () if (key * 7919 + row * 31) % 100 < (z as u32).saturating_sub(10) => 1,
                () => 0,
            };
            let (s, c) = around.sin_cos();
            let normal = Vec3::new(c, s, -9.4 / HEIGHT_MM).normalize();
            let place = Vec3::new(radius_mm(z) * c, radius_mm(z) * s, z) + normal * 0.45;
            frames[colour].push(StoneFrame::set_by_hand(place, normal, stone_diameter_mm, key));
        }
        z += pitch * 0.866;
        row += 1;
    }
    for (stones, srgb) in frames.into_iter().zip(colours) {
        meshes.push(Mesh::of_stones("stones", srgb, stones));
    }
    Scene { meshes }
}
