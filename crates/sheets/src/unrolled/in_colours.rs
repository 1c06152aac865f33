//! A band unrolled in the colours of the finished piece, with its four sides marked: to be held
//! beside the pictures of them.

use super::Unrolled;
use crate::Plan;
use crate::drawing::{Anchor, Bounds, Drawing, INK, Ink, Layer, Letters, Mark, Srgb, Trace};
use glam::DVec2;
use piece::{Finish, PartRole};
use shape::SurfacePoint;
use std::f64::consts::{FRAC_PI_2, PI};

/// Bare steel and clear plastic on paper.
const STEEL: Srgb = [0xbf, 0xc3, 0xc2];
const CLEAR: Srgb = [0xe8, 0xee, 0xee];
const WHITE: Srgb = [0xff, 0xff, 0xff];

/// On the printed page, mm: height of a capital, how far the lines of the sides reach beyond the
/// band, and room for the words above it.
const CAPITAL_MM: f64 = 1.9;
const BEYOND_MM: f64 = 2.5;
const WORDS_MM: f64 = 2.4;
/// The names of the sides need so much girth on paper, mm.
const CROWDED_MM: f64 = 60.0;

/// Bands of a part with anything on them, each with what it takes up at true size.
pub(crate) fn coloured_bands(plan: &Plan, part: usize) -> Vec<(usize, Bounds)> {
    let surface = &plan.shape.parts[part].surface;
    let zones = || plan.shape.zones.iter().filter(|zone| zone.part == part);
    let bare = |band: usize| Unrolled::new(surface, band, DVec2::ZERO);
    let decorated = |on: &Unrolled| {
        let mut loops = zones().flat_map(|zone| &zone.area.loops);
        loops.any(|points| on.loop_on_page(points).is_some())
    };
    let bands = (0..surface.bands().len()).map(|band| (band, bare(band)));
    bands.filter(|(_, on)| decorated(on)).map(|(band, on)| (band, on.bounds())).collect()
}

/// One band in its colours. It will be printed `scale` times its true size.
pub(crate) fn coloured_band(
    plan: &Plan,
    part: usize,
    band: usize,
    scale: f64,
    letters: &Letters,
) -> Drawing {
    let bare = Unrolled::new(&plan.shape.parts[part].surface, band, DVec2::ZERO);
    let mut layers = vec![blank(plan, part, &bare)];
    for (index, zone) in plan.shape.zones.iter().enumerate().filter(|(_, zone)| zone.part == part) {
        let on = Unrolled::new(&zone.surface, band, DVec2::ZERO);
        layers.push(finish(plan, index, &on));
    }
    if bare.revolved {
        layers.push(sides(&bare, scale, letters));
    }
    Drawing { layers }
}

fn blank(plan: &Plan, part: usize, bare: &Unrolled) -> Layer {
    let about = &plan.piece.parts[part];
    let srgb = match (about.blank_colour, about.role) {
        (Some(colour), _) => plan.piece.colours[colour].srgb,
        (None, PartRole::Body) => STEEL,
        (None, PartRole::Lid | PartRole::Topper) => CLEAR,
    };
    let mut outline = Trace::new();
    if bare.revolved {
        let (from, to) = bare.band.along_mm;
        let (top, bottom) = (bare.parallel(from), bare.parallel(to));
        outline.append(&Trace::outline(top.into_iter().chain(bottom.into_iter().rev())));
    } else {
        for border in bare.outline().0 {
            outline.append(&Trace::outline(border));
        }
    }
    let mut layer = Layer::new("blank", "The bare blank");
    layer.marks.push(Mark::path(outline, Ink::fill(srgb)));
    layer
}

/// What a zone looks like; nothing where it is clear.
fn finish(plan: &Plan, index: usize, on: &Unrolled) -> Layer {
    let zone = &plan.piece.zones[index];
    let mut layer = Layer::new(format!("zone-{}", zone.name), zone.name.clone());
    match zone.finish {
        Finish::Resin { .. } => {}
        Finish::Paint { colour, .. }
        | Finish::Glitter { colour, .. }
        | Finish::Vinyl { colour, .. } => {
            let loops = &plan.shape.zones[index].area.loops;
            let mut outline = Trace::new();
            for points in loops.iter().filter_map(|points| on.loop_on_page(points)) {
                outline.append(&Trace::outline(points));
            }
            if !outline.is_empty() {
                let ink = Ink::fill(plan.piece.colours[colour].srgb);
                layer.marks.push(Mark::path(outline, ink));
            }
        }
        Finish::Stones(_) => {
            let stones = plan.stones.stones.iter();
            let mut here: Vec<_> =
                stones.filter(|stone| stone.zone == index && on.holds(stone.at.along_mm)).collect();
            // Marks of one ink after the other are one path on the page.
            here.sort_by_key(|stone| stone.colour);
            layer.marks.extend(here.into_iter().map(|stone| {
                let ink = Ink::fill(plan.piece.colours[stone.colour].srgb);
                Mark::circle(on.page(stone.at), stone.diameter_mm / 2.0, ink)
            }));
        }
    }
    layer
}

/// Length of a line, mm.
fn polyline_mm(points: &[DVec2]) -> f64 {
    points.windows(2).map(|pair| pair[0].distance(pair[1])).sum()
}

/// A line down each of the four sides, named above the band; the back is at both ends.
fn sides(on: &Unrolled, scale: f64, letters: &Letters) -> Layer {
    let mut layer = Layer::new("sides", "Front, right, back and left: 0, 90, 180 and 270 degrees");
    let (from, to) = on.band.along_mm;
    // Words stand above the band, or beyond its lower end where only there is room for them, as round
    // the hole of a lid.
    let girth_mm = |along_mm: f64| polyline_mm(&on.parallel(along_mm));
    let below = girth_mm(from) * scale < CROWDED_MM && girth_mm(to) > girth_mm(from);
    let names = ["180°", "270°", "0° front", "90°", "180°"];
    for (quarter, name) in (-2..=2).zip(names) {
        let around = f64::from(quarter) * FRAC_PI_2;
        let [top, bottom] = [from, to].map(|along_mm| on.page(SurfacePoint { around, along_mm }));
        let down = (bottom - top).normalize_or(DVec2::Y);
        let beyond = down * (BEYOND_MM / scale);
        let line = Trace::line([top - beyond, bottom + beyond]);
        // Seen on dark art and on light.
        layer.marks.push(Mark::path(line.clone(), Ink::line(WHITE, 0.5 / scale)));
        let dashes = Ink::dashed(INK, 0.2 / scale, 1.6 / scale, 1.0 / scale);
        layer.marks.push(Mark::path(line, dashes));
        let reach = down * ((BEYOND_MM + WORDS_MM) / scale);
        let at = if below { bottom + reach } else { top - reach };
        // Words run along the parallel.
        let turn_rad = libm::atan2(-down.x, down.y);
        let turn_rad = if turn_rad.abs() > PI / 2.0 { turn_rad - PI } else { turn_rad };
        let words = letters.write(name, CAPITAL_MM / scale, Anchor::Middle, at, turn_rad);
        layer.marks.push(Mark::path(words, Ink::fill(INK)));
    }
    layer
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::workbook::trial;
    use resvg::tiny_skia::{Pixmap, Transform};
    use resvg::usvg::{Options, Tree};

    #[test]
    fn colours_lie_where_the_tape_has_them() {
        let plan = trial::plan(1);
        assert_eq!(coloured_bands(&plan, 0).len(), 1);
        let drawing = coloured_band(&plan, 0, 0, 0.5, &Letters::new());
        let view = drawing.bounds();
        let tree = Tree::from_data(drawing.tile(view).as_bytes(), &Options::default());
        let scale = 25.4 / 96.0 * 4.0;
        let (width, height) = ((view.size().x * 4.0) as u32, (view.size().y * 4.0) as u32);
        let mut canvas = Pixmap::new(width, height).expect("a canvas");
        let tree = tree.expect("a drawing");
        resvg::render(&tree, Transform::from_scale(scale, scale), &mut canvas.as_mut());
        // A cylinder of 35 mm radius unrolls to x = 35 mm times the angle, y = along.
        let colour = |degrees: f64, along_mm: f64| {
            let at = (DVec2::new(35.0 * degrees.to_radians(), along_mm) - view.min) * 4.0;
            let pixel = canvas.pixel(at.x as u32, at.y as u32).expect("on the canvas");
            [pixel.red(), pixel.green(), pixel.blue()]
        };
        let srgb = |name: &str| {
            let colour = plan.piece.colours.iter().find(|colour| colour.name == name);
            colour.expect("a colour").srgb
        };
        // The tile is 30 by 12 mm about 180 degrees, 40 mm from the rim: half of it at either end.
        for (degrees, along_mm, expected) in [
            (-177.0, 40.0, srgb("reed")),
            (177.0, 40.0, srgb("reed")),
            (160.0, 45.0, srgb("reed")),
            (150.0, 40.0, srgb("mud")),
            (30.0, 40.0, srgb("mud")),
            (30.0, 25.0, srgb("foam")),
            (30.0, 10.0, STEEL),
            (30.0, 75.0, STEEL),
        ] {
            assert_eq!(colour(degrees, along_mm), expected, "{degrees} degrees, {along_mm} mm");
        }
        for stone in plan.stones.stones.iter().step_by(7) {
            let found = colour(stone.at.around.to_degrees(), stone.at.along_mm);
            let around = stone.at.around.to_degrees().rem_euclid(90.0);
            if around > 3.0 && around < 87.0 {
                assert_eq!(found, plan.piece.colours[stone.colour].srgb);
            }
        }
    }
}
