//! SVG path data built up point by point, with the rectangle it takes up.

use super::Bounds;
use crate::numbers::push_short;
use glam::DVec2;

/// A path under way.
#[derive(Debug, Clone)]
pub(crate) struct Trace {
    data: String,
    bounds: Bounds,
}

impl Trace {
    pub(crate) fn new() -> Self {
        Self { data: String::new(), bounds: Bounds::EMPTY }
    }

    /// Straight lines through `points`.
    pub(crate) fn line(points: impl IntoIterator<Item = DVec2>) -> Self {
        let mut trace = Self::new();
        trace.polyline(points);
        trace
    }

    /// A closed outline through `points`.
    pub(crate) fn outline(points: impl IntoIterator<Item = DVec2>) -> Self {
        let mut trace = Self::line(points);
        trace.close();
        trace
    }

    /// A rectangle.
    pub(crate) fn rectangle(bounds: Bounds) -> Self {
        let (a, b) = (bounds.min, bounds.max);
        Self::outline([a, DVec2::new(b.x, a.y), b, DVec2::new(a.x, b.y)])
    }

    /// A circle of two half circles.
    pub(crate) fn circle(centre: DVec2, radius_mm: f64) -> Self {
        let mut trace = Self::new();
        trace.move_to(centre - DVec2::new(radius_mm, 0.0));
        for end in [radius_mm, -radius_mm] {
            trace.data.push('A');
            trace.number(radius_mm, " ");
            trace.number(radius_mm, " 0 0 1 ");
            trace.number(centre.x + end, " ");
            trace.number(centre.y, "");
        }
        trace.close();
        trace.bounds = Bounds::new(centre - radius_mm, centre + radius_mm);
        trace
    }

    /// An upright cross of two lines.
    pub(crate) fn cross(centre: DVec2, arm_mm: f64) -> Self {
        let (x, y) = (DVec2::new(arm_mm, 0.0), DVec2::new(0.0, arm_mm));
        let mut trace = Self::line([centre - x, centre + x]);
        trace.polyline([centre - y, centre + y]);
        trace
    }

    pub(crate) fn polyline(&mut self, points: impl IntoIterator<Item = DVec2>) {
        for (place, point) in points.into_iter().enumerate() {
            if place == 0 { self.move_to(point) } else { self.line_to(point) }
        }
    }

    pub(crate) fn move_to(&mut self, to: DVec2) {
        self.put('M', &[to]);
    }

    pub(crate) fn line_to(&mut self, to: DVec2) {
        self.put('L', &[to]);
    }

    pub(crate) fn quadratic_to(&mut self, control: DVec2, to: DVec2) {
        self.put('Q', &[control, to]);
    }

    pub(crate) fn cubic_to(&mut self, first: DVec2, second: DVec2, to: DVec2) {
        self.put('C', &[first, second, to]);
    }

    pub(crate) fn close(&mut self) {
        self.data.push('Z');
    }

    /// This path and then another.
    pub(crate) fn append(&mut self, other: &Self) {
        self.data.push_str(&other.data);
        self.bounds = self.bounds.union(other.bounds);
    }

    pub(crate) fn is_empty(&self) -> bool {
        self.data.is_empty()
    }

    pub(crate) fn bounds(&self) -> Bounds {
        self.bounds
    }

    pub(crate) fn into_data(self) -> String {
        self.data
    }

    fn put(&mut self, command: char, points: &[DVec2]) {
        self.data.push(command);
        for (place, point) in points.iter().enumerate() {
            if place > 0 {
                self.data.push(' ');
            }
            self.number(point.x, " ");
            self.number(point.y, "");
            self.bounds = self.bounds.with(*point);
        }
    }

    fn number(&mut self, value: f64, then: &str) {
        push_short(&mut self.data, value);
        self.data.push_str(then);
    }
}
