//! A measure down the wall in which a pattern keeps its shape while it shrinks with the girth.
//!
//! Depth is counted in units of `around`: one mm down counts 1/r, r being the radius there. A map that
//! has the same scale round and down keeps angles (Mercator's; Snyder, Map Projections: A Working
//! Manual, USGS Professional Paper 1395, 1987, chapter 7), so a square drawn in (around, depth) is a
//! square on the wall, as large as the girth there allows. On a flat part depth is mm.

use crate::Surface;

/// Longest step of the table, mm.
const STEP_MM: f64 = 0.1;

/// Depth below the upper end of a zone.
pub(super) struct Even {
    /// Distance from the rim, mm, and depth, both growing.
    stops: Vec<(f64, f64)>,
}

impl Even {
    /// Between two distances from the rim, mm, off the axis.
    pub(super) fn new(surface: &Surface, (top, bottom): (f64, f64)) -> Self {
        if surface.period().is_none() {
            return Self { stops: vec![(top, 0.0), (bottom, bottom - top)] };
        }
        let steps = ((bottom - top) / STEP_MM).ceil().clamp(1.0, 50_000.0) as u32;
        let step_mm = (bottom - top) / f64::from(steps);
        let rate = |along: f64| surface.along_scale(along) / surface.around_scale_mm(along);
        let mut stops = vec![(top, 0.0)];
        let mut depth = 0.0;
        for step in 0..steps {
            // Simpson's rule.
            let from = top + step_mm * f64::from(step);
            let sum = rate(from) + 4.0 * rate(from + 0.5 * step_mm) + rate(from + step_mm);
            depth += step_mm * sum / 6.0;
            stops.push((from + step_mm, depth));
        }
        Self { stops }
    }

    /// Depth of the lower end.
    pub(super) fn whole(&self) -> f64 {
        self.stops[self.stops.len() - 1].1
    }

    /// Distance from the rim at a depth, mm; beyond the ends it goes on as it ended.
    pub(super) fn along_mm(&self, depth: f64) -> f64 {
        let after = self.stops.partition_point(|stop| stop.1 <= depth);
        let i = after.clamp(1, self.stops.len() - 1);
        let (a, b) = (self.stops[i - 1], self.stops[i]);
        a.0 + (b.0 - a.0) * (depth - a.1) / (b.1 - a.1)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn depths_on_a_cone_follow_the_logarithm_of_the_radius() {
        // The integral of dx / (r + m x) is ln((r + m x) / r) / m (Zwillinger, CRC Standard
        // Mathematical Tables, integrals with a + bx).
        let measure = |along_mm, radius_mm| piece::Measure {
            along_mm,
            radius_mm,
            radius_step_mm: 0.0,
            run: piece::Run::Straight,
            crease: false,
        };
        let surface = Surface::revolved(&[measure(0.0, 45.0), measure(180.0, 33.0)]).expect("cup");
        let even = Even::new(&surface, (20.0, 160.0));
        let (slope, top) = (-12.0 / 180.0, 45.0 - 12.0 * 20.0 / 180.0);
        for along in [20.0, 50.0, 111.1, 160.0_f64] {
            let depth = libm::log((top + slope * (along - 20.0)) / top) / slope;
            assert!((even.along_mm(depth) - along).abs() < 1e-4, "{along}");
        }
    }
}
