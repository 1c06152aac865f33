//! Lines of sight from outside a zone inwards, along which rows sink until they rest.
//!
//! On a revolved part a line runs along the wall from the rim; on a flat part it runs from outside
//! towards the middle. A place is `across` (which line) and `deep` (how far along it, mm).

use crate::bed::Bed;
use crate::fill::Ground;
use libm::{cos, hypot, sin};
use shape::SurfacePoint;
use std::f64::consts::{FRAC_PI_2, PI, TAU};

/// The lines of one zone.
#[derive(Debug, Clone, Copy)]
pub struct Sight {
    /// Where lines begin and end, mm.
    pub deep_mm: (f64, f64),
    /// First and last line.
    pub across: (f64, f64),
    /// Whether the last line is the first again.
    pub closed: bool,
    round: bool,
    middle: SurfacePoint,
}

impl Sight {
    /// Lines over the whole zone.
    pub fn new(ground: &Ground<'_>) -> Self {
        let middle = SurfacePoint {
            around: (ground.around.0 + ground.around.1) / 2.0,
            along_mm: (ground.along_mm.0 + ground.along_mm.1) / 2.0,
        };
        if ground.surface.period().is_some() {
            return Self {
                deep_mm: ground.along_mm,
                across: ground.around,
                closed: ground.all_round(),
                round: true,
                middle,
            };
        }
        let half = hypot(
            (ground.around.1 - ground.around.0) / 2.0,
            (ground.along_mm.1 - ground.along_mm.0) / 2.0,
        );
        Self { deep_mm: (0.0, half), across: (-PI, PI), closed: true, round: false, middle }
    }

    /// The place on a line.
    pub fn place(&self, ground: &Ground<'_>, across: f64, deep_mm: f64) -> SurfacePoint {
        if self.round {
            return SurfacePoint { around: ground.wrapped(across), along_mm: deep_mm };
        }
        let reach = self.deep_mm.1 - deep_mm;
        // Line 0 comes from above, growing to the right.
        let angle = across - FRAC_PI_2;
        SurfacePoint {
            around: self.middle.around + reach * cos(angle),
            along_mm: self.middle.along_mm + reach * sin(angle),
        }
    }

    /// The first place on a line, from `from_mm` to `to_mm` deep, where a stone can lie.
    pub fn rest(
        &self,
        bed: &Bed<'_>,
        diameter_mm: f64,
        across: f64,
        from_mm: f64,
        to_mm: f64,
    ) -> Option<f64> {
        let takes = |deep_mm: f64| bed.takes(self.place(bed.ground, across, deep_mm), diameter_mm);
        let step = diameter_mm / 6.0;
        let to_mm = to_mm.min(self.deep_mm.1);
        let mut miss = from_mm.max(self.deep_mm.0);
        if takes(miss) {
            return Some(miss);
        }
        while miss < to_mm {
            let mut hit = (miss + step).min(to_mm);
            if takes(hit) {
                for _ in 0..34 {
                    let middle = (hit + miss) / 2.0;
                    *(if takes(middle) { &mut hit } else { &mut miss }) = middle;
                }
                return Some(hit);
            }
            miss = hit;
        }
        None
    }

    /// How deep on line `across` the far side lies of a circle of some mm about the place `deep_mm` on
    /// line `from`; `None` where the circle does not reach that line. On a revolved part good to the
    /// curve of the wall within the circle.
    pub fn under(
        &self,
        ground: &Ground<'_>,
        (from, deep_mm): (f64, f64),
        across: f64,
        radius_mm: f64,
    ) -> Option<f64> {
        if self.round {
            let aside_mm = (across - from) * ground.surface.around_scale_mm(deep_mm);
            let down = radius_mm * radius_mm - aside_mm * aside_mm;
            let scale = ground.surface.along_scale(deep_mm).max(1e-3);
            return (down >= 0.0).then(|| deep_mm + down.sqrt() / scale);
        }
        let (reach, turn) = (self.deep_mm.1 - deep_mm, across - from);
        let aside_mm = reach * sin(turn);
        let down = radius_mm * radius_mm - aside_mm * aside_mm;
        (down >= 0.0).then(|| self.deep_mm.1 - (reach * cos(turn) - down.sqrt()))
    }

    /// Lines from one to another, the short way from the first to the second if they close.
    pub fn apart(&self, from: f64, to: f64) -> f64 {
        if self.closed { (to - from).rem_euclid(TAU) } else { to - from }
    }
}
