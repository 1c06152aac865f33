//! Several zones as one area, and the borders that they share.

use crate::support::{
    CUP, band, everything, level, near, piece_of, revolved, stones, studio, wave,
};
use ::piece::{Finish, Form, Region, Wave};
use shape::{Area, Field, Shape, Surface, SurfacePoint, shape};
use std::f64::consts::PI;

fn shaped(form: Form, zones: Vec<(Region, Finish)>) -> Shape {
    shape(&piece_of(form, zones), &studio()).expect("sound zones")
}

fn bare(shape: &Shape) -> &Surface {
    &shape.parts[0].surface
}

fn united(shape: &Shape) -> Area {
    let areas: Vec<&Area> = shape.zones.iter().map(|zone| &zone.area).collect();
    Area::united(&areas, bare(shape))
}

fn windowed(from_mm: f64, to_mm: f64, window_deg: (f64, f64)) -> Region {
    let window_rad = Some((window_deg.0.to_radians(), window_deg.1.to_radians()));
    Region { window_rad, ..band(level(from_mm), level(to_mm)) }
}

/// Radius of the bare cup, mm: straight between both tape measurements.
fn radius(along_mm: f64) -> f64 {
    45.0 - 12.0 * along_mm / 180.0
}

#[test]
fn two_bands_that_share_a_wave_are_one_band() {
    for crest in [Wave::Sine, Wave::Zigzag, Wave::Scallop] {
        let line = wave(70.0, crest, 5.0, 4, 0.3);
        let shape = shaped(
            revolved(&CUP),
            vec![(band(level(30.0), line), stones()), (band(line, level(120.0)), stones())],
        );
        let one = united(&shape);
        // The two rims that are left: circles of the cup's own radii.
        let rims_mm = 2.0 * PI * (radius(30.0) + radius(120.0));
        near(one.edge_length_mm(bare(&shape)), rims_mm, 0.05);
        assert_eq!(one.edges.len(), 2);
        let parts = shape.zones.iter().map(|zone| zone.area.area_mm2(bare(&shape))).sum::<f64>();
        near(one.area_mm2(bare(&shape)), parts, 0.01);
        // As long as the edge that both have.
        let wavy_mm = shape.zones[0].area.edge_length_mm(bare(&shape)) - 2.0 * PI * radius(30.0);
        let border_mm = shape.zones[0].area.border_mm(&shape.zones[1].area, bare(&shape));
        near(border_mm, wavy_mm, 0.05);
    }
}

#[test]
fn windows_side_by_side_and_across_the_back_are_one() {
    let shape = shaped(
        revolved(&CUP),
        vec![
            (windowed(40.0, 60.0, (-70.0, 100.0)), stones()),
            (windowed(40.0, 60.0, (100.0, 210.0)), stones()),
            (windowed(60.0, 90.0, (120.0, 250.0)), stones()),
            (windowed(90.0, 110.0, (120.0, 180.0)), stones()),
        ],
    );
    let one = united(&shape);
    assert_eq!((one.edges.len(), one.shapes(bare(&shape))), (1, 1));
    // Slant height for 1 mm along the wall is 1, as `along` is measured on it.
    let turn = |deg: f64| deg.to_radians();
    let expected = radius(40.0) * turn(280.0)
        + radius(60.0) * (turn(280.0) - turn(90.0) + turn(40.0))
        + radius(90.0) * turn(70.0)
        + radius(110.0) * turn(60.0)
        + 2.0 * (20.0 + 30.0 + 20.0);
    near(one.edge_length_mm(bare(&shape)), expected, 0.05);
    let field = Field::new(bare(&shape), &one);
    // On the border of two of them, also at the back, it is as far to an edge as the outer ones are.
    let at = |deg: f64, along_mm| SurfacePoint { around: turn(deg), along_mm };
    for (place, away_mm) in
        [(at(100.0, 50.0), 10.0), (at(180.0, 75.0), 15.0), (at(175.0, 60.0), 20.0)]
    {
        assert!(field.clearance_mm(place) > away_mm - 0.2, "{place:?}");
    }
    let border =
        |a: usize, b: usize| shape.zones[a].area.border_mm(&shape.zones[b].area, bare(&shape));
    near(border(0, 1), 20.0, 0.01);
    near(border(1, 2), radius(60.0) * turn(90.0), 0.05);
    near(border(2, 3), radius(90.0) * turn(60.0), 0.05);
    near(border(0, 2), 0.0, 0.01);
    near(border(0, 3), 0.0, 0.01);
}

#[test]
fn a_slip_of_a_few_micrometres_leaves_no_seam() {
    // 3.937 in are 99.9998 mm; another band begins 6 µm lower.
    for gap_mm in [0.0002, 0.006] {
        let shape = shaped(
            revolved(&CUP),
            vec![
                (windowed(60.0, 99.9998, (-40.0, 200.0)), stones()),
                (windowed(99.9998 + gap_mm, 130.0, (-40.0, 200.0)), stones()),
            ],
        );
        let one = united(&shape);
        let expected =
            radius(60.0) * 240_f64.to_radians() + radius(130.0) * 240_f64.to_radians() + 2.0 * 70.0;
        near(one.edge_length_mm(bare(&shape)), expected, 0.05);
        let field = Field::new(bare(&shape), &one);
        let place = |deg: f64| SurfacePoint { around: f64::to_radians(deg), along_mm: 99.0 };
        for deg in [-38.0, 0.0, 77.0, 180.0, 199.0] {
            assert!(field.clearance_mm(place(deg)) > 0.6, "{deg}");
        }
    }
    // Half a tenth of a millimetre is a gap.
    let shape = shaped(
        revolved(&CUP),
        vec![
            (band(level(60.0), level(90.0)), stones()),
            (band(level(90.05), level(130.0)), stones()),
        ],
    );
    assert_eq!(united(&shape).edges.len(), 4);
    near(shape.zones[0].area.border_mm(&shape.zones[1].area, bare(&shape)), 0.0, 0.01);
}

#[test]
fn a_hole_that_another_zone_fills_is_no_hole() {
    let whole = Region { leave_out: vec![(1, 0.0)], ..everything() };
    let inner = windowed(50.0, 80.0, (150.0, 230.0));
    let shape = shaped(revolved(&CUP), vec![(whole, stones()), (inner, stones())]);
    let one = united(&shape);
    near(one.edge_length_mm(bare(&shape)), 2.0 * PI * (45.0 + 33.0), 0.05);
    let away = Region { leave_out: vec![(1, 2.0)], ..everything() };
    let inner = windowed(50.0, 80.0, (150.0, 230.0));
    let shape = shaped(revolved(&CUP), vec![(away, stones()), (inner, stones())]);
    near(shape.zones[0].area.border_mm(&shape.zones[1].area, bare(&shape)), 0.0, 0.01);
}
