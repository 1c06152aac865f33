//! Drips: a solid strip below the upper edge, from which drips run down to round ends.
//!
//! Each keeps its width all the way down; where the part narrows, the gaps between them shrink.

use super::chance::Chance;
use super::ground::{Ground, line_in_pieces};
use super::{PIECE_MM, TOLERANCE_MM};
use crate::boolean::Loop;
use crate::flatten::closed_loops;
use glam::DVec2;
use kurbo::BezPath;
use piece::{Diagnostic, FieldPath};

/// Narrowest gap between two drips, mm: knife and brush need as much.
const LEAST_GAP_MM: f64 = 1.0;
/// Control points of a quarter of an ellipse as Bézier curve (common practice: within 0.03 %).
const QUARTER: f64 = 0.552_284_75;
/// Widths of the neck and of the round end, as shares of the width at the root.
const NECK: f64 = 0.8;
const END: f64 = 0.94;

pub(super) struct Drips {
    pub(super) count: u32,
    pub(super) width_mm: (f64, f64),
    pub(super) length_mm: (f64, f64),
    pub(super) solid_mm: f64,
}

impl Drips {
    pub(super) fn loops(
        &self,
        ground: &Ground<'_>,
        at: &FieldPath,
        chance: &mut Chance,
    ) -> Result<Vec<Loop>, Diagnostic> {
        let top_mm = ground.along_mm.0;
        let root_mm = top_mm + self.solid_mm;
        let lowest_mm = root_mm + self.length_mm.1;
        if lowest_mm > ground.along_mm.1 + 1.0e-6 {
            let message = format!(
                "a strip of {} mm and drips of up to {} mm are longer than the zone, which is {:.1} mm high",
                self.solid_mm,
                self.length_mm.1,
                ground.along_mm.1 - top_mm
            );
            return Err(Diagnostic::error(at.key("length"), message)
                .hint("Make them shorter, or let the zone reach farther down."));
        }
        ground.off_axis(at)?;
        let span_mm = (top_mm, lowest_mm);
        let (room_mm, scale_mm) = (ground.width_mm(span_mm), ground.scales_mm(span_mm).0);
        let count = self.count as usize;
        let widths = chance.spread(self.width_mm, count);
        let lengths = self.lengths(chance);
        let free_mm = room_mm - widths.iter().sum::<f64>();
        if free_mm < LEAST_GAP_MM * count as f64 {
            let message = format!(
                "{count} drips of these widths with {LEAST_GAP_MM} mm between them do not fit side by side in {room_mm:.0} mm"
            );
            return Err(
                Diagnostic::error(at.key("count"), message).hint("Make them fewer or narrower.")
            );
        }
        let gaps = self.gaps(free_mm, chance);
        let mut loops = Vec::with_capacity(count);
        let start = if ground.all_round { chance.unit() * room_mm } else { 0.0 };
        let place = |x_mm: f64| ground.snapped(ground.around.0 + x_mm / scale_mm);
        // Each is drawn from the middle of the gap before it to the middle of the gap after it.
        let mut left_mm = start;
        for drip in 0..count {
            let (before, after) = (0.5 * gaps[drip], 0.5 * gaps[(drip + 1) % count]);
            let width_mm = widths[drip];
            let right_mm = left_mm + before + width_mm + after;
            let end_mm = if drip + 1 == count { start + room_mm } else { right_mm };
            let (left, right) = (place(left_mm), place(end_mm));
            let middle = ground.around.0 + (left_mm + before + 0.5 * width_mm) / scale_mm;
            let outline = outline(width_mm, lengths[drip], (before, after));
            let corner = |around, along_mm| ground.plane.corner(around, along_mm);
            let mut one = vec![
                corner(left, root_mm),
                corner(left, top_mm),
                corner(right, top_mm),
                corner(right, root_mm),
            ];
            one.extend(ground.hung(middle, root_mm, &outline));
            loops.push(one);
            left_mm = right_mm;
        }
        Ok(loops)
    }

    /// Short and long by turns, so that drips side by side seldom look like the teeth of a comb.
    fn lengths(&self, chance: &mut Chance) -> Vec<f64> {
        let count = self.count as usize;
        let (least, most) = self.length_mm;
        let short = count.div_ceil(2);
        let middle = least + (most - least) * short as f64 / count as f64;
        let shorts = chance.spread((least, middle), short);
        let longs = chance.spread((middle, most), count - short);
        (0..count)
            .map(|drip| if drip % 2 == 0 { shorts[drip / 2] } else { longs[drip / 2] })
            .collect()
    }

    /// Gaps that share out what the drips leave free; the first lies before the first drip and after
    /// the last.
    fn gaps(&self, free_mm: f64, chance: &mut Chance) -> Vec<f64> {
        let least_mm = LEAST_GAP_MM;
        let count = self.count as usize;
        let weights: Vec<f64> = (0..count).map(|_| 0.35 + chance.unit()).collect();
        let sum: f64 = weights.iter().sum();
        let spare_mm = free_mm - least_mm * count as f64;
        weights.iter().map(|weight| least_mm + spare_mm * weight / sum).collect()
    }
}

/// From the root on the right round the end to the root on the left, x from the middle, y down from
/// the roots. `room_mm` is how far the fillets at its roots may reach to the left and to the right.
fn outline(width_mm: f64, length_mm: f64, room_mm: (f64, f64)) -> Vec<DVec2> {
    let half = 0.5 * width_mm;
    let end = END * half;
    let end_mm = end.min(0.5 * length_mm);
    let middle = length_mm - end_mm;
    let mut path = BezPath::new();
    let fillet = |room: f64| room.min(1.2 * width_mm).min(0.45 * length_mm);
    let (left, right) = (fillet(room_mm.0), fillet(room_mm.1));
    let bend = 1.0 - QUARTER;
    path.move_to((half + right, 0.0));
    path.curve_to((half + bend * right, 0.0), (half, bend * right), (half, right));
    let neck = |root: f64| root + 0.5 * (middle - root);
    let (neck_right, neck_left) = (neck(right), neck(left));
    let waist = NECK * half;
    let third = |from: f64, to: f64| from + (to - from) / 3.0;
    path.curve_to(
        (half, third(right, neck_right)),
        (waist, third(neck_right, right)),
        (waist, neck_right),
    );
    path.curve_to(
        (waist, third(neck_right, middle)),
        (end, third(middle, neck_right)),
        (end, middle),
    );
    let round = QUARTER * end_mm;
    path.curve_to((end, middle + round), (QUARTER * end, length_mm), (0.0, length_mm));
    path.curve_to((-QUARTER * end, length_mm), (-end, middle + round), (-end, middle));
    path.curve_to(
        (-end, third(middle, neck_left)),
        (-waist, third(neck_left, middle)),
        (-waist, neck_left),
    );
    path.curve_to((-waist, third(neck_left, left)), (-half, third(left, neck_left)), (-half, left));
    path.curve_to((-half, bend * left), (-half - bend * left, 0.0), (-half - left, 0.0));
    let drawn = closed_loops(&path, TOLERANCE_MM).swap_remove(0);
    line_in_pieces(&drawn, PIECE_MM)
}
