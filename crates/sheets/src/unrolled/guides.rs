//! Lines that a maker rules on the blank before she begins.

use super::{Occupied, Unrolled};
use crate::drawing::{Anchor, Bounds, GUIDE, Ink, Layer, Letters, Mark, Trace};
use crate::words;
use glam::DVec2;
use piece::settings::LengthUnit;
use shape::SurfacePoint;

/// Level lines at round distances from the rim, each with its distance at the right end and by the
/// front line where nothing else lies, and the front line: what a maker rules on the blank before
/// she begins.
pub(crate) fn guides(
    on: &Unrolled,
    lengths: LengthUnit,
    occupied: &mut Occupied,
    letters: &Letters,
) -> Layer {
    let mut layer = Layer::new("guides", "Level lines, measured along the wall from the rim");
    let hairline = Ink::dashed(GUIDE, 0.12, 1.5, 1.5);
    if !on.revolved {
        let Bounds { min: low, max: high } = on.bounds();
        let middle = (low + high) / 2.0;
        let across = [DVec2::new(low.x, middle.y), DVec2::new(high.x, middle.y)];
        let down = [DVec2::new(middle.x, low.y), DVec2::new(middle.x, high.y)];
        layer.marks.push(Mark::path(Trace::line(across), hairline));
        layer.marks.push(Mark::path(Trace::line(down), hairline));
        return layer;
    }
    let step_mm = match lengths {
        LengthUnit::Millimetres => 10.0,
        LengthUnit::Inches => 12.7,
    };
    let (from, to) = on.band.along_mm;
    let first = (from / step_mm).ceil() as i64;
    let last = (to / step_mm).floor() as i64;
    for count in first..=last {
        let along_mm = count as f64 * step_mm;
        let parallel = on.parallel(along_mm);
        let label = match lengths {
            LengthUnit::Millimetres => words::trimmed(along_mm, 0),
            LengthUnit::Inches => words::trimmed(along_mm / 25.4, 1),
        };
        let last = parallel.len() - 1;
        for (place, shifts) in [(last, [1.2, 2.4, 3.6, 4.8]), (last / 2, [1.0, 1.5, 2.0, 2.5])] {
            let (from, to) = (parallel[place - 1], parallel[place]);
            let right = (to - from).normalize_or_zero();
            let turn_rad = libm::atan2(right.y, right.x);
            let number = shifts.into_iter().find_map(|shift| {
                let at = to + right * shift + right.perp() * 0.8;
                let number = letters.write(&label, 1.6, Anchor::Start, at, turn_rad);
                occupied.is_free(number.bounds().grown(0.2)).then_some(number)
            });
            if let Some(number) = number {
                occupied.rectangle(number.bounds());
                layer.marks.push(Mark::path(number, Ink::fill(GUIDE)));
            }
        }
        layer.marks.push(Mark::path(Trace::line(parallel), hairline));
    }
    let front = [from, to].map(|along_mm| on.page(SurfacePoint { around: 0.0, along_mm }));
    layer.marks.push(Mark::path(Trace::line(front), Ink::dashed(GUIDE, 0.2, 4.0, 1.5)));
    layer
}
