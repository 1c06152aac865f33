//! Short ends of strokes: the foot of an `a` below its bowl, the head of an `n` above its arch.
//!
//! They are as wide as the stroke that they end, and too short for a stone of their own unless it may lie
//! nearer to the outline than the axis reaches. Without them a script `a` reads as an `o`.

use super::network::{Chain, Network};
use glam::DVec2;

/// A branch whose end is at least so wide, as a share of the junction, is the end of a stroke and no corner
/// (own trials on the four typefaces: ends of strokes 0.79 to 0.90, corners and serifs up to 0.57).
const WIDE: f64 = 0.7;
/// At least so long, as a share of the radius of the junction (own trials as before: 0.74 and more).
const LONG: f64 = 0.5;

/// The end of a stroke at a junction.
pub(super) struct Stub {
    /// Where it ends.
    pub(super) tip: DVec2,
    /// Where its last stone lies if there is room for it.
    pub(super) at: Option<DVec2>,
    /// How many times as large the art must be for that.
    pub(super) times: f64,
}

/// The branch of a network from `knot` to `tip` as the end of a stroke in stones that take `pitch_mm`; `None`
/// if it is something else.
pub(super) fn stub(
    network: &Network,
    chain: &Chain,
    (knot, tip): (usize, usize),
    pitch_mm: f64,
) -> Option<Stub> {
    let (from, to) = (network.knots[knot], network.knots[tip]);
    let long_mm = chain.length_mm();
    if to.radius_mm < WIDE * from.stroke_mm || long_mm < LONG * from.stroke_mm {
        return None;
    }
    // Its stone may touch the outline that ends the stroke, and keeps a whole pitch to the junction.
    let way_mm = from.at.distance(to.at);
    let farthest_mm = way_mm + (to.radius_mm - 0.5 * pitch_mm).max(0.0);
    let way = (to.at - from.at) / way_mm.max(1e-9);
    let at = (farthest_mm >= pitch_mm).then(|| from.at + way * way_mm.max(pitch_mm));
    let times = (1.5 * pitch_mm / (way_mm + to.radius_mm)).min(pitch_mm / way_mm.max(1e-9));
    Some(Stub { tip: to.at, at, times })
}
