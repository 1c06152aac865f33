//! A map of what is seen in every direction, folded from an octahedron onto a square.

use glam::{Vec2, Vec3};
use rayon::prelude::*;

/// Light from every direction, linear RGB. The fold is that of Meyer et al., "On Floating-Point
/// Normal Vectors", Computer Graphics Forum 29(4), 2010.
#[derive(Debug, Clone)]
pub(crate) struct DirectionMap {
    size: usize,
    texels: Vec<Vec3>,
}

impl DirectionMap {
    /// Asks for the light of each direction, `size` by `size` of them.
    pub(crate) fn new(size: usize, light: impl Fn(Vec3) -> Vec3 + Sync) -> Self {
        let mut texels = vec![Vec3::ZERO; size * size];
        texels.par_chunks_mut(size).enumerate().for_each(|(row, out)| {
            for (column, texel) in out.iter_mut().enumerate() {
                *texel = light(direction(texel_middle(size, column, row)));
            }
        });
        Self { size, texels }
    }

    /// Adds light within a small angle round a direction.
    pub(crate) fn splat(&mut self, towards: Vec3, reach_rad: f32, light: impl Fn(Vec3) -> Vec3) {
        let middle = (square(towards) * 0.5 + 0.5) * self.size as f32;
        let reach = reach_rad * self.size as f32 + 2.0;
        let span = |m: f32| {
            let last = self.size - 1;
            ((m - reach).max(0.0) as usize).min(last)..=((m + reach).max(0.0) as usize).min(last)
        };
        for row in span(middle.y) {
            for column in span(middle.x) {
                self.texels[row * self.size + column] +=
                    light(direction(texel_middle(self.size, column, row)));
            }
        }
    }

    /// Half as many texels each way, each the mean of four.
    pub(crate) fn halved(&self) -> Self {
        let size = self.size / 2;
        let texels = (0..size * size)
            .map(|i| {
                let at = 2 * (i / size) * self.size + 2 * (i % size);
                let t = &self.texels;
                (t[at] + t[at + 1] + t[at + self.size] + t[at + self.size + 1]) * 0.25
            })
            .collect();
        Self { size, texels }
    }

    /// The mean of this map under a lobe round each direction; `lobe` gives the weight for the
    /// cosine between the two.
    pub(crate) fn blurred(&self, size: usize, lobe: impl Fn(f32) -> f32 + Sync) -> Self {
        let sources: Vec<(Vec3, Vec3, f32)> = self.solid_angles();
        Self::new(size, |towards| {
            let (mut sum, mut weight) = (Vec3::ZERO, 0.0);
            for (direction, light, angle) in &sources {
                let cosine = direction.dot(towards);
                if cosine > 0.0 {
                    let share = lobe(cosine) * angle;
                    sum += *light * share;
                    weight += share;
                }
            }
            sum / weight
        })
    }

    /// Every texel's direction, light and solid angle, sr.
    pub(crate) fn solid_angles(&self) -> Vec<(Vec3, Vec3, f32)> {
        let texel = 2.0 / self.size as f32;
        (0..self.texels.len())
            .map(|i| {
                let middle = texel_middle(self.size, i % self.size, i / self.size);
                let direction = direction(middle);
                // A texel of the square is a patch of an octahedron's face; its solid angle follows
                // from the face's distance (1/sqrt 3) and slant.
                let sum = direction.x.abs() + direction.y.abs() + direction.z.abs();
                (direction, self.texels[i], texel * texel * sum * sum * sum)
            })
            .collect()
    }

    /// The light from a direction (any length but zero), blended between neighbours.
    pub(crate) fn light(&self, towards: Vec3) -> Vec3 {
        let at = (square(towards) * 0.5 + 0.5) * self.size as f32 - 0.5;
        let last = self.size - 1;
        let (column, row) = (at.x.floor(), at.y.floor());
        let (fx, fy) = (at.x - column, at.y - row);
        let t = &self.texels;
        let [a, b, c, d] =
            if column < 0.0 || row < 0.0 || column >= last as f32 || row >= last as f32 {
                let (column, row) = (column as i32, row as i32);
                [(column, row), (column + 1, row), (column, row + 1), (column + 1, row + 1)]
                    .map(|(column, row)| t[self.folded(column, row)])
            } else {
                let first = row as usize * self.size + column as usize;
                [t[first], t[first + 1], t[first + self.size], t[first + self.size + 1]]
            };
        let (top, bottom) = (a + (b - a) * fx, c + (d - c) * fx);
        top + (bottom - top) * fy
    }

    /// Index of a texel that may lie one beyond the square: each of its edges is folded in the
    /// middle, so that what lies beyond is the same edge's other half.
    fn folded(&self, column: i32, row: i32) -> usize {
        let last = self.size as i32 - 1;
        let (mut column, mut row) = (column, row);
        if column < 0 || column > last {
            (column, row) = (column.clamp(0, last), last - row);
        }
        if row < 0 || row > last {
            (column, row) = (last - column, row.clamp(0, last));
        }
        (row * self.size as i32 + column) as usize
    }
}

fn texel_middle(size: usize, column: usize, row: usize) -> Vec2 {
    (Vec2::new(column as f32, row as f32) + 0.5) * (2.0 / size as f32) - 1.0
}

/// Where a direction lies on the square from -1 to 1.
fn square(d: Vec3) -> Vec2 {
    let p = Vec2::new(d.x, d.y) / (d.x.abs() + d.y.abs() + d.z.abs());
    if d.z >= 0.0 { p } else { fold(p) }
}

/// The unit direction of a place on the square.
fn direction(p: Vec2) -> Vec3 {
    let z = 1.0 - p.x.abs() - p.y.abs();
    let q = if z >= 0.0 { p } else { fold(p) };
    Vec3::new(q.x, q.y, z).normalize()
}

fn fold(p: Vec2) -> Vec2 {
    let side = |v: f32| if v >= 0.0 { 1.0 } else { -1.0 };
    Vec2::new((1.0 - p.y.abs()) * side(p.x), (1.0 - p.x.abs()) * side(p.y))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn folding_out_and_back_keeps_the_direction() {
        for i in 0..64 {
            for j in 0..64 {
                let p = texel_middle(64, i, j);
                assert!(square(direction(p)).distance(p) < 1e-5);
            }
        }
    }

    #[test]
    fn light_is_even_across_the_fold() {
        // The light of a direction is the direction. On the fold, the blend of a place's two sides is
        // the same seen from either, and near the middle between them.
        let map = DirectionMap::new(64, |d| d);
        for i in 0..4 {
            let (s, c) = (i as f32 / 4.0 * std::f32::consts::TAU).sin_cos();
            for z in [-0.95_f32, -0.7, -0.5, -0.3, -0.1] {
                let level = (1.0 - z * z).sqrt();
                let d = Vec3::new(c * level, s * level, z);
                let aside = Vec3::new(-s, c, 0.0) * 1e-4;
                let sides = [map.light(d + aside), map.light(d - aside)];
                assert!(sides[0].distance(sides[1]) < 1e-3, "{d} {sides:?}");
                assert!(sides[0].distance(d) < 0.03, "{d} {sides:?}");
            }
        }
    }

    #[test]
    fn solid_angles_sum_to_the_sphere() {
        let map = DirectionMap::new(64, |_| Vec3::ONE);
        let sum: f32 = map.solid_angles().iter().map(|s| s.2).sum();
        // 4 pi (geometry).
        assert!((sum / (4.0 * std::f32::consts::PI) - 1.0).abs() < 2e-3, "{sum}");
    }

    #[test]
    fn a_cosine_lobe_over_a_lit_half_gives_the_irradiance_of_a_hemisphere() {
        let sky = DirectionMap::new(128, |d| if d.z > 0.0 { Vec3::ONE } else { Vec3::ZERO });
        let soft = sky.blurred(40, |c| c);
        // Under a uniform hemisphere a surface tilted by b receives (1 + cos b)/2 (Lambert; any
        // lighting handbook).
        for b in [0.0_f32, 0.5, 1.0, 1.5, 2.2] {
            let towards = Vec3::new(b.sin(), 0.0, b.cos());
            let expected = (1.0 + b.cos()) / 2.0;
            let found = soft.light(towards).x;
            assert!((found - expected).abs() < 0.02, "{b}: {found} {expected}");
        }
    }
}
