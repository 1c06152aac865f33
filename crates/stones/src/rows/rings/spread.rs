//! Rows moved apart evenly, so that the last one lies at the end of the zone.

use super::{Ring, Rings};

/// Stones that may be lost, as a share, so that the last row ends the zone.
const WORTH_AN_END: f64 = 0.02;

impl Rings<'_> {
    /// Moves rows apart evenly until the last one lies at the end of the zone, and shares the round
    /// anew where they come to lie.
    pub(super) fn spread(&self, rings: Vec<Ring>) -> Vec<Ring> {
        let stones = |rings: &[Ring]| rings.iter().map(|ring| ring.count).sum::<usize>() as f64;
        let fits = |rings: &[Ring]| {
            rings.iter().all(|ring| {
                ring.step >= self.shares.least_step(ring.along_mm) - 1e-12
                    && ring.along_mm <= self.along_mm.1 + 1e-6
            })
        };
        let mut spread = rings.clone();
        for _ in 0..6 {
            let extra_mm = self.extra_to_end(&spread);
            spread = self.reshared(&self.nested_anew(&spread, extra_mm));
            // Rows keep their distance for the shares they have now.
            spread = self.nested_anew(&spread, extra_mm);
            let ends = spread.last().is_some_and(|ring| {
                (ring.along_mm - self.along_mm.1).abs() < self.pitch_mm / 500.0
            });
            if ends && fits(&spread) {
                break;
            }
        }
        let worth = stones(&spread) >= stones(&rings) * (1.0 - WORTH_AN_END);
        if worth && fits(&spread) { spread } else { self.nested_anew(&rings, 0.0) }
    }

    /// The same groups of rows, each sharing the round as its rows now lie; with no more stones.
    fn reshared(&self, rings: &[Ring]) -> Vec<Ring> {
        let mut out: Vec<Ring> = Vec::with_capacity(rings.len());
        for group in rings.chunk_by(|a, b| a.step == b.step) {
            let alongs: Vec<f64> = group.iter().map(|ring| ring.along_mm).collect();
            let most = group.iter().map(|ring| ring.count).max().unwrap_or(1);
            let share = self.shares.of(&alongs, |along_mm| self.shares.sides(along_mm), most);
            let share = self.turned(&out, share);
            for ring in group {
                let phase = share.phase + self.shift(out.len(), share.step);
                let count = self.shares.inside(&share, phase);
                out.push(Ring { along_mm: ring.along_mm, phase, step: share.step, count });
            }
        }
        out
    }

    /// The same rows laid again, each `extra_mm` farther from the one before than it must be.
    fn nested_anew(&self, rings: &[Ring], extra_mm: f64) -> Vec<Ring> {
        let mut out: Vec<Ring> = Vec::with_capacity(rings.len());
        for ring in rings {
            let mut along_mm = self.nested(&out, ring.phase, ring.step);
            if !out.is_empty() {
                along_mm += extra_mm;
            }
            out.push(Ring { along_mm, ..*ring });
        }
        out
    }

    /// How much farther apart than they must be the rows lie that end the zone, mm.
    fn extra_to_end(&self, rings: &[Ring]) -> f64 {
        if rings.len() < 2 {
            return 0.0;
        }
        let last = |extra_mm: f64| {
            let laid = self.nested_anew(rings, extra_mm);
            laid[laid.len() - 1].along_mm
        };
        let (mut low, mut high) = (0.0, self.pitch_mm / (rings.len() - 1) as f64);
        while last(high) < self.along_mm.1 && high < self.pitch_mm {
            high *= 2.0;
        }
        for _ in 0..36 {
            let middle = (low + high) / 2.0;
            if last(middle) > self.along_mm.1 { high = middle } else { low = middle }
        }
        low
    }
}
