//! Sizes that change along a way across the zone: which is asked for where.

use crate::colour::Course;
use crate::fill::Order;
use shape::{Surface, SurfacePoint};

/// The steps of a ladder of sizes laid out along a way, the largest (0) first.
#[derive(Debug)]
pub struct Steps {
    course: Course,
    last: f64,
}

impl Steps {
    /// Those of an order; `None` if it does not ask for sizes along a way.
    pub fn new(order: &Order, surface: &Surface) -> Option<Self> {
        let way = order.grade.as_ref()?;
        let last = order.sizes.len() as f64 - 1.0;
        (last > 0.0).then(|| Self { course: Course::new(way, surface), last })
    }

    /// The step asked for at a place, between two of them as a fraction.
    pub fn asked(&self, at: SurfacePoint) -> f64 {
        self.last * self.course.share(at)
    }

    /// Whether a size is no larger than the one asked for at a place, which lies half way between two
    /// steps at most.
    pub fn reaches(&self, size: usize, at: SurfacePoint) -> bool {
        size as f64 >= self.asked(at) - 0.5
    }
}
