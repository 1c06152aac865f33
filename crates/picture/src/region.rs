//! Strips of an area as a mesh on the surface of a part.

use crate::strips::Strip;
use crate::{Material, Mesh};
use glam::DAffine3;
use shape::{Surface, SurfacePoint};
use std::collections::BTreeMap;
use std::f64::consts::PI;

/// Sides of a full turn in meshes. A chord of one lies 0.004 mm under a wall of 45 mm radius.
pub(crate) const ROUND: u32 = 240;
/// Longest step along a curved wall, mm.
pub(crate) const STEP_MM: f64 = 1.5;

/// Farthest that a chord along a curved wall may lie under it, mm.
const SAG_MM: f64 = 0.015;

/// Along the wall: the stretches that one facet can follow, each with its band. They are the same on
/// a surface however far it has grown, so that layers never cross.
fn levels(surface: &Surface) -> Vec<(usize, f64, f64)> {
    let normal =
        |band, along_mm| surface.place_in_band(band, SurfacePoint { around: 0.0, along_mm }).1;
    let mut levels: Vec<(usize, f64, f64)> = Vec::new();
    let mut turn = 0.0_f64;
    for pair in surface.along_stops_mm(STEP_MM).windows(2) {
        let band = surface.band_at(0.5 * (pair[0] + pair[1]));
        let straight = surface.bands()[band].straight;
        if let Some(last) = levels.last_mut()
            && last.0 == band
        {
            // An arc of length l that turns by t sags by l t / 8 (geometry); twice that for curves
            // that turn to and fro. Lines along a straight band are straight in space.
            turn = turn.max(normal(band, pair[1]).distance(normal(band, last.1)));
            if straight || (pair[1] - last.1) * turn / 4.0 < SAG_MM {
                last.2 = pair[1];
                continue;
            }
        }
        turn = normal(band, pair[1]).distance(normal(band, pair[0]));
        levels.push((band, pair[0], pair[1]));
    }
    levels
}

/// Where strips are cut: on every side of the full turn, or nowhere on a flat part.
pub(crate) fn cuts(surface: &Surface) -> Vec<f64> {
    match surface.period() {
        Some(_) => {
            (0..=ROUND).map(|i| PI * (2.0 * f64::from(i) / f64::from(ROUND) - 1.0)).collect()
        }
        None => Vec::new(),
    }
}

/// Builds a mesh on one surface from strips.
pub(crate) struct Region<'a> {
    surface: &'a Surface,
    piece_from_part: DAffine3,
    /// Along the wall: where each band is cut, with the band's index.
    levels: Vec<(usize, f64, f64)>,
    corners: BTreeMap<(usize, u64, u64), u32>,
    mesh: Mesh,
}

impl<'a> Region<'a> {
    /// An empty mesh on `surface`.
    pub(crate) fn new(
        name: String,
        material: Material,
        surface: &'a Surface,
        piece_from_part: DAffine3,
    ) -> Self {
        let levels = levels(surface);
        let mesh = Mesh::new(name, material, vec![], vec![], vec![]);
        Self { surface, piece_from_part, levels, corners: BTreeMap::new(), mesh }
    }

    /// Adds a strip.
    pub(crate) fn add(&mut self, strip: &Strip) {
        let [left, right] = strip.sides;
        let quad = [
            (left, strip.upper[0]),
            (left, strip.lower[0]),
            (right, strip.lower[1]),
            (right, strip.upper[1]),
        ];
        let top = strip.upper[0].min(strip.upper[1]);
        let bottom = strip.lower[0].max(strip.lower[1]);
        let (first, last) = (0, self.levels.len().saturating_sub(1));
        for k in 0..self.levels.len() {
            let (band, from, to) = self.levels[k];
            // Rounding at the very ends of the part belongs to the outermost levels.
            let from = if k == first { f64::NEG_INFINITY } else { from };
            let to = if k == last { f64::INFINITY } else { to };
            if bottom <= from || top >= to {
                continue;
            }
            let ids: Vec<u32> =
                between(&quad, from, to).into_iter().map(|at| self.corner(band, at)).collect();
            for i in 1..ids.len().saturating_sub(1) {
                let triangle = [ids[0], ids[i], ids[i + 1]];
                if triangle[0] != triangle[1]
                    && triangle[1] != triangle[2]
                    && triangle[2] != triangle[0]
                {
                    self.mesh.triangles.push(triangle);
                }
            }
        }
    }

    fn corner(&mut self, band: usize, (around, along_mm): (f64, f64)) -> u32 {
        let next = self.mesh.positions.len() as u32;
        let key = (band, around.to_bits(), along_mm.to_bits());
        *self.corners.entry(key).or_insert_with(|| {
            let point = SurfacePoint { around, along_mm };
            let (place, normal) = self.surface.place_in_band(band, point);
            let place = self.piece_from_part.transform_point3(place);
            let normal = self.piece_from_part.transform_vector3(normal).normalize();
            self.mesh.positions.push(place.as_vec3());
            self.mesh.normals.push(normal.as_vec3());
            next
        })
    }

    /// The mesh, or `None` if nothing was added.
    pub(crate) fn finish(self) -> Option<Mesh> {
        (!self.mesh.triangles.is_empty()).then_some(self.mesh)
    }
}

/// The part of a convex polygon with `along` between two levels.
fn between(polygon: &[(f64, f64)], from: f64, to: f64) -> Vec<(f64, f64)> {
    let below = clip(polygon, |p| p.1 - from, from);
    clip(&below, |p| to - p.1, to)
}

fn clip(
    polygon: &[(f64, f64)],
    inside: impl Fn(&(f64, f64)) -> f64,
    level: f64,
) -> Vec<(f64, f64)> {
    let mut kept = Vec::with_capacity(polygon.len() + 2);
    for (i, a) in polygon.iter().enumerate() {
        let b = &polygon[(i + 1) % polygon.len()];
        let (in_a, in_b) = (inside(a), inside(b));
        if in_a >= 0.0 {
            kept.push(*a);
        }
        if (in_a > 0.0 && in_b < 0.0) || (in_a < 0.0 && in_b > 0.0) {
            // From the lesser end, so that both neighbours of an edge find the same place.
            let (p, q) = if a.1 < b.1 { (a, b) } else { (b, a) };
            let share = (level - p.1) / (q.1 - p.1);
            kept.push((p.0 + (q.0 - p.0) * share, level));
        }
    }
    kept.dedup();
    if kept.len() > 1 && kept[0] == kept[kept.len() - 1] {
        kept.pop();
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::strips::strips;

    fn area_mm2(mesh: &Mesh) -> f64 {
        let corners = |t: &[u32; 3]| t.map(|i| mesh.positions[i as usize].as_dvec3());
        mesh.triangles
            .iter()
            .map(corners)
            .map(|[a, b, c]| (b - a).cross(c - a).length() / 2.0)
            .sum()
    }

    #[test]
    fn meshes_of_zones_have_the_zones_area_and_face_outward() {
        let files = [
            include_str!("../tests/pieces/tide-cup.toml"),
            include_str!("../tests/pieces/plate-on-bottle.toml"),
        ];
        for text in files {
            let source = piece::Source::new("example", text);
            let piece = piece::read::read_piece(&source, &piece::read::NoArt).value.unwrap();
            let shape = shape::shape(&piece, &piece::Settings::demo()).unwrap();
            for (zone, named) in shape.zones.iter().zip(&piece.zones) {
                let mut region = Region::new(
                    named.name.clone(),
                    Material::Steel,
                    &zone.surface,
                    DAffine3::IDENTITY,
                );
                for strip in strips(&zone.area.loops, &[], &cuts(&zone.surface)) {
                    region.add(&strip);
                }
                let mesh = region.finish().unwrap();
                let share = area_mm2(&mesh) / zone.area_mm2;
                assert!((share - 1.0).abs() < 0.002, "{}: {share}", named.name);
                for t in &mesh.triangles {
                    let [a, b, c] = t.map(|i| mesh.positions[i as usize]);
                    let across = (b - a).cross(c - a);
                    // Slivers thinner than a number's last digit (4e-6 mm here) may turn either way.
                    let rounding = 1e-5 * (b - a).length().max((c - a).length());
                    let facing = across.dot(mesh.normals[t[0] as usize]);
                    assert!(facing >= -rounding, "{}: {facing} {a} {b} {c}", named.name);
                }
            }
        }
    }
}
