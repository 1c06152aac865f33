//! Sharing out gaps: stones shy away from near neighbours into the room that is left.

use crate::bed::Bed;

/// Neighbours nearer than this to touching are felt, in diameters.
const FELT: f64 = 0.12;
/// Stones looked at before asking whether to go on.
const AT_ONCE: usize = 1024;
/// Part of a push that a stone follows in one round.
const FOLLOWS: f64 = 0.35;

/// Nudges the stones that `may` move, over some rounds, until gaps around them are about even. The
/// gap asked for and the edges are kept at every move. Ends early when no longer `going`.
pub fn even_out(
    bed: &mut Bed<'_>,
    rounds: u32,
    may: impl Fn(&Bed<'_>, usize) -> bool,
    going: &mut dyn FnMut(&Bed<'_>) -> bool,
) {
    let mut near = Vec::new();
    for _ in 0..rounds {
        for number in 0..bed.laid.len() {
            if number % AT_ONCE == 0 && !going(bed) {
                return;
            }
            if !may(bed, number) {
                continue;
            }
            let laid = bed.laid[number];
            let felt_mm = FELT * laid.diameter_mm;
            bed.neighbours(number, bed.touching_mm(number, bed.reach_mm) + felt_mm, &mut near);
            let (mut right, mut down) = (0.0, 0.0);
            for other in &near {
                let away = laid.frame.centre_mm - bed.laid[*other].frame.centre_mm;
                let distance = away.length().max(1e-9);
                let room_mm = distance - bed.touching_mm(*other, laid.diameter_mm);
                let push = (felt_mm - room_mm).max(0.0) / distance;
                right += push * away.dot(laid.frame.right);
                down += push * away.dot(laid.frame.down);
            }
            let (edge_right, edge_down) = from_edge(bed, number, felt_mm);
            let (right, down) = (FOLLOWS * (right + edge_right), FOLLOWS * (down + edge_down));
            if right.abs() + down.abs() > 1e-4 {
                bed.nudge(number, right, down);
            }
        }
    }
}

/// The push of the nearest edge.
fn from_edge(bed: &Bed<'_>, number: usize, felt_mm: f64) -> (f64, f64) {
    let laid = &bed.laid[number];
    let clearance = |right_mm: f64, down_mm: f64| {
        bed.ground.field.clearance_mm(bed.ground.moved(&laid.frame, right_mm, down_mm))
    };
    let here = clearance(0.0, 0.0);
    let push = felt_mm - (here - laid.diameter_mm / 2.0);
    if push <= 0.0 {
        return (0.0, 0.0);
    }
    const STEP_MM: f64 = 0.02;
    let (right, down) = (clearance(STEP_MM, 0.0) - here, clearance(0.0, STEP_MM) - here);
    let steep = libm::hypot(right, down).max(1e-9);
    (push * right / steep, push * down / steep)
}
