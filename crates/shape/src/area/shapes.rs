//! Which loops of an area belong together where it runs across the back.

use crate::SurfacePoint;

pub(super) fn turns_left(one: &[SurfacePoint]) -> bool {
    let twice: f64 = one
        .iter()
        .zip(one.iter().cycle().skip(1))
        .map(|(a, b)| a.around * b.along_mm - b.around * a.along_mm)
        .sum();
    twice > 0.0
}

/// Where a shape lies against the cut at the back, along the wall.
pub(super) struct Stretch {
    pub(super) from: f64,
    pub(super) to: f64,
    pub(super) shape: usize,
}

impl Stretch {
    /// Those of all loops on one side of the cut, in order along the wall.
    pub(super) fn on_cut(loops: &[&Vec<SurfacePoint>], side: f64) -> Vec<Self> {
        let mut stretches: Vec<Self> = Vec::new();
        for (shape, one) in loops.iter().enumerate() {
            let edges = one.iter().zip(one.iter().cycle().skip(1));
            let against = edges.filter(|(a, b)| a.around == side && b.around == side);
            stretches.extend(against.map(|(a, b)| Self {
                from: a.along_mm.min(b.along_mm),
                to: a.along_mm.max(b.along_mm),
                shape,
            }));
        }
        stretches.sort_by(|a, b| a.from.total_cmp(&b.from));
        stretches
    }

    /// By more than rounding, 0.1 µm.
    pub(super) fn overlaps(&self, other: &Self) -> bool {
        self.from.max(other.from) + 1.0e-4 < self.to.min(other.to)
    }
}

/// Shapes that belong together, each with one that stands for it.
pub(super) struct Groups(pub(super) Vec<usize>);

impl Groups {
    fn of(&mut self, mut shape: usize) -> usize {
        while self.0[shape] != shape {
            self.0[shape] = self.0[self.0[shape]];
            shape = self.0[shape];
        }
        shape
    }

    /// Whether they were apart before.
    pub(super) fn join(&mut self, one: usize, other: usize) -> bool {
        let (one, other) = (self.of(one), self.of(other));
        self.0[one.max(other)] = one.min(other);
        one != other
    }
}
