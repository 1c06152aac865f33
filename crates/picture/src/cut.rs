//! The cut of a flat-back stone: true facets for the mesh, and the facets below for the light.
//!
//! Proportions are common practice for flat-backs, no source: a crown about two fifths as high as
//! the stone is wide, on a flat back. All lengths here are shares of the girdle's diameter.

use crate::chance::units;
use glam::{Mat3, Vec3};

/// Radius of the corners of the table.
pub(crate) const TABLE_RADIUS: f32 = 0.29;
/// Height of the table over the flat back.
pub(crate) const TABLE_HEIGHT: f32 = 0.38;
const GIRDLE_RADIUS: f32 = 0.5;
const GIRDLE_HEIGHT: f32 = 0.07;
const STAR_RADIUS: f32 = 0.43;

/// Triangles of one stone.
pub(crate) const TRIANGLES: usize = 6 + 8 + 16 + 16 + 32;

/// Where one stone of a mesh lies and how it is turned.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StoneFrame {
    /// Middle of the flat back, mm.
    pub centre_mm: Vec3,
    /// Columns: two axes in the flat back and the normal; unit length.
    pub axes: Mat3,
    /// Diameter of the girdle, mm.
    pub diameter_mm: f32,
}

impl StoneFrame {
    /// A stone as a careful hand sets it: turned any way, tilted by at most about three degrees.
    /// `key` decides which.
    pub fn set_by_hand(centre_mm: Vec3, normal: Vec3, diameter_mm: f32, key: u32) -> Self {
        let [turn, lean, lean_way] = units([key, 0x57_0e, 1]);
        let across = across(normal);
        let along = normal.cross(across);
        let way = circle(lean_way);
        let tilt = 0.055 * lean.sqrt();
        let z = (normal + tilt * (way.0 * across + way.1 * along)).normalize();
        let x = (across - z * across.dot(z)).normalize();
        let y = z.cross(x);
        let (c, s) = circle(turn);
        // The flat back keeps touching: a tilted stone sits on the edge of its back.
        let sag = 0.5 * tilt * diameter_mm * 0.5;
        Self {
            centre_mm: centre_mm + normal * sag,
            axes: Mat3::from_cols(x * c + y * s, y * c - x * s, z),
            diameter_mm,
        }
    }

    /// A place given in shares of the diameter, in millimetres.
    pub fn place(&self, local: Vec3) -> Vec3 {
        self.centre_mm + self.axes * (local * self.diameter_mm)
    }
}

/// Cosine and sine of a share of a full turn.
pub(crate) fn circle(share: f32) -> (f32, f32) {
    let angle = f64::from(share) * std::f64::consts::TAU;
    (libm::cos(angle) as f32, libm::sin(angle) as f32)
}

/// Any unit vector at right angles to a unit vector.
fn across(normal: Vec3) -> Vec3 {
    let away = if normal.z.abs() < 0.9 { Vec3::Z } else { Vec3::X };
    away.cross(normal).normalize()
}

/// Corners of the cut and its triangles, counter-clockwise from outside: a table of eight sides,
/// eight stars, eight kites, sixteen lower facets and the girdle; open at the flat back.
pub(crate) fn cut() -> (Vec<Vec3>, Vec<[u32; 3]>) {
    let ring = |count: u32, offset: f32, radius: f32, height: f32| {
        (0..count).map(move |i| {
            let (c, s) = circle((i as f32 + offset) / count as f32);
            Vec3::new(radius * c, radius * s, height)
        })
    };
    // The kite is flat: its side corners lie as high as the line from table to girdle there.
    let share =
        (STAR_RADIUS * circle(1.0 / 16.0).0 - TABLE_RADIUS) / (GIRDLE_RADIUS - TABLE_RADIUS);
    let star_height = TABLE_HEIGHT + share * (GIRDLE_HEIGHT - TABLE_HEIGHT);
    let corners: Vec<Vec3> = ring(8, 0.0, TABLE_RADIUS, TABLE_HEIGHT)
        .chain(ring(8, 0.5, STAR_RADIUS, star_height))
        .chain(ring(16, 0.0, GIRDLE_RADIUS, GIRDLE_HEIGHT))
        .chain(ring(16, 0.0, GIRDLE_RADIUS, 0.0))
        .collect();
    let mut triangles = Vec::with_capacity(TRIANGLES);
    triangles.extend((1..7).map(|i| [0, i, i + 1]));
    for i in 0..8 {
        let next = (i + 1) % 8;
        let (table, table_next, star) = (i, next, 8 + i);
        let (girdle, middle, girdle_next) = (16 + 2 * i, 17 + 2 * i, 16 + 2 * next);
        triangles.push([table, star, table_next]);
        triangles.push([table, girdle, star]);
        triangles.push([table_next, star, girdle_next]);
        triangles.push([star, girdle, middle]);
        triangles.push([star, middle, girdle_next]);
    }
    for i in 0..16 {
        let (a, b) = (16 + i, 16 + (i + 1) % 16);
        triangles.push([a, a + 16, b]);
        triangles.push([b, a + 16, b + 16]);
    }
    (corners, triangles)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeMap;

    #[test]
    fn a_stone_is_closed_but_for_its_flat_back() {
        let (corners, triangles) = cut();
        assert_eq!((corners.len(), triangles.len()), (8 + 8 + 16 + 16, TRIANGLES));
        let mut edges: BTreeMap<(u32, u32), i32> = BTreeMap::new();
        for [a, b, c] in triangles {
            for (from, to) in [(a, b), (b, c), (c, a)] {
                *edges.entry((from.min(to), from.max(to))).or_default() +=
                    if from < to { 1 } else { -1 };
            }
        }
        let open: Vec<_> = edges.iter().filter(|(_, n)| **n != 0).collect();
        assert_eq!(open.len(), 16, "only the sixteen edges of the flat back stay open");
        for ((a, b), _) in open {
            assert_eq!(corners[*a as usize].z, 0.0);
            assert_eq!(corners[*b as usize].z, 0.0);
        }
    }

    #[test]
    fn facets_face_outward_and_kites_are_flat() {
        let (corners, triangles) = cut();
        let middle = Vec3::new(0.0, 0.0, 0.15);
        for [a, b, c] in triangles.iter().map(|t| t.map(|i| corners[i as usize])) {
            let normal = (b - a).cross(c - a);
            assert!(normal.dot((a + b + c) / 3.0 - middle) > 1e-4);
            assert!(normal.z > -1e-6);
        }
        let kite = [0, 16, 8, 15].map(|i| corners[i]);
        let normal = (kite[1] - kite[0]).cross(kite[2] - kite[0]).normalize();
        assert!(normal.dot(kite[3] - kite[0]).abs() < 1e-6);
    }

    #[test]
    fn a_stone_set_by_hand_leans_little_and_stays_put() {
        for key in 0..500 {
            let normal = Vec3::new(0.6, -0.48, 0.64);
            let frame = StoneFrame::set_by_hand(Vec3::ONE, normal, 2.8, key);
            assert!(frame.axes.z_axis.dot(normal) > 0.998);
            assert!((frame.axes.determinant() - 1.0).abs() < 1e-5);
            assert!(frame.centre_mm.distance(Vec3::ONE) < 0.05);
        }
    }
}
