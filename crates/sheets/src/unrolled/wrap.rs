//! The wrap of a part: every band unrolled, with every zone on it.

mod bare;

use bare::bare_layer;

use super::crests::{crest_layer, crest_lines, waves};
use super::names::{Named, name_layer};
use super::placement::page_stone;
use super::stacked::stacked;
use super::stone_marks::stone_layers;
use super::{Occupied, Unrolled, guides, is_level};
use crate::Plan;
use crate::drawing::{Bounds, Drawing, GUIDE, INK, Ink, Layer, Letters, Mark, Trace};
use glam::DVec2;
use piece::Finish;

/// Bare wall left beyond the outermost edge where a wrap is trimmed, mm.
const BARE_MM: f64 = 3.0;

/// One band with all that lies on it but the names of its zones, which stand beyond where it is
/// trimmed.
pub(crate) struct BandWrap {
    /// Name of the band.
    pub(crate) name: String,
    /// Unrolled at true size.
    pub(crate) layers: Vec<Layer>,
    /// Greatest error of a length, mm.
    pub(crate) error_mm: f64,
    /// Whether anything lies on it.
    pub(crate) decorated: bool,
    /// What its waving edges look like, in words.
    pub(crate) crests: Vec<String>,
    /// As it is, and trimmed in other ways.
    pub(crate) trims: Vec<Trim>,
}

/// One way to trim a band.
pub(crate) struct Trim {
    /// Names of its zones, to be drawn over all else.
    pub(crate) names: Layer,
    /// Points that every tile's height is taken from.
    pub(crate) profile: Vec<DVec2>,
    /// What is taken by work, names and numbers.
    pub(crate) occupied: Occupied,
}

/// Each band of a part on its own, whole and with bare wall left off at the foot, and at both ends.
pub(crate) fn band_wraps(plan: &Plan, part: usize, letters: &Letters) -> Vec<BandWrap> {
    let surface = &plan.shape.parts[part].surface;
    (0..surface.bands().len())
        .map(|band| {
            let (from, to) = surface.bands()[band].along_mm;
            let (least, most) = decorated(plan, part, band);
            let ends = [
                (from, to),
                (from, to.min(most + BARE_MM)),
                (from.max(least - BARE_MM), to.min(most + BARE_MM)),
            ];
            band_wrap(plan, part, band, DVec2::ZERO, &ends, letters)
        })
        .collect()
}

/// How near to the rim and how far from it anything on a band reaches, mm along.
fn decorated(plan: &Plan, part: usize, band: usize) -> (f64, f64) {
    let zones = plan.shape.zones.iter().filter(|zone| zone.part == part);
    zones
        .flat_map(|zone| {
            let on = Unrolled::new(&zone.surface, band, DVec2::ZERO);
            let held = zone.area.edges.iter().flatten().map(|point| point.along_mm);
            held.filter(|along_mm| on.holds(*along_mm)).collect::<Vec<_>>()
        })
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| (low.min(at), high.max(at)))
}

/// All bands of a part below each other, with a ruler to check the scale by.
pub(crate) fn wrap_drawing(plan: &Plan, part: usize, letters: &Letters) -> Drawing {
    let surface = &plan.shape.parts[part].surface;
    let bands: Vec<usize> = (0..surface.bands().len()).collect();
    let bounds = |&band: &usize| outermost(plan, part, band).bounds();
    stacked(letters, &bands, bounds, |&band, offset| {
        let about = &surface.bands()[band];
        let wrap = band_wrap(plan, part, band, offset, &[about.along_mm], letters);
        let names = wrap.trims.into_iter().map(|trim| trim.names);
        let mut layers: Vec<Layer> = wrap.layers.into_iter().chain(names).collect();
        if bands.len() > 1 {
            for layer in &mut layers {
                layer.id = format!("{}-{}", crate::numbers::slug(&about.name), layer.id);
            }
        }
        let mut heading = format!("{} of {}", about.name, plan.piece.parts[part].name);
        if wrap.error_mm >= 0.05 {
            let error = crate::words::trimmed(wrap.error_mm, 1);
            heading.push_str(&format!(
                ": curved both ways, lengths on paper are up to {error} mm off"
            ));
        }
        (heading, layers)
    })
}

/// A band of a part as thick as it gets beneath any finish.
fn outermost(plan: &Plan, part: usize, band: usize) -> Unrolled {
    let zones = plan.shape.zones.iter().filter(|zone| zone.part == part);
    let surface = zones
        .max_by(|a, b| a.below_mm.total_cmp(&b.below_mm))
        .map_or(&plan.shape.parts[part].surface, |zone| &zone.surface);
    Unrolled::new(surface, band, DVec2::ZERO)
}

fn band_wrap(
    plan: &Plan,
    part: usize,
    band: usize,
    offset: DVec2,
    ends: &[(f64, f64)],
    letters: &Letters,
) -> BandWrap {
    let bare = Unrolled::new(&plan.shape.parts[part].surface, band, offset);
    let mut grown = outermost(plan, part, band);
    grown.offset = offset;
    let mut occupied = Occupied::default();
    for cut in [&bare, &grown].into_iter().flat_map(|on| on.outline().1) {
        occupied.line(&cut);
    }
    let mut zones = Vec::new();
    let mut named = Vec::new();
    for index in 0..plan.piece.zones.len() {
        if plan.piece.zones[index].part != part {
            continue;
        }
        let on = Unrolled::new(&plan.shape.zones[index].surface, band, offset);
        let zone = zone_layers(plan, index, &on, &mut occupied, letters);
        if !zone.is_empty() {
            let edges = &plan.shape.zones[index].area.edges;
            let lines = edges.iter().flat_map(|edge| on.lines_on_page(edge));
            let name = plan.piece.zones[index].name.clone();
            named.push(Named { name, points: lines.flatten().collect() });
            zones.extend(zone);
        }
    }
    let border = bare_layer(&bare, &grown, &mut occupied, letters);
    let mut layers = vec![guides(&bare, plan.settings.lengths, &mut occupied, letters), border];
    layers.append(&mut zones);
    layers.push(crest_layer(plan, part, band, &bare, &mut occupied, letters));
    let trims =
        ends.iter().map(|&ends| trim(ends, [&bare, &grown], &layers, &named, &occupied, letters));
    BandWrap {
        name: bare.band.name.clone(),
        error_mm: bare.error_mm(),
        decorated: !named.is_empty(),
        crests: crest_lines(plan, part, &bare),
        trims: trims.collect(),
        layers,
    }
}

/// A band trimmed to what lies between two places along the wall.
fn trim(
    (from, to): (f64, f64),
    [bare, grown]: [&Unrolled; 2],
    layers: &[Layer],
    named: &[Named],
    occupied: &Occupied,
    letters: &Letters,
) -> Trim {
    let mut occupied = occupied.clone();
    let mut profile = grown.border_points(from, to);
    let names = name_layer(named, &profile, &occupied, letters);
    for mark in &names.marks {
        if mark.ink == Ink::fill(INK) {
            occupied.rectangle(mark.bounds);
        }
    }
    if bare.revolved {
        profile.extend(bare.border_points(from, to));
    }
    let held = profile.iter().fold(Bounds::EMPTY, |all, &point| all.with(point));
    // Names, and the numbers beside what is left of the wall.
    profile.extend(names.marks.iter().flat_map(|mark| mark.bounds.corners()));
    let marks = layers.iter().chain([&names]).flat_map(|layer| &layer.marks);
    let numbers = marks.filter(|mark| mark.ink == Ink::fill(GUIDE));
    let numbers = numbers.flat_map(|mark| mark.bounds.corners());
    profile.extend(numbers.filter(|point| point.y >= held.min.y && point.y <= held.max.y));
    Trim { names, profile, occupied }
}

/// A zone's outline, filled where it is film; and its stones.
fn zone_layers(
    plan: &Plan,
    index: usize,
    on: &Unrolled,
    occupied: &mut Occupied,
    letters: &Letters,
) -> Vec<Layer> {
    let zone = &plan.piece.zones[index];
    let area = &plan.shape.zones[index].area;
    let mut layer = Layer::new(
        format!("zone-{}", zone.name),
        format!("{} ({})", zone.name, crate::words::finish(&zone.finish)),
    );
    if let Finish::Vinyl { colour, .. } = zone.finish {
        let mut outline = Trace::new();
        let loops = area.loops.iter().filter_map(|points| on.loop_on_page(points));
        let loops: Vec<_> = loops.collect();
        occupied.shapes(&loops);
        for points in loops {
            outline.append(&Trace::outline(points));
        }
        if !outline.is_empty() {
            let ink = Ink::outlined(plan.piece.colours[colour].srgb, INK, 0.15);
            layer.marks.push(Mark::path(outline, ink));
        }
    } else {
        let band = zone.region.band.as_ref();
        let waving = band.is_some_and(|band| waves(&band.from) || waves(&band.to));
        for edge in &area.edges {
            let ink = match zone.finish {
                _ if waving && !is_level(edge) => Ink::line(INK, 0.35),
                Finish::Stones(_) => Ink::line(INK, 0.25),
                _ => Ink::dashed(INK, 0.18, 5.0, 1.2),
            };
            for points in on.lines_on_page(edge) {
                occupied.line(&points);
                layer.marks.push(Mark::path(Trace::line(points), ink));
            }
        }
    }
    if layer.marks.is_empty() {
        return Vec::new();
    }
    let mut layers = vec![layer];
    let stones: Vec<_> = plan
        .stones
        .stones
        .iter()
        .filter(|stone| stone.zone == index && on.holds(stone.at.along_mm))
        .map(|stone| page_stone(on, stone))
        .collect();
    for stone in &stones {
        occupied.disc(stone.centre, stone.diameter_mm / 2.0);
    }
    if !stones.is_empty() {
        layers.extend(stone_layers(&zone.name, &zone.name, &stones, &plan.piece.colours, letters));
    }
    layers
}
