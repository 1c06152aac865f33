//! Where in a triangle a place lies.

use glam::Vec3;

/// Weights of a triangle's corners for a place in its plane.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Weights {
    origin: Vec3,
    second: Vec3,
    third: Vec3,
}

impl Weights {
    /// Prepares a triangle.
    pub(crate) fn new([a, b, c]: [Vec3; 3]) -> Self {
        let (e, f) = (b - a, c - a);
        let normal = e.cross(f);
        let scale = 1.0 / normal.length_squared().max(1e-20);
        Self { origin: a, second: f.cross(normal) * scale, third: normal.cross(e) * scale }
    }

    /// The three weights at a place.
    pub(crate) fn at(&self, p: Vec3) -> [f32; 3] {
        let d = p - self.origin;
        let (v, w) = (d.dot(self.second), d.dot(self.third));
        [1.0 - v - w, v, w]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn weights_of_corners_find_the_corners() {
        let corners =
            [Vec3::new(1.0, 2.0, 3.0), Vec3::new(4.0, 2.0, 1.0), Vec3::new(0.0, 5.0, 2.0)];
        let weights = Weights::new(corners);
        for (k, corner) in corners.iter().enumerate() {
            let w = weights.at(*corner);
            for (j, w) in w.iter().enumerate() {
                assert!((w - if j == k { 1.0 } else { 0.0 }).abs() < 1e-5);
            }
        }
        let w = weights.at((corners[0] + corners[1] * 2.0 + corners[2]) / 4.0);
        assert!((w[1] - 0.5).abs() < 1e-5 && (w[2] - 0.25).abs() < 1e-5);
    }
}
