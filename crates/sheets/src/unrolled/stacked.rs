//! Drawings at true size below each other on one sheet, with a ruler to check the print by.

use crate::drawing::{Anchor, Bounds, Drawing, INK, Ink, Layer, Letters, Mark, Trace};
use glam::DVec2;

/// Room between two drawings on one sheet, and above the first, mm.
const ROOM_MM: f64 = 14.0;

/// Drawings below each other, each with its heading, and a ruler to check the scale by. `bounds` is
/// what one takes up where it is not moved; `draw` gives its heading and its layers, moved.
pub(super) fn stacked<T>(
    letters: &Letters,
    items: &[T],
    bounds: impl Fn(&T) -> Bounds,
    mut draw: impl FnMut(&T, DVec2) -> (String, Vec<Layer>),
) -> Drawing {
    let mut drawing = Drawing::default();
    let mut headings = Layer::new("headings", "Headings");
    let mut below_mm = 0.0;
    let mut left_mm = f64::INFINITY;
    for item in items {
        let bounds = bounds(item);
        let offset = DVec2::new(0.0, below_mm + ROOM_MM - bounds.min.y);
        let (heading, layers) = draw(item, offset);
        let bounds_mm = layers.iter().map(Layer::bounds).fold(Bounds::EMPTY, Bounds::union);
        // Words may stand above it.
        let top_mm = bounds_mm.min.y.min(below_mm + ROOM_MM - 1.0);
        let at = DVec2::new(bounds.min.x, top_mm - 3.0);
        let heading = letters.write(&heading, 3.0, Anchor::Start, at, 0.0);
        headings.marks.push(Mark::path(heading, Ink::fill(INK)));
        left_mm = left_mm.min(bounds.min.x);
        below_mm = bounds_mm.max.y;
        drawing.layers.extend(layers);
    }
    drawing.layers.push(headings);
    drawing.layers.push(ruler(DVec2::new(left_mm, below_mm + ROOM_MM), letters));
    drawing
}

/// A ruler of 50 mm and 2 in.
fn ruler(at: DVec2, letters: &Letters) -> Layer {
    let mut layer =
        Layer::new("check-ruler", "50 mm and 2 in: measure these before trusting a print");
    let mut scale = |length_mm: f64, ticks: u32, rise: f64, words: &str| {
        let mut trace = Trace::line([at, at + DVec2::new(length_mm, 0.0)]);
        for tick in 0..=ticks {
            let x = length_mm * f64::from(tick) / f64::from(ticks);
            let long = tick == 0 || tick == ticks;
            let reach = if long { rise } else { rise * 0.55 };
            trace.polyline([at + DVec2::new(x, 0.0), at + DVec2::new(x, reach)]);
        }
        layer.marks.push(Mark::path(trace, Ink::line(INK, 0.15)));
        let drop = if rise < 0.0 { -0.5 } else { 1.6 };
        let beside = at + DVec2::new(length_mm + 1.5, drop);
        let text = letters.write(words, 1.6, Anchor::Start, beside, 0.0);
        layer.marks.push(Mark::path(text, Ink::fill(INK)));
    };
    scale(50.0, 10, -3.0, "50 mm");
    scale(50.8, 8, 3.0, "2 in");
    layer
}
