//! A drop of rain: a pointed head, straight sides and a round foot.

use super::PIECE_MM;
use super::ground::{arc, in_pieces};
use super::strewn::Made;
use glam::DVec2;
use std::f64::consts::PI;

/// A drop with its middle at the origin, y down. One that would be wider than long is round.
pub(super) fn drop_of(length_mm: f64, width_mm: f64, slant_rad: f64) -> Made {
    let length_mm = length_mm.max(width_mm);
    let radius_mm = 0.5 * width_mm;
    let centre = DVec2::new(0.0, 0.5 * length_mm - radius_mm);
    let head = DVec2::new(0.0, -0.5 * length_mm);
    // The sides touch the round foot where its radius stands square on them.
    let touch = libm::asin((radius_mm / (centre.y - head.y)).min(1.0));
    let mut outline = arc(centre, radius_mm, -touch, PI + touch, 1.0);
    outline.push(head);
    let way = DVec2::new(-libm::sin(slant_rad), libm::cos(slant_rad));
    let turned = |at: DVec2| DVec2::new(at.x * way.y + at.y * way.x, at.y * way.y - at.x * way.x);
    let outline: Vec<DVec2> = outline.into_iter().map(turned).collect();
    // Discs along its middle that hold it whole.
    let discs = (length_mm / width_mm).ceil().clamp(1.0, 400.0);
    let step_mm = length_mm / discs;
    let reach_mm = 0.5 * libm::hypot(width_mm, step_mm);
    let discs = (0..discs as u32)
        .map(|disc| (turned(DVec2::new(0.0, head.y + step_mm * (f64::from(disc) + 0.5))), reach_mm))
        .collect();
    Made { discs, loops: vec![in_pieces(&outline, PIECE_MM)] }
}
