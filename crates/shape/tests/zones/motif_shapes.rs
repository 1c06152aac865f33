//! Motifs of single shapes: true sizes, distances, and what hangs or stands.

use crate::motifs::{CAN, LID, frustum_mm2, near_share, of_kind, strewn};
use crate::support::*;
use ::piece::*;
use shape::ZoneShape;
use std::f64::consts::PI;

/// Count of shapes, each of the same area.
#[track_caller]
fn all_alike(found: &ZoneShape, count: u32, each_mm2: f64) {
    assert_eq!(found.area.shapes(&found.surface), count as usize);
    near_share(found.area_mm2, f64::from(count) * each_mm2, 1e-3);
}

#[test]
fn strewn_shapes_have_their_true_size_on_every_surface() {
    let plate = Form::Flat(Outline::Circle { diameter_mm: 90.0 });
    let forms = [
        (revolved(&CAN), band(level(20.0), level(100.0))),
        (revolved(&CUP), band(level(20.0), level(170.0))),
        (revolved(&LID), band(level(1.0), level(32.0))),
        (plate, everything()),
    ];
    for (form, region) in forms {
        let made = |kind: MotifKind| {
            let motif = Some(Motif { kind, seed: Some(3), inverse: false });
            zone(form.clone(), Region { motif, ..region.clone() })
        };
        let (size_mm, radius) = ((8.0, 8.0), 4.0);
        let strewn = strewn(1.0, Some(12));
        // Areas by Zwillinger, CRC Standard Mathematical Tables: of a disc, and of polygons with
        // their corners on a circle.
        for (shape, each) in [
            (Confetto::Disc, PI * radius * radius),
            (Confetto::Square, 2.0 * radius * radius),
            (Confetto::Triangle, 0.75 * 3.0_f64.sqrt() * radius * radius),
            (Confetto::Strip, 16.0 / 17.0 * radius * radius),
        ] {
            all_alike(
                &made(MotifKind::Confetti { shapes: vec![shape], size_mm, strewn }),
                12,
                each,
            );
        }
        // Ten triangles with two sides R and r and the angle pi/5 between them.
        let star = MotifKind::Stars { points: 5, size_mm, inner: 0.4, tilt_rad: 0.3, strewn };
        all_alike(&made(star), 12, 5.0 * radius * 0.4 * radius * (PI / 5.0).sin());
        // A circle of radius 0.75 and the two tangents from a place 7.25 off its middle: a sector
        // and two right triangles.
        let (r, off) = (0.75_f64, 8.0 - 0.75_f64);
        let touch = (r / off).asin();
        let drop = r * r * (0.5 * PI + touch) + r * (off * off - r * r).sqrt();
        let rain = MotifKind::Rain { length_mm: size_mm, width_mm: 1.5, slant_rad: 0.2, strewn };
        all_alike(&made(rain), 12, drop);
    }
}

#[test]
fn a_flower_has_alike_petals_round_a_heart() {
    let size_mm = (16.0, 16.0);
    let kind = MotifKind::Petals { petals: 6, size_mm, heart: 0.3, strewn: strewn(0.0, Some(1)) };
    let motif = Some(Motif { kind, seed: Some(3), inverse: false });
    let plate = Form::Flat(Outline::Circle { diameter_mm: 60.0 });
    let flower = zone(plate, Region { motif, ..everything() });
    assert_eq!(flower.area.loops.len(), 7);
    // The shoelace formula (Zwillinger, CRC Standard Mathematical Tables: area of a polygon).
    let area = |one: &Vec<shape::SurfacePoint>| {
        let twice = one.iter().zip(one.iter().cycle().skip(1));
        twice.map(|(a, b)| a.around * b.along_mm - b.around * a.along_mm).sum::<f64>().abs() / 2.0
    };
    let mut areas: Vec<f64> = flower.area.loops.iter().map(area).collect();
    areas.sort_by(f64::total_cmp);
    near_share(areas[0], PI * (0.68 * 0.3 * 8.0) * (0.68 * 0.3 * 8.0), 1e-3);
    near_share(areas[1], areas[6], 1e-4);
    // As wide over its tips as asked for, measured from the middle of all its places.
    let heart = flower.area.loops.iter().min_by(|a, b| area(a).total_cmp(&area(b))).expect("heart");
    let middle = heart.iter().fold(glam::DVec2::ZERO, |sum, p| {
        sum + glam::DVec2::new(p.around, p.along_mm) / heart.len() as f64
    });
    let reach = flower
        .area
        .loops
        .iter()
        .flatten()
        .map(|p| glam::DVec2::new(p.around, p.along_mm).distance(middle));
    near(reach.fold(0.0, f64::max), 8.0, 0.01);
}

/// The shapes of an area as places in space, those that are cut at the back left out.
fn in_space(found: &ZoneShape) -> Vec<Vec<glam::DVec3>> {
    let at_cut =
        |p: &shape::SurfacePoint| found.surface.period().is_some() && p.around.abs() > PI - 1e-9;
    let loops = found.area.loops.iter().filter(|one| !one.iter().any(at_cut));
    loops.map(|one| one.iter().map(|p| found.surface.world_from_surface(*p)).collect()).collect()
}

#[test]
fn strewn_shapes_keep_apart_on_the_true_surface() {
    let shapes = vec![Confetto::Disc, Confetto::Square, Confetto::Triangle, Confetto::Strip];
    let size_mm = (3.0, 7.0);
    let kinds = [
        MotifKind::Confetti { shapes, size_mm, strewn: strewn(1.5, None) },
        MotifKind::Stars {
            points: 7,
            size_mm,
            inner: 0.5,
            tilt_rad: 1.0,
            strewn: strewn(1.5, None),
        },
        MotifKind::Rain {
            length_mm: (5.0, 9.0),
            width_mm: 1.2,
            slant_rad: -0.4,
            strewn: strewn(1.5, None),
        },
    ];
    for kind in kinds {
        for wall in [CUP, LID] {
            let found = zone(revolved(&wall), of_kind(kind.clone(), 1.0, 32.0));
            let shapes = in_space(&found);
            assert!(shapes.len() > 20, "{} {}", kind.key(), shapes.len());
            for (index, one) in shapes.iter().enumerate() {
                for other in &shapes[index + 1..] {
                    let apart = one
                        .iter()
                        .flat_map(|a| other.iter().map(|b| a.distance(*b)))
                        .fold(f64::INFINITY, f64::min);
                    assert!(apart >= 1.5 - 1e-3, "{} apart by {apart} mm", kind.key());
                }
            }
        }
    }
}

#[test]
fn strewn_shapes_without_a_count_fill_the_zone_but_for_some_gaps() {
    // Discs thrown at random jam when they cover 0.547 of the plane (Feder 1980, Journal of
    // Theoretical Biology 87, 237); what comes short of that is room that few throws find.
    let kind = MotifKind::Confetti {
        shapes: vec![Confetto::Disc],
        size_mm: (5.0, 5.0),
        strewn: strewn(0.0, None),
    };
    let discs = zone(revolved(&CAN), of_kind(kind, 20.0, 160.0));
    let share = discs.area_mm2 / frustum_mm2(CAN, 20.0, 160.0);
    assert!((0.44..0.547).contains(&share), "{share}");
}

#[test]
fn drips_hang_from_one_ring_and_keep_their_width() {
    let kind = MotifKind::Drips {
        count: 14,
        width_mm: (8.0, 8.0),
        length_mm: (60.0, 60.0),
        solid_mm: 6.0,
    };
    let drips = zone(revolved(&CUP), of_kind(kind.clone(), 20.0, 150.0));
    assert_eq!(drips.area.shapes(&drips.surface), 1);
    // The upper edge and the one that runs up and down all drips: nothing else, so it closes.
    assert_eq!(drips.area.edges.len(), 2);
    let (top, lowest) = drips.area.along_range_mm().expect("drips");
    near(top, 20.0, 1e-4);
    near(lowest, 86.0, 1e-4);
    // Their round ends are half circles of 0.94 of the width, so at the middle of them all drips
    // together are that wide, on a taper as well.
    let middle = 86.0 - 0.5 * 0.94 * 8.0;
    let ends = zone(revolved(&CUP), of_kind(kind, 20.0, 150.0));
    let field = shape::Field::new(&ends.surface, &ends.area);
    let steps = 40_000;
    let inside = (0..steps)
        .filter(|i| {
            let around = PI * (2.0 * (f64::from(*i) + 0.5) / f64::from(steps) - 1.0);
            field.contains(at(around, middle))
        })
        .count();
    let girth = 2.0 * PI * (45.0 - 12.0 * middle / 180.0);
    near(inside as f64 / f64::from(steps) * girth, 14.0 * 0.94 * 8.0, 0.2);
}

#[test]
fn reeds_stand_on_the_lower_edge_at_their_true_size() {
    let (high, wide) = (90.0, 2.5);
    let kind = MotifKind::Reeds {
        count: 20,
        height_mm: (high, high),
        width_mm: wide,
        lean_rad: 0.0,
        heads: 0.0,
    };
    let reeds = zone(revolved(&CUP), of_kind(kind, 20.0, 160.0));
    let (top, foot) = reeds.area.along_range_mm().expect("reeds");
    near(top, 70.0, 1e-4);
    near(foot, 160.0, 1e-4);
    // Upright, a blade is w (1 - t²) wide where a quadratic curve with the middle control point at
    // 0.55 of its height is at t; summed by the midpoint rule.
    let rise =
        |t: f64| 2.0 * t * (1.0 - t) * 0.55 * high + t * t * high - 0.5 * (1.0 - t) * (1.0 - t);
    let steps = 10_000;
    let each: f64 = (0..steps)
        .map(|i| (f64::from(i) / f64::from(steps), f64::from(i + 1) / f64::from(steps)))
        .map(|(a, b)| {
            let t = 0.5 * (a + b);
            (rise(b).max(0.0) - rise(a).max(0.0)) * wide * (1.0 - t * t)
        })
        .sum();
    all_alike(&reeds, 20, each);
}
