//! Triangles to samples: which triangle is seen at each sample, and how near it is.
//!
//! Corners are snapped to 1/256 of a sample and edges are decided in whole numbers with the top-left
//! rule, so neighbours neither overlap nor leave cracks. Samples are set off a quarter to and fro, so
//! that the four of two rows and columns lie at four different heights and widths: a rotated grid.

use crate::{Camera, Mesh};
use rayon::prelude::*;

const FINE: f32 = 256.0;
const FINE_BITS: u32 = 8;

/// Which way a row's samples are set off sideways, or a column's downwards.
fn way(index: i32) -> i64 {
    if index & 1 == 0 { -1 } else { 1 }
}

/// Where a sample lies on the raster, in samples from the top left.
pub(crate) fn sample_place(column: usize, row: usize) -> (f32, f32) {
    let set_off = |index: usize| way(index as i32) as f32 * 0.25;
    (column as f32 + 0.5 + set_off(row), row as f32 + 0.5 + set_off(column))
}

/// A triangle as it is seen.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Seen {
    /// Corners in 1/256 of a sample, anticlockwise on the page turned into positive area.
    x: [i32; 3],
    y: [i32; 3],
    /// One over the depth at each corner, 1/mm.
    nearness: [f32; 3],
    /// Which mesh.
    pub(crate) mesh: u32,
    /// Which of its triangles.
    pub(crate) triangle: u32,
}

/// Which sides of a triangle are drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Sides {
    /// Only seen from outside.
    Outside,
    /// Only seen from inside.
    Inside,
}

/// Samples nearest to the eye in a band of rows.
#[derive(Debug)]
pub(crate) struct Layer {
    /// One over the depth, 1/mm; 0 where nothing is seen.
    pub(crate) nearness: Vec<f32>,
    /// Index into the list of seen triangles.
    pub(crate) seen: Vec<u32>,
}

/// Nothing is seen here.
pub(crate) const NOTHING: u32 = u32::MAX;

impl Layer {
    /// Room for a number of samples.
    pub(crate) fn new(samples: usize) -> Self {
        Self { nearness: vec![0.0; samples], seen: vec![NOTHING; samples] }
    }

    /// Forgets everything.
    pub(crate) fn clear(&mut self) {
        self.nearness.fill(0.0);
        self.seen.fill(NOTHING);
    }
}

/// Brings the triangles of one mesh onto a raster of `width` by `height` samples.
pub(crate) fn project(
    mesh: &Mesh,
    index: u32,
    camera: &Camera,
    (width, height): (usize, usize),
    sides: Sides,
) -> Vec<Seen> {
    let corners: Vec<([i32; 2], f32)> = mesh
        .positions
        .par_iter()
        .with_min_len(4096)
        .map(|p| {
            let clip = camera.clip_from_piece * p.as_dvec3().extend(1.0);
            // Behind the eye, or absurdly far aside: never drawn.
            if clip.w < 1.0 || clip.x.abs() > 8.0 * clip.w || clip.y.abs() > 8.0 * clip.w {
                return ([0, 0], 0.0);
            }
            let x = (clip.x / clip.w * 0.5 + 0.5) * width as f64;
            let y = (0.5 - clip.y / clip.w * 0.5) * height as f64;
            let fine = |v: f64| libm::round(v * f64::from(FINE)) as i32;
            ([fine(x), fine(y)], (1.0 / clip.w) as f32)
        })
        .collect();
    let seen = |(triangle, ids): (usize, &[u32; 3])| {
        let [a, b, c] = ids.map(|i| corners[i as usize]);
        if a.1 == 0.0 || b.1 == 0.0 || c.1 == 0.0 {
            return None;
        }
        let area = doubled_area(a.0, b.0, c.0);
        // Rows run down the page, so what is anticlockwise in space turns clockwise here.
        let (b, c) = match sides {
            Sides::Outside if area < 0 => (c, b),
            Sides::Inside if area > 0 => (b, c),
            _ => return None,
        };
        let s = Seen {
            x: [a.0[0], b.0[0], c.0[0]],
            y: [a.0[1], b.0[1], c.0[1]],
            nearness: [a.1, b.1, c.1],
            mesh: index,
            triangle: triangle as u32,
        };
        let [left, right, top, bottom] = s.bounds();
        let inside = left <= right
            && top <= bottom
            && right >= 0
            && bottom >= 0
            && left < width as i32
            && top < height as i32;
        inside.then_some(s)
    };
    mesh.triangles.par_iter().enumerate().with_min_len(4096).filter_map(seen).collect()
}

fn doubled_area(a: [i32; 2], b: [i32; 2], c: [i32; 2]) -> i64 {
    let d = |p: [i32; 2], k: usize| i64::from(p[k]) - i64::from(a[k]);
    d(b, 0) * d(c, 1) - d(b, 1) * d(c, 0)
}

impl Seen {
    /// First and last column and row of samples that can lie inside: left, right, top, bottom.
    pub(crate) fn bounds(&self) -> [i32; 4] {
        let near = 1 << (FINE_BITS - 2);
        let first = |v: [i32; 3]| (v[0].min(v[1]).min(v[2]) + near - 1) >> FINE_BITS;
        let last = |v: [i32; 3]| (v[0].max(v[1]).max(v[2]) - near) >> FINE_BITS;
        [first(self.x), last(self.x), first(self.y), last(self.y)]
    }

    /// Draws it into a band of rows that begins at `top_row`. A sample is taken when the triangle is
    /// nearer than what the layer holds and than `before` holds.
    pub(crate) fn draw(
        &self,
        id: u32,
        layer: &mut Layer,
        before: Option<&[f32]>,
        width: usize,
        top_row: usize,
    ) {
        let rows = layer.seen.len() / width;
        let [left, right, top, bottom] = self.bounds();
        let (left, right) = (left.max(0), right.min(width as i32 - 1));
        let top = top.max(top_row as i32);
        let bottom = bottom.min((top_row + rows) as i32 - 1);
        if left > right || top > bottom {
            return;
        }
        let half = 1_i64 << (FINE_BITS - 1);
        let start = ((i64::from(left) << FINE_BITS) + half, (i64::from(top) << FINE_BITS) + half);
        // Edge k runs from corner k + 1 to corner k + 2; its value is the weight of corner k.
        let mut value = [0_i64; 3];
        let (mut step_x, mut step_y) = ([0_i64; 3], [0_i64; 3]);
        for k in 0..3 {
            let (a, b) = ((k + 1) % 3, (k + 2) % 3);
            let dx = i64::from(self.x[b]) - i64::from(self.x[a]);
            let dy = i64::from(self.y[b]) - i64::from(self.y[a]);
            let rule = if dy < 0 || (dy == 0 && dx > 0) { 0 } else { -1 };
            value[k] = dx * (start.1 - i64::from(self.y[a]))
                - dy * (start.0 - i64::from(self.x[a]))
                + rule;
            step_x[k] = -(dy << FINE_BITS);
            step_y[k] = dx << FINE_BITS;
        }
        let area =
            doubled_area([self.x[0], self.y[0]], [self.x[1], self.y[1]], [self.x[2], self.y[2]])
                as f32;
        let n = [0, 1, 2].map(|k| self.nearness[k] - self.nearness[0]);
        let weigh = |w: [i64; 3]| (n[1] * w[1] as f32 + n[2] * w[2] as f32) / area;
        let near_start = self.nearness[0] + weigh(value);
        let near_x = weigh(step_x);
        let near_y = weigh(step_y);
        let step_down = [0, 1, 2].map(|k| step_x[k] + step_y[k] / 2);
        let step_up = [0, 1, 2].map(|k| step_x[k] - step_y[k] / 2);
        for row in top..=bottom {
            let down = row - top;
            // Where the first sample of this row is set off to, in quarters.
            let aside = way(row);
            let w = [0, 1, 2].map(|k| value[k] + aside * step_x[k] / 4);
            let (first, last) = if right - left < WIDE {
                (0, right - left)
            } else {
                reach(w, step_x, step_y, right - left)
            };
            let below = way(left + first);
            let mut w =
                [0, 1, 2].map(|k| w[k] + i64::from(first) * step_x[k] + below * step_y[k] / 4);
            let near_row = near_start + near_y * down as f32 + near_x * 0.25 * aside as f32;
            if first <= last {
                let line = (row as usize - top_row) * width;
                let span = line + (left + first) as usize..=line + (left + last) as usize;
                let nearness = &mut layer.nearness[span.clone()];
                let seen = &mut layer.seen[span.clone()];
                let before = before.map(|b| &b[span]);
                let mut turn = below;
                for (i, (nearest, seen)) in nearness.iter_mut().zip(seen).enumerate() {
                    if w[0] | w[1] | w[2] >= 0 {
                        let across = (first as usize + i) as f32;
                        let near = near_row + near_x * across + near_y * 0.25 * turn as f32;
                        if near > *nearest && before.is_none_or(|b| near > b[i]) {
                            *nearest = near;
                            *seen = id;
                        }
                    }
                    // Values stay far within 64 bits: corners lie within eight pictures.
                    let step = if turn < 0 { step_down } else { step_up };
                    for k in 0..3 {
                        w[k] = w[k].wrapping_add(step[k]);
                    }
                    turn = -turn;
                }
            }
            for k in 0..3 {
                value[k] += step_y[k];
            }
        }
    }
}

/// Triangles this many samples wide are looked at only where a row can meet them: the walls of a cup
/// are long, narrow and slanted.
const WIDE: i32 = 24;

/// First and last of the samples 0 to `most` of a row that can lie inside, from the edges' values at
/// the first and their changes for a sample across and down; first past last for none.
fn reach(value: [i64; 3], step_x: [i64; 3], step_y: [i64; 3], most: i32) -> (i32, i32) {
    let (mut first, mut last) = (0_i64, i64::from(most));
    for k in 0..3 {
        // Samples are set off by a quarter up or down.
        let value = value[k] + step_y[k].abs() / 4;
        match step_x[k] {
            0 if value < 0 => last = -1,
            0 => {}
            step if step > 0 => first = first.max(-(value.div_euclid(step))),
            step => last = last.min(value.div_euclid(-step)),
        }
    }
    (first.min(i64::from(most) + 1) as i32, last.max(-1) as i32)
}

#[cfg(test)]
mod tests {
    use super::*;
    use glam::Vec3;

    fn seen(x: [i32; 3], y: [i32; 3]) -> Seen {
        Seen { x, y, nearness: [0.001, 0.001, 0.001], mesh: 0, triangle: 0 }
    }

    #[test]
    fn two_triangles_of_a_square_cover_each_sample_once() {
        let mut layers = [Layer::new(64 * 64), Layer::new(64 * 64)];
        let s = 40 << FINE_BITS;
        let o = 64; // corners on samples: the hardest case for the rule
        seen([o, s + o, s + o], [o, o, s + o]).draw(0, &mut layers[0], None, 64, 0);
        seen([o, s + o, o], [o, s + o, s + o]).draw(1, &mut layers[1], None, 64, 0);
        let count = |l: &Layer| l.seen.iter().filter(|s| **s != NOTHING).count();
        let both = (0..64 * 64).filter(|i| layers.iter().all(|l| l.seen[*i] != NOTHING)).count();
        assert_eq!(both, 0);
        assert_eq!(count(&layers[0]) + count(&layers[1]), 1600);
    }

    #[test]
    fn a_wide_slanted_triangle_is_drawn_whole() {
        let [a, b, c] = [[-40, 900], [17_000, 40], [17_300, 16_800]];
        let mut layer = Layer::new(70 * 70);
        seen([a[0], b[0], c[0]], [a[1], b[1], c[1]]).draw(0, &mut layer, None, 70, 0);
        // A place is inside where it lies on the same side of all three lines.
        let side = |p: [f32; 2], q: [i32; 2], r: [i32; 2]| {
            let [q, r] = [q, r].map(|p| p.map(|v| f64::from(v) / 256.0));
            let p = p.map(f64::from);
            (r[0] - q[0]) * (p[1] - q[1]) - (r[1] - q[1]) * (p[0] - q[0])
        };
        for i in 0..70 * 70 {
            let (x, y) = sample_place(i % 70, i / 70);
            let sides = [side([x, y], a, b), side([x, y], b, c), side([x, y], c, a)];
            let inside = sides.iter().all(|s| *s > 0.0) || sides.iter().all(|s| *s < 0.0);
            assert_eq!(layer.seen[i] == 0, inside, "{x} {y}");
        }
    }

    /// Samples of a raster that see a surface given as rings round the x axis, from far to near.
    fn samples_seen(rings: &[(f32, f32)], distance_mm: f64, tilt: f32, size: usize) -> f64 {
        let around = 720_u32;
        let mut mesh = Mesh::new("round", crate::Material::Steel, vec![], vec![], vec![]);
        for (radius, x) in rings {
            for i in 0..around {
                let (s, c) = (i as f32 / around as f32 * std::f32::consts::TAU).sin_cos();
                let p = Vec3::new(*x, radius * c, radius * s);
                let (s, c) = tilt.sin_cos();
                mesh.positions.push(Vec3::new(p.x * c - p.z * s, p.y, p.x * s + p.z * c));
            }
        }
        for ring in 1..rings.len() as u32 {
            for i in 0..around {
                let (a, b) = ((ring - 1) * around + i, (ring - 1) * around + (i + 1) % around);
                mesh.triangles.extend([[a, b, a + around], [a + around, b, b + around]]);
            }
        }
        let eye_mm = glam::DVec3::new(distance_mm, 0.0, 0.0);
        // Looks along -x; the focal length is one half of the raster's height.
        let clip = glam::DMat4::from_rows(
            glam::DVec4::Y,
            glam::DVec4::Z,
            glam::DVec4::new(-1.0, 0.0, 0.0, distance_mm - 2.0),
            glam::DVec4::new(-1.0, 0.0, 0.0, distance_mm),
        );
        let camera = Camera { clip_from_piece: clip, eye_mm };
        let mut layer = Layer::new(size * size);
        for (id, seen) in (0..).zip(project(&mesh, 0, &camera, (size, size), Sides::Outside)) {
            seen.draw(id, &mut layer, None, size, 0);
        }
        layer.seen.iter().filter(|seen| **seen != NOTHING).count() as f64
    }

    #[test]
    fn a_sphere_covers_the_area_of_its_silhouette() {
        let rings: Vec<(f32, f32)> = (0..=360)
            .map(|i| (i as f32 / 360.0 * std::f32::consts::PI).sin_cos())
            .map(|(s, c)| (10.0 * s, -10.0 * c))
            .collect();
        for distance in [25.0_f64, 60.0] {
            // The tangent cone of a sphere of radius r at distance d cuts the picture plane at focal
            // length f in a circle of radius f r / sqrt(d^2 - r^2) (geometry).
            let radius = 400.0 * 10.0 / (distance * distance - 100.0).sqrt();
            let expected = std::f64::consts::PI * radius * radius;
            let counted = samples_seen(&rings, distance, 0.0, 800);
            assert!((counted / expected - 1.0).abs() < 0.002, "{counted} {expected}");
        }
    }

    #[test]
    fn a_leaning_disc_covers_the_area_of_its_perspective() {
        for tilt in [0.0_f64, 0.6, 1.1] {
            let counted = samples_seen(&[(10.0, 0.0), (0.001, 0.0)], 30.0, tilt as f32, 800);
            // f^2 pi r^2 d cos t / (d^2 - r^2 sin^2 t)^(3/2): the integral of d cos t / z^3 over the
            // disc (checked by summing it numerically).
            let (sine, cosine) = (libm::sin(tilt), libm::cos(tilt));
            let expected = 400.0 * 400.0 * std::f64::consts::PI * 100.0 * 30.0 * cosine
                / libm::pow(900.0 - 100.0 * sine * sine, 1.5);
            assert!((counted / expected - 1.0).abs() < 0.003, "{tilt}: {counted} {expected}");
        }
    }
}
