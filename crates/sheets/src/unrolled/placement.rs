//! Where the stones of one zone go, one drawing for each band it lies on.

use super::borders::borders;
use super::numbers::numbers;
use super::stone_marks::{ASIDE, PageStone, rings, stone_layers};
use super::tangled::{View, views};
use super::{Occupied, Unrolled, guides, is_level};
use crate::Plan;
use crate::drawing::{ACCENT, Drawing, GUIDE, INK, Ink, Layer, Letters, Mark, Trace};
use glam::DVec2;
use piece::{Finish, Piece};
use shape::{Field, ZoneShape};
use stones::Stone;

/// A stone that reaches over a border by less than this, mm, lies flush with it.
const FLUSH_MM: f64 = 0.01;

/// The stones of one zone on one band that are drawn together.
pub(crate) struct Placement<'a> {
    /// Name of the band.
    pub(crate) band: String,
    /// Which of the zone's stones these are.
    pub(crate) view: View,
    /// Its place among the views of this zone and band, from 0, and how many there are.
    pub(crate) place: (usize, usize),
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

/// The placements of a zone of stones; bands without stones are left out. Where patches of several layers
/// lie in each other's way they are drawn one view after the other, each with the stones of the others as
/// rings.
pub(crate) fn placements<'a>(plan: &'a Plan, zone: usize, letters: &Letters) -> Vec<Placement<'a>> {
    let shape = &plan.shape.zones[zone];
    let mut left: Vec<&Stone> =
        plan.stones.stones.iter().filter(|stone| stone.zone == zone).collect();
    let reaching = reaching_in(&plan.piece, shape, &plan.stones.stones, zone);
    let mut placements = Vec::new();
    for band in 0..shape.surface.bands().len() {
        let on = Unrolled::new(&shape.surface, band, DVec2::ZERO);
        let stones: Vec<_> = left.extract_if(.., |stone| on.holds(stone.at.along_mm)).collect();
        if stones.is_empty() {
            continue;
        }
        let beside: Vec<PageStone> = reaching
            .iter()
            .filter(|stone| on.holds(stone.at.along_mm))
            .map(|stone| page_stone(&on, stone))
            .collect();
        let page: Vec<PageStone> = stones.iter().map(|stone| page_stone(&on, stone)).collect();
        let zone_band = ZoneBand { plan, zone, on: &on, page: &page, beside: &beside };
        let views = views(&page);
        let count = views.len();
        for (place, view) in views.into_iter().enumerate() {
            let own = |stone: &&Stone| view.patches.contains(&stone.patch);
            let stones = stones.iter().copied().filter(own).collect();
            let (drawing, profile, occupied) = zone_band.drawn(&view, letters);
            placements.push(Placement {
                band: on.band.name.clone(),
                view,
                place: (place, count),
                drawing,
                profile,
                occupied,
                error_mm: on.error_mm(),
                stones,
            });
        }
    }
    placements
}

/// A zone of stones on one band.
struct ZoneBand<'a> {
    plan: &'a Plan,
    zone: usize,
    on: &'a Unrolled,
    /// All its stones.
    page: &'a [PageStone],
    /// Stones of other zones that reach in.
    beside: &'a [PageStone],
}

impl ZoneBand<'_> {
    /// One view of it, with the points that tiles are cut by and what is taken. Stones of other views count
    /// as well, so that all are cut into about the same tiles.
    fn drawn(&self, view: &View, letters: &Letters) -> (Drawing, Vec<DVec2>, Occupied) {
        let (on, piece) = (self.on, &self.plan.piece);
        let (name, area) = (&piece.zones[self.zone].name, &self.plan.shape.zones[self.zone].area);
        let edges = edge_layer(on, &area.edges, name);
        let lines = area.edges.iter().flat_map(|edge| on.lines_on_page(edge));
        let mut profile: Vec<DVec2> = lines.clone().flatten().collect();
        let mut occupied = Occupied::default();
        lines.for_each(|line| occupied.line(&line));
        for stone in self.page.iter().chain(self.beside) {
            let radius_mm = stone.diameter_mm / 2.0;
            occupied.disc(stone.centre, radius_mm);
            profile.extend([stone.centre - radius_mm, stone.centre + radius_mm]);
        }
        let (own, others): (Vec<PageStone>, Vec<PageStone>) =
            self.page.iter().partition(|stone| view.patches.contains(&stone.patch));
        let guides = guides(on, self.plan.settings.lengths, &mut occupied, letters);
        let aside = rings(&format!("{name}-others"), "Stones of other layers", &others, ASIDE);
        let reaching = format!("Stones that reach into {name}");
        let beside =
            rings(&format!("{name}-beside"), &reaching, self.beside, Ink::line(GUIDE, 0.15));
        let [circles, signs] = stone_layers(name, name, &own, &piece.colours, letters);
        let sides = borders(&own);
        let numbers = numbers(&own, &sides, &mut occupied, letters);
        let layers =
            vec![guides, aside, edges, beside, circles, border_layer(&sides), signs, numbers];
        let drawing = cropped(layers);
        profile.extend(drawing.corners(&[Ink::fill(ACCENT), Ink::fill(GUIDE)]));
        (drawing, profile, occupied)
    }
}

fn border_layer(sides: &[[DVec2; 2]]) -> Layer {
    let mut layer = Layer::new("patches", "Borders of the patches");
    let mut borders = Trace::new();
    sides.iter().for_each(|side| borders.polyline(*side));
    if !borders.is_empty() {
        layer.marks.push(Mark::path(borders, Ink::line(ACCENT, 0.35)));
    }
    layer
}

/// Stones of the zones joined with this one that reach over its border.
fn reaching_in<'a>(
    piece: &Piece,
    shape: &ZoneShape,
    stones: &'a [Stone],
    zone: usize,
) -> Vec<&'a Stone> {
    let straddles = |zone: usize| match &piece.zones[zone].finish {
        Finish::Stones(finish) => finish.rules.straddle,
        _ => false,
    };
    if !straddles(zone) {
        return Vec::new();
    }
    let field = Field::new(&shape.surface, &shape.area);
    let others = stones
        .iter()
        .filter(|stone| stone.zone != zone && stone.part == shape.part && straddles(stone.zone));
    let over_mm = |stone: &Stone| stone.diameter_mm / 2.0 + field.clearance_mm(stone.at);
    others.filter(|stone| over_mm(stone) > FLUSH_MM).collect()
}

pub(super) fn page_stone(on: &Unrolled, stone: &Stone) -> PageStone {
    PageStone {
        centre: on.page(stone.at),
        diameter_mm: stone.diameter_mm,
        colour: stone.colour,
        layer: stone.layer,
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

#[cfg(test)]
mod tests {
    use super::*;
    use piece::Settings;

    #[test]
    fn only_stones_of_a_joined_zone_reach_in() {
        let zone = |name: &str, from: u32, to: u32| {
            format!(
                "[[zone]]\nname = \"{name}\"\npart = \"body\"\n\
                 band = {{ from = \"{from} mm\", to = \"{to} mm\" }}\n\
                 stone_rules = {{ straddle = true }}\n\
                 stones = {{ layout = \"rows\", size = \"SS10\", colour = \"reed\" }}\n"
            )
        };
        let text = "cupwright = 1\ntitle = \"T\"\n[colours]\nreed = \"#6b8e23\"\n[[part]]\n\
            name = \"body\"\nrevolved = [ { along = \"0 mm\", radius = \"37 mm\" }, \
            { along = \"90 mm\", radius = \"37 mm\" } ]\n"
            .to_owned()
            + &zone("upper", 20, 41)
            + &zone("lower", 41, 60);
        let reaching = |text: &str| {
            let piece: Piece = text.parse().expect("a sound piece");
            let settings = Settings::demo();
            let shape = shape::shape(&piece, &settings).expect("sound zones");
            let laid = stones::lay_stones(&piece, &shape, &settings, &mut |_| true);
            let stones = laid.expect("stones").stones;
            let found = reaching_in(&piece, &shape.zones[1], &stones, 1);
            // On a cylinder a disc reaches over a level border if its middle is within its radius.
            let near = stones.iter().filter(|stone| stone.zone == 0);
            let over_mm = |stone: &Stone| stone.diameter_mm / 2.0 + stone.at.along_mm - 41.0;
            let near = near.filter(|stone| over_mm(stone) > FLUSH_MM);
            assert!(found == near.collect::<Vec<_>>());
            found.len()
        };
        // A row of 80 reaches over the border.
        assert!(reaching(&text) > 50);
        assert_eq!(reaching(&text.replace("straddle = true", "straddle = false")), 0);
    }
}
