//! Area between parallels of a surface, summed once.

use crate::Surface;

/// Area between the first parallel and another for one unit of `around`, summed once.
pub(super) struct AreaTable<'a> {
    surface: &'a Surface,
    nodes: Vec<f64>,
    sums: Vec<f64>,
}

impl<'a> AreaTable<'a> {
    pub(super) fn new(surface: &'a Surface, from: f64, to: f64) -> Self {
        let mut nodes = vec![from, to];
        if let Surface::Revolved(revolved) = surface {
            nodes.extend(revolved.segments().iter().map(|segment| segment.along_mm.0));
        }
        nodes.retain(|node| (from..=to).contains(node));
        nodes.sort_by(f64::total_cmp);
        nodes.dedup();
        let mut sums = vec![0.0];
        for pair in nodes.windows(2) {
            sums.push(sums[sums.len() - 1] + ring_area(surface, pair[0], pair[1]));
        }
        Self { surface, nodes, sums }
    }

    pub(super) fn at(&self, along: f64) -> f64 {
        let index = self.nodes.partition_point(|node| *node <= along).saturating_sub(1);
        self.sums[index] + ring_area(self.surface, self.nodes[index], along)
    }
}

/// Area between two parallels of one straight piece for one unit of `around`: three-point
/// Gauss-Legendre, exact where the radius changes evenly; it never looks at the ends (a crease).
fn ring_area(surface: &Surface, from: f64, to: f64) -> f64 {
    let half = 0.5 * (to - from);
    let reach = half * 0.6_f64.sqrt();
    let at = |along: f64| surface.around_scale_mm(along) * surface.along_scale(along);
    let middle = from + half;
    half * (5.0 * at(middle - reach) + 8.0 * at(middle) + 5.0 * at(middle + reach)) / 9.0
}
