//! Where the stones of one zone go, one drawing for each band it lies on.

use super::patches::patch_layer;
use super::stone_marks::{PageStone, stone_layers};
use super::{Occupied, Unrolled, guides, is_level};
use crate::Plan;
use crate::drawing::{ACCENT, Drawing, GUIDE, INK, Ink, Layer, Letters, Mark, Trace};
use glam::DVec2;
use stones::Stone;

/// The stones of one zone on one band.
pub(crate) struct Placement<'a> {
    /// Name of the band.
    pub(crate) band: String,
    /// Unrolled at true size.
    pub(crate) drawing: Drawing,
    /// Points that every tile's height is taken from.
    pub(crate) profile: Vec<DVec2>,
    /// What is taken by stones and numbers.
    pub(crate) occupied: Occupied,
    /// Its stones in setting order.
    pub(crate) stones: Vec<&'a Stone>,
    /// Greatest error of a length, mm.
    pub(crate) error_mm: f64,
}

/// The placements of a zone of stones; bands without stones are left out.
pub(crate) fn placements<'a>(plan: &'a Plan, zone: usize, letters: &Letters) -> Vec<Placement<'a>> {
    let shape = &plan.shape.zones[zone];
    let mut left: Vec<&Stone> =
        plan.stones.stones.iter().filter(|stone| stone.zone == zone).collect();
    let mut placements = Vec::new();
    for band in 0..shape.surface.bands().len() {
        let on = Unrolled::new(&shape.surface, band, DVec2::ZERO);
        let stones: Vec<_> = left.extract_if(.., |stone| on.holds(stone.at.along_mm)).collect();
        if stones.is_empty() {
            continue;
        }
        let name = &plan.piece.zones[zone].name;
        let edges = edge_layer(&on, &shape.area.edges, name);
        let lines = shape.area.edges.iter().flat_map(|edge| on.lines_on_page(edge));
        let mut profile: Vec<DVec2> = lines.clone().flatten().collect();
        let mut occupied = Occupied::default();
        lines.for_each(|line| occupied.line(&line));
        let page_stones: Vec<_> = stones.iter().map(|stone| page_stone(&on, stone)).collect();
        for stone in &page_stones {
            let radius_mm = stone.diameter_mm / 2.0;
            occupied.disc(stone.centre, radius_mm);
            profile.extend([stone.centre - radius_mm, stone.centre + radius_mm]);
        }
        let guides = guides(&on, plan.settings.lengths, &mut occupied, letters);
        let [circles, signs] = stone_layers(name, name, &page_stones, &plan.piece.colours, letters);
        let patches = patch_layer(&page_stones, &mut occupied, letters);
        // The letters stand on the lines to the patches, so that both can be read.
        let drawing = cropped(vec![guides, edges, circles, patches, signs]);
        profile.extend(drawing.corners([Ink::fill(ACCENT), Ink::fill(GUIDE)]));
        placements.push(Placement {
            band: on.band.name.clone(),
            drawing,
            profile,
            occupied,
            error_mm: on.error_mm(),
            stones,
        });
    }
    placements
}

pub(super) fn page_stone(on: &Unrolled, stone: &Stone) -> PageStone {
    PageStone {
        centre: on.page(stone.at),
        diameter_mm: stone.diameter_mm,
        colour: stone.colour,
        patch: stone.patch,
    }
}

/// The edges of an area.
fn edge_layer(on: &Unrolled, edges: &[Vec<shape::SurfacePoint>], name: &str) -> Layer {
    let mut layer = Layer::new(format!("zone-{name}"), format!("Edge of {name}"));
    for edge in edges {
        // A level edge is found by its distance from the rim, a waving one only by its line.
        let ink = Ink::line(INK, if on.revolved && is_level(edge) { 0.15 } else { 0.3 });
        for line in on.lines_on_page(edge) {
            layer.marks.push(Mark::path(Trace::line(line), ink));
        }
    }
    layer
}

/// The layers, with only those guides that pass the zone: the rest of the wall is on the wrap.
fn cropped(mut layers: Vec<Layer>) -> Drawing {
    let zone = Drawing { layers: layers.split_off(1) };
    let near = zone.bounds().grown(1.0);
    if let Some(guides) = layers.first_mut() {
        guides.marks.retain(|mark| {
            mark.bounds.max.y >= near.min.y
                && mark.bounds.min.y <= near.max.y
                && mark.bounds.meets(&near)
                && mark.bounds.size().y <= near.size().y.max(12.0)
        });
    }
    layers.extend(zone.layers);
    Drawing { layers }
}
