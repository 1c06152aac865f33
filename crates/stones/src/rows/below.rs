//! Where the nearest stone below another may lie.

use crate::fill::Ground;
use crate::steps::step;
use shape::SurfacePoint;

/// The nearest `along_mm` below a stone at `along_mm`, `offset` round from it, that keeps `pitch_mm`
/// between the centres, straight through space.
pub fn below(ground: &Ground<'_>, pitch_mm: f64, along_mm: f64, offset: f64) -> f64 {
    step();
    let surface = ground.surface;
    let stone = surface.world_from_surface(SurfacePoint { around: 0.0, along_mm });
    let spare = |along_mm: f64| {
        let at = SurfacePoint { around: offset, along_mm };
        surface.world_from_surface(at).distance(stone) - pitch_mm
    };
    let (mut low, mut high) = (along_mm, along_mm + 1.2 * pitch_mm);
    let (mut at_low, mut at_high) = (spare(low), spare(high));
    if at_low >= 0.0 {
        return along_mm;
    }
    let mut widened = 0;
    while at_high < 0.0 && widened < 8 {
        (low, at_low) = (high, at_high);
        high += pitch_mm;
        at_high = spare(high);
        widened += 1;
    }
    // Regula falsi, Illinois variant, ending on the far side.
    for _ in 0..40 {
        if at_high < 1e-10 {
            break;
        }
        let middle = (low * at_high - high * at_low) / (at_high - at_low);
        let here = spare(middle);
        if here >= 0.0 {
            (high, at_high) = (middle, here);
            at_low /= 2.0;
        } else {
            (low, at_low) = (middle, here);
            at_high /= 2.0;
        }
        if high - low < 1e-11 {
            break;
        }
    }
    high
}
