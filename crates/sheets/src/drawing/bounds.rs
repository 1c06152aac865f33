//! Rectangles on a page.

use glam::DVec2;

/// A rectangle, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Bounds {
    pub(crate) min: DVec2,
    pub(crate) max: DVec2,
}

impl Bounds {
    /// Holds nothing.
    pub(crate) const EMPTY: Self =
        Self { min: DVec2::splat(f64::INFINITY), max: DVec2::splat(f64::NEG_INFINITY) };

    pub(crate) fn new(min: DVec2, max: DVec2) -> Self {
        Self { min, max }
    }

    pub(crate) fn size(&self) -> DVec2 {
        self.max - self.min
    }

    #[must_use]
    pub(crate) fn with(self, point: DVec2) -> Self {
        Self { min: self.min.min(point), max: self.max.max(point) }
    }

    #[must_use]
    pub(crate) fn union(self, other: Self) -> Self {
        Self { min: self.min.min(other.min), max: self.max.max(other.max) }
    }

    #[must_use]
    pub(crate) fn grown(self, margin_mm: f64) -> Self {
        Self { min: self.min - margin_mm, max: self.max + margin_mm }
    }

    /// The least and the greatest.
    pub(crate) fn corners(&self) -> [DVec2; 2] {
        [self.min, self.max]
    }

    pub(crate) fn holds(&self, other: &Self) -> bool {
        self.min.cmple(other.min).all() && self.max.cmpge(other.max).all()
    }

    pub(crate) fn meets(&self, other: &Self) -> bool {
        self.min.x <= other.max.x
            && other.min.x <= self.max.x
            && self.min.y <= other.max.y
            && other.min.y <= self.max.y
    }
}
