//! `cut-COLOUR.svg`: every shape of one film colour at true size, on the surface as it has grown.
//!
//! Only plain closed paths, so that any cutter's program or a knife can follow them. A shape that
//! runs across the back of the cup is put together again; shapes of one zone that lie close, such
//! as the letters of a word, keep their places to each other.

use crate::Plan;
use crate::drawing::{Bounds, Drawing, INK, Ink, Layer, Mark, Trace};
use crate::unrolled::Unrolled;
use glam::DVec2;
use i_overlay::core::fill_rule::FillRule;
use i_overlay::float::simplify::SimplifyShape;
use piece::Finish;
use shape::SurfacePoint;
use std::f64::consts::{PI, TAU};

/// Shapes of a zone nearer to each other than this are cut and placed as one, mm.
const TOGETHER_MM: f64 = 15.0;
/// Between a group and the frame to weed inside, mm.
const FRAME_MM: f64 = 4.0;
/// Between two frames, mm.
const APART_MM: f64 = 3.0;
/// Arm of a registration cross, mm.
const CROSS_MM: f64 = 1.5;

/// An outer outline and its holes, mm.
type Outlines = Vec<Vec<[f64; 2]>>;

/// One file for each film colour: its name and text, in order of name.
pub(crate) fn cut_files(plan: &Plan) -> Vec<(String, String)> {
    let mut names = piece::file_name::cut_files(&plan.piece);
    let mut files = Vec::new();
    for (index, colour) in plan.piece.colours.iter().enumerate() {
        let groups = groups_of(plan, index);
        if groups.is_empty() {
            continue;
        }
        let Some(name) = names.remove(&index) else { continue };
        let drawing = sheet_of(groups, plan.settings.vinyl.sheet_width_mm);
        let title = format!("{}: film in {}", plan.piece.title, colour.name);
        let text = drawing.svg(
            &title,
            "True size in mm. Groups whose id begins with cut are cut lines; those whose id begins \
             with weed are frames to weed inside; those whose id begins with level are crosses on \
             the level line through the middle of a group.",
        );
        files.push((name, text));
    }
    files.sort();
    files
}

/// Shapes that are cut and placed as one.
struct Group {
    zone: String,
    shapes: Vec<Outlines>,
    bounds: Bounds,
}

fn groups_of(plan: &Plan, colour: usize) -> Vec<Group> {
    let mut groups = Vec::new();
    for (zone, shape) in plan.piece.zones.iter().zip(&plan.shape.zones) {
        if !matches!(zone.finish, Finish::Vinyl { colour: of } if of == colour) {
            continue;
        }
        let loops = opened(&shape.area.loops, shape.surface.period().is_some());
        for band in 0..shape.surface.bands().len() {
            let on = Unrolled::new(&shape.surface, band, DVec2::ZERO);
            let outlines: Outlines = loops
                .iter()
                .filter_map(|points| on.loop_on_page(points))
                .map(|points| points.iter().map(|point| [point.x, point.y]).collect())
                .collect();
            groups.extend(gathered(&zone.name, outlines.simplify_shape(FillRule::EvenOdd)));
        }
    }
    groups
}

/// The loops with the turn cut open in their widest gap, instead of at the back, if any of them
/// touches the back. Without a gap they stay: a full ring is a strip that closes at the back.
fn opened(loops: &[Vec<SurfacePoint>], revolved: bool) -> Vec<Vec<SurfacePoint>> {
    let span = |points: &Vec<SurfacePoint>| {
        points.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), point| {
            (f64::min(low, point.around), f64::max(high, point.around))
        })
    };
    let mut spans: Vec<_> = loops.iter().map(span).collect();
    let at_back = spans.iter().any(|&(low, high)| low <= -PI + 1e-9 || high >= PI - 1e-9);
    if !revolved || !at_back {
        return loops.to_vec();
    }
    spans.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut reach = -PI;
    let mut widest = (1e-6, None);
    for (low, high) in spans {
        if low - reach > widest.0 {
            widest = (low - reach, Some((low + reach) / 2.0));
        }
        reach = reach.max(high);
    }
    if PI - reach > widest.0 {
        widest = (PI - reach, Some((PI + reach) / 2.0));
    }
    let Some(cut) = widest.1 else { return loops.to_vec() };
    let moved = |points: &Vec<SurfacePoint>| {
        let turn = if span(points).1 <= cut { TAU } else { 0.0 };
        points.iter().map(|point| SurfacePoint { around: point.around + turn, ..*point }).collect()
    };
    loops.iter().map(moved).collect()
}

/// Shapes gathered into groups by nearness, from left to right.
fn gathered(zone: &str, shapes: Vec<Outlines>) -> Vec<Group> {
    let mut groups: Vec<Group> = Vec::new();
    for shape in shapes {
        let points = shape.iter().flatten().map(|&point| DVec2::from(point));
        let bounds = points.fold(Bounds::EMPTY, Bounds::with);
        let mut group = Group { zone: zone.to_owned(), shapes: vec![shape], bounds };
        // Whatever the new shape comes near to becomes one with it; that may reach yet others.
        while let Some(near) =
            groups.iter().position(|other| other.bounds.grown(TOGETHER_MM).meets(&group.bounds))
        {
            let other = groups.swap_remove(near);
            group.bounds = group.bounds.union(other.bounds);
            group.shapes.extend(other.shapes);
        }
        groups.push(group);
    }
    groups.sort_by(|a, b| {
        (a.bounds.min.x, a.bounds.min.y)
            .partial_cmp(&(b.bounds.min.x, b.bounds.min.y))
            .unwrap_or(std::cmp::Ordering::Equal)
    });
    groups
}

/// Groups side by side in shelves no wider than a sheet of film (a wider group has its own shelf).
fn sheet_of(mut groups: Vec<Group>, width_mm: f64) -> Drawing {
    groups.sort_by(|a, b| b.bounds.size().y.total_cmp(&a.bounds.size().y));
    let mut drawing = Drawing::default();
    let (mut at, mut shelf_mm) = (DVec2::ZERO, 0.0);
    for (number, group) in groups.iter().enumerate() {
        let size = group.bounds.size() + 2.0 * FRAME_MM;
        if at.x > 0.0 && at.x + size.x > width_mm {
            at = DVec2::new(0.0, at.y + shelf_mm + APART_MM);
            shelf_mm = 0.0;
        }
        let shift = at + FRAME_MM - group.bounds.min;
        drawing.layers.extend(group_layers(group, number + 1, shift));
        at.x += size.x + APART_MM;
        shelf_mm = f64::max(shelf_mm, size.y);
    }
    drawing
}

fn group_layers(group: &Group, number: usize, shift: DVec2) -> [Layer; 3] {
    let bounds = Bounds::new(group.bounds.min + shift, group.bounds.max + shift);
    let name = format!("{}-{number}", group.zone);
    let line = Ink::line(INK, 0.1);

    let mut cut = Layer::new(format!("cut-{name}"), format!("{}: cut lines", group.zone));
    for shape in &group.shapes {
        let mut trace = Trace::new();
        for outline in shape {
            let points = outline.iter().map(|&point| DVec2::from(point) + shift);
            trace.append(&Trace::outline(points));
        }
        cut.marks.push(Mark::path(trace, line));
    }

    let mut frame =
        Layer::new(format!("weed-{name}"), format!("{}: frame to weed inside", group.zone));
    frame.marks.push(Mark::path(Trace::rectangle(bounds.grown(FRAME_MM)), line));

    let mut level =
        Layer::new(format!("level-{name}"), format!("{}: level through its middle", group.zone));
    let middle = (bounds.min.y + bounds.max.y) / 2.0;
    for x in [bounds.min.x - FRAME_MM / 2.0, bounds.max.x + FRAME_MM / 2.0] {
        level.marks.push(Mark::path(cross(DVec2::new(x, middle)), line));
    }
    [cut, frame, level]
}

/// A cross as a closed outline of no width worth the name, since every path here is closed.
fn cross(at: DVec2) -> Trace {
    let (long, thin) = (CROSS_MM, 0.05);
    Trace::outline([
        at + DVec2::new(-long, -thin),
        at + DVec2::new(-thin, -thin),
        at + DVec2::new(-thin, -long),
        at + DVec2::new(thin, -long),
        at + DVec2::new(thin, -thin),
        at + DVec2::new(long, -thin),
        at + DVec2::new(long, thin),
        at + DVec2::new(thin, thin),
        at + DVec2::new(thin, long),
        at + DVec2::new(-thin, long),
        at + DVec2::new(-thin, thin),
        at + DVec2::new(-long, thin),
    ])
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rectangle(from: f64, to: f64) -> Vec<SurfacePoint> {
        [(from, 0.0), (to, 0.0), (to, 9.0), (from, 9.0)]
            .map(|(around, along_mm)| SurfacePoint { around, along_mm })
            .to_vec()
    }

    #[test]
    fn a_shape_across_the_back_becomes_one_again() {
        let loops = opened(&[rectangle(-PI, -2.9), rectangle(3.0, PI), rectangle(0.0, 0.5)], true);
        let page = loops.iter().map(|points| {
            points.iter().map(|point| [point.around * 40.0, point.along_mm]).collect::<Vec<_>>()
        });
        let page: Outlines = page.collect();
        let shapes = page.simplify_shape(FillRule::EvenOdd);
        assert_eq!(shapes.len(), 2);
        let widths: Vec<_> = shapes
            .iter()
            .map(|shape| {
                shape[0]
                    .iter()
                    .fold(Bounds::EMPTY, |all, &point| all.with(DVec2::from(point)))
                    .size()
                    .x
            })
            .collect();
        let joined = (2.0 * PI - 2.9 - 3.0) * 40.0;
        assert!(widths.iter().any(|width| (width - joined).abs() < 1e-3), "{widths:?}");
    }

    #[test]
    fn a_full_ring_is_left_as_a_strip() {
        let ring = vec![rectangle(-PI, PI)];
        assert_eq!(opened(&ring, true), ring);
    }

    #[test]
    fn frames_of_packed_groups_do_not_overlap() {
        let group = |width: f64, height: f64| Group {
            zone: "reeds".to_owned(),
            shapes: vec![vec![vec![[0.0, 0.0], [width, 0.0], [width, height]]]],
            bounds: Bounds::new(DVec2::ZERO, DVec2::new(width, height)),
        };
        let groups =
            vec![group(80.0, 20.0), group(60.0, 50.0), group(90.0, 10.0), group(300.0, 5.0)];
        let drawing = sheet_of(groups, 200.0);
        let frames: Vec<_> = drawing
            .layers
            .iter()
            .filter(|layer| layer.id.starts_with("weed"))
            .map(|layer| layer.marks[0].bounds)
            .collect();
        assert_eq!(frames.len(), 4);
        for (place, frame) in frames.iter().enumerate() {
            assert!(frames[place + 1..].iter().all(|other| !other.meets(frame)));
        }
    }
}
