//! The wrap of a part: every band unrolled, with every zone on it.

use super::placement::page_stone;
use super::stone_marks::stone_layers;
use super::{Unrolled, guides};
use crate::Plan;
use crate::drawing::{Anchor, Bounds, Drawing, GUIDE, INK, Ink, Layer, Letters, Mark, Trace};
use glam::DVec2;
use piece::Finish;
use shape::SurfacePoint;

/// Room between two bands on one sheet, and above the first, mm.
const ROOM_MM: f64 = 14.0;

/// One band with all that lies on it.
pub(crate) struct BandWrap {
    /// Name of the band.
    pub(crate) name: String,
    /// Unrolled at true size.
    pub(crate) drawing: Drawing,
    /// Greatest error of a length, mm.
    pub(crate) error_mm: f64,
    /// Names of the zones on it.
    pub(crate) zones: Vec<String>,
}

/// Each band of a part on a drawing of its own.
pub(crate) fn band_wraps(plan: &Plan, part: usize, letters: &Letters) -> Vec<BandWrap> {
    let bands = plan.shape.parts[part].surface.bands().len();
    (0..bands).map(|band| band_wrap(plan, part, band, DVec2::ZERO, letters)).collect()
}

/// All bands of a part below each other, with a ruler to check the scale by.
pub(crate) fn wrap_drawing(plan: &Plan, part: usize, letters: &Letters) -> Drawing {
    let surface = &plan.shape.parts[part].surface;
    let mut drawing = Drawing::default();
    let mut headings = Layer::new("headings", "Names of the bands");
    let mut below_mm = 0.0;
    let mut left_mm = f64::INFINITY;
    for (band, about) in surface.bands().iter().enumerate() {
        let bounds = outermost(plan, part, band).bounds();
        let offset = DVec2::new(0.0, below_mm + ROOM_MM - bounds.min.y);
        let wrap = band_wrap(plan, part, band, offset, letters);
        let at = DVec2::new(bounds.min.x, below_mm + ROOM_MM - 4.0);
        let mut heading = format!("{} of {}", about.name, plan.piece.parts[part].name);
        if wrap.error_mm >= 0.05 {
            let error = crate::words::trimmed(wrap.error_mm, 1);
            heading.push_str(&format!(
                ": curved both ways, lengths on paper are up to {error} mm off"
            ));
        }
        let heading = letters.write(&heading, 3.0, Anchor::Start, at, 0.0);
        headings.marks.push(Mark::path(heading, Ink::fill(INK)));
        left_mm = left_mm.min(bounds.min.x);
        below_mm = wrap.drawing.bounds().max.y;
        for mut layer in wrap.drawing.layers {
            if surface.bands().len() > 1 {
                layer.id = format!("{}-{}", crate::numbers::slug(&about.name), layer.id);
            }
            drawing.layers.push(layer);
        }
    }
    drawing.layers.push(headings);
    drawing.layers.push(ruler(DVec2::new(left_mm, below_mm + ROOM_MM), letters));
    drawing
}

/// A band of a part as thick as it gets beneath any finish.
fn outermost(plan: &Plan, part: usize, band: usize) -> Unrolled {
    let zones = plan.shape.zones.iter().filter(|zone| zone.part == part);
    let surface = zones
        .max_by(|a, b| a.below_mm.total_cmp(&b.below_mm))
        .map_or(&plan.shape.parts[part].surface, |zone| &zone.surface);
    Unrolled::new(surface, band, DVec2::ZERO)
}

fn band_wrap(plan: &Plan, part: usize, band: usize, offset: DVec2, letters: &Letters) -> BandWrap {
    let bare = Unrolled::new(&plan.shape.parts[part].surface, band, offset);
    let mut grown = outermost(plan, part, band);
    grown.offset = offset;
    let mut layers = vec![guides(&bare, plan.settings.lengths, letters)];
    layers.push(bare_layer(&bare, &grown, letters));
    let mut names = Vec::new();
    let mut labels = Layer::new("names", "Names of the zones");
    for index in 0..plan.piece.zones.len() {
        if plan.piece.zones[index].part != part {
            continue;
        }
        let on = Unrolled::new(&plan.shape.zones[index].surface, band, offset);
        let zone = zone_layers(plan, index, &on, letters);
        if !zone.is_empty() {
            let name = &plan.piece.zones[index].name;
            if let Some(at) = label_place(&plan.shape.zones[index].area, &on, names.len()) {
                label(&mut labels, name, at, letters);
            }
            names.push(name.clone());
            layers.extend(zone);
        }
    }
    layers.push(labels);
    BandWrap {
        name: bare.band.name.clone(),
        drawing: Drawing { layers },
        error_mm: bare.error_mm(),
        zones: names,
    }
}

/// The band's own border, where to cut a template for the bare blank, and where it meets itself
/// once every coat is on.
fn bare_layer(bare: &Unrolled, grown: &Unrolled, letters: &Letters) -> Layer {
    let mut layer = Layer::new("band", "Border of the bare band and the cut at the back");
    let (borders, cuts) = bare.outline();
    for border in borders {
        layer.marks.push(Mark::path(Trace::line(border), Ink::line(INK, 0.25)));
    }
    for cut in cuts {
        layer.marks.push(Mark::path(Trace::line(cut), Ink::line(INK, 0.25)));
        note_beside(&mut layer, cut, "cut here for the bare blank", letters);
    }
    let (_, cuts) = grown.outline();
    for (cut, bare) in cuts.into_iter().zip(bare.outline().1) {
        if (cut[0] - bare[0]).length() > 0.3 {
            layer.marks.push(Mark::path(Trace::line(cut), Ink::dashed(INK, 0.2, 2.0, 1.0)));
        }
    }
    layer
}

/// Small words along a line, on the side towards the front.
fn note_beside(layer: &mut Layer, [top, bottom]: [DVec2; 2], words: &str, letters: &Letters) {
    let down = (bottom - top).normalize_or_zero();
    let front = if top.x < 0.0 { -down.perp() } else { down.perp() };
    // Turned so that the words run down the line on the left and up it on the right.
    let turn_rad =
        if top.x < 0.0 { libm::atan2(down.y, down.x) } else { libm::atan2(-down.y, -down.x) };
    let at = top.lerp(bottom, 0.5) + front * 1.8;
    let text = letters.write(words, 1.6, Anchor::Middle, at, turn_rad);
    layer.marks.push(Mark::path(text, Ink::fill(GUIDE)));
}

/// A name on a white tag, readable on whatever lies below.
fn label(labels: &mut Layer, name: &str, at: DVec2, letters: &Letters) {
    let text = letters.write(name, 1.9, Anchor::Start, at, 0.0);
    let tag = Trace::rectangle(text.bounds().grown(0.7));
    labels.marks.push(Mark::path(tag, Ink::outlined([255; 3], GUIDE, 0.1)));
    labels.marks.push(Mark::path(text, Ink::fill(INK)));
}

/// A zone's outline, filled where it is film; and its stones.
fn zone_layers(plan: &Plan, index: usize, on: &Unrolled, letters: &Letters) -> Vec<Layer> {
    let zone = &plan.piece.zones[index];
    let area = &plan.shape.zones[index].area;
    let mut layer = Layer::new(
        format!("zone-{}", zone.name),
        format!("{} ({})", zone.name, crate::words::finish(&zone.finish)),
    );
    if let Finish::Vinyl { colour } = zone.finish {
        let mut outline = Trace::new();
        for points in area.loops.iter().filter_map(|points| on.loop_on_page(points)) {
            outline.append(&Trace::outline(points));
        }
        if !outline.is_empty() {
            let ink = Ink::outlined(plan.piece.colours[colour].srgb, INK, 0.15);
            layer.marks.push(Mark::path(outline, ink));
        }
    } else {
        let line = match zone.finish {
            Finish::Stones(_) => Ink::line(INK, 0.25),
            _ => Ink::dashed(INK, 0.18, 5.0, 1.2),
        };
        for points in area.edges.iter().flat_map(|edge| on.lines_on_page(edge)) {
            layer.marks.push(Mark::path(Trace::line(points), line));
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
    if !stones.is_empty() {
        layers.extend(stone_layers(&zone.name, &zone.name, &stones, &plan.piece.colours, letters));
    }
    layers
}

/// Where a zone's name stands: above its upper left corner, or, if it goes far round, on its upper
/// edge, each zone a little farther round than the last
/// so that the names of zones with a common edge do not fall on each other.
fn label_place(area: &shape::Area, on: &Unrolled, place: usize) -> Option<DVec2> {
    // Edges may run on beyond half a turn; names stand between both sides of the cut.
    let home = |point: &SurfacePoint| SurfacePoint {
        around: point.around - on.period() * (point.around / on.period().max(1e-9)).round(),
        ..*point
    };
    let held = |point: &SurfacePoint| on.holds(point.along_mm);
    let points = || area.edges.iter().flatten().map(home).filter(held);
    let least = points().map(|point| point.around).fold(f64::INFINITY, f64::min);
    let most = points().map(|point| point.around).fold(f64::NEG_INFINITY, f64::max);
    if !least.is_finite() {
        return None;
    }
    if most - least <= 3.0 {
        let page = points().fold(Bounds::EMPTY, |bounds, point| bounds.with(on.page(point)));
        return Some(page.min - DVec2::new(0.0, 2.0));
    }
    let aim = -2.7 + 0.6 * (place % 9) as f64;
    let off = |point: SurfacePoint| (point.around - aim).abs();
    let nearest = points().map(off).fold(f64::INFINITY, f64::min);
    let top = points()
        .filter(|point| off(*point) <= nearest + 0.02)
        .min_by(|a, b| a.along_mm.total_cmp(&b.along_mm))?;
    Some(on.page(top) + DVec2::new(0.0, -0.8))
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
