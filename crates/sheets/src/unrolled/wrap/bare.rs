//! The bare band on a wrap: its border, where to cut it, and where it meets itself.

use crate::drawing::{Anchor, GUIDE, INK, Ink, Layer, Letters, Mark, Trace};
use crate::unrolled::{Occupied, Unrolled};
use glam::DVec2;

/// The band's own border, where to cut a template for the bare blank, and where it meets itself
/// once every coat is on.
pub(super) fn bare_layer(
    bare: &Unrolled,
    grown: &Unrolled,
    occupied: &mut Occupied,
    letters: &Letters,
) -> Layer {
    let mut layer = Layer::new("band", "Border of the bare band and the cut at the back");
    let (borders, cuts) = bare.outline();
    for border in borders {
        layer.marks.push(Mark::path(Trace::line(border), Ink::line(INK, 0.25)));
    }
    for cut in cuts {
        layer.marks.push(Mark::path(Trace::line(cut), Ink::line(INK, 0.25)));
        note_beside(&mut layer, cut, "cut here for the bare blank", occupied, letters);
    }
    let (_, cuts) = grown.outline();
    for (cut, bare) in cuts.into_iter().zip(bare.outline().1) {
        if (cut[0] - bare[0]).length() > 0.3 {
            layer.marks.push(Mark::path(Trace::line(cut), Ink::dashed(INK, 0.2, 2.0, 1.0)));
        }
    }
    layer
}

/// Small words along a line, on the side towards the front, where nothing else lies.
fn note_beside(
    layer: &mut Layer,
    [top, bottom]: [DVec2; 2],
    words: &str,
    occupied: &mut Occupied,
    letters: &Letters,
) {
    let down = (bottom - top).normalize_or_zero();
    let front = if top.x < 0.0 { -down.perp() } else { down.perp() };
    // Turned so that the words run down the line on the left and up it on the right.
    let turn_rad =
        if top.x < 0.0 { libm::atan2(down.y, down.x) } else { libm::atan2(-down.y, -down.x) };
    let width_mm = letters.write(words, 1.6, Anchor::Start, top, 0.0).bounds().size().x;
    let half = down * (width_mm / 2.0 + 1.0);
    // Turned words fill little of their rectangle: what they lie on is looked up along the line.
    let free = |at: DVec2| {
        let mut lines = [-0.6, 0.0, 0.6].into_iter().map(|off| at + front * off);
        lines.all(|at| occupied.covered_mm(at - half, at + half) == 0.0)
    };
    let spots = [0.5, 0.3, 0.7, 0.15, 0.85].map(|share| top.lerp(bottom, share) + front * 2.2);
    if let Some(at) = spots.into_iter().find(|at| free(*at)) {
        occupied.line(&[at - half, at + half]);
        let text = letters.write(words, 1.6, Anchor::Middle, at, turn_rad);
        layer.marks.push(Mark::path(text, Ink::fill(GUIDE)));
    }
}
