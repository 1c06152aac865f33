//! Distance to the nearest edge, in space.

use crate::support::*;
use piece::{ArtSize, Region, Wave};
use shape::{Field, SurfacePoint, ZoneShape};
use std::f64::consts::PI;

const CAN: [(f64, f64); 2] = [(0.0, 40.0), (180.0, 40.0)];

fn field(zone: &ZoneShape) -> Field {
    Field::new(&zone.surface, &zone.area)
}

#[test]
fn level_edges_are_as_far_as_along_the_wall() {
    let zone = zone(revolved(&CUP), band(level(30.0), level(120.0)));
    let field = field(&zone);
    for around in [-3.0, 0.0, 1.234, PI] {
        near(field.clearance_mm(at(around, 50.0)), 20.0, 1e-3);
        near(field.clearance_mm(at(around, 100.0)), 20.0, 1e-3);
        near(field.clearance_mm(at(around, 25.0)), -5.0, 1e-3);
        near(field.clearance_mm(at(around, 30.0)), 0.0, 1e-3);
    }
}

#[test]
fn a_window_is_as_far_as_the_chord() {
    let region = Region { window_rad: Some((1.0, 2.0)), ..everything() };
    let zone = zone(revolved(&CAN), region);
    let field = field(&zone);
    // Chord of an angle a on radius r: 2 r sin(a/2).
    near(field.clearance_mm(at(1.2, 90.0)), 80.0 * 0.1_f64.sin(), 1e-6);
    near(field.clearance_mm(at(2.3, 90.0)), -80.0 * 0.15_f64.sin(), 1e-6);
    // Over the back: from -1.9 to 1.0 is shorter through the front, -3.0 is nearer to 2.0.
    near(field.clearance_mm(at(-3.0, 90.0)), -80.0 * ((2.0 * PI - 5.0) / 2.0).sin(), 1e-6);
}

#[test]
fn creases_and_ends_count_and_the_axis_does_not() {
    // A closed lid: a disc of radius 40, then a skirt of 10.
    let lid = [(0.0, 0.0), (40.0, 40.0), (50.0, 40.0)];
    let zone = zone(revolved(&lid), everything());
    let field = field(&zone);
    near(field.clearance_mm(at(0.3, 0.0)), 40.0, 2e-3);
    near(field.clearance_mm(at(0.3, 30.0)), 10.0, 2e-3);
    near(field.clearance_mm(at(0.3, 46.0)), 4.0, 2e-3);
    near(field.clearance_mm(at(0.3, 42.0)), 2.0, 2e-3);
    near(zone.area_mm2, PI * 1600.0 + 2.0 * PI * 400.0, 0.01);
}

#[test]
fn the_tree_finds_what_trying_every_edge_finds() {
    let region = Region {
        art: Some(path_art(
            "M-10 0A10 10 0 1 0 10 0A10 10 0 1 0-10 0Z",
            ArtSize::WidthMm(60.0),
            90.0,
            3.0,
        )),
        ..band(wave(80.0, Wave::Sine, 7.0, 5, 0.2), level(150.0))
    };
    let zone = zone(revolved(&CUP), region);
    let field = field(&zone);
    let world = |p: &SurfacePoint| zone.surface.world_from_surface(*p);
    let corners: Vec<_> = zone.area.edges.iter().flatten().map(world).collect();
    for step in 0..400 {
        let place = at(-PI + 0.0157 * f64::from(step), 5.0 + 0.43 * f64::from(step));
        let from = world(&place);
        let nearest = corners.iter().map(|corner| corner.distance(from)).fold(f64::MAX, f64::min);
        let ends = place.along_mm.min(180.0 - place.along_mm);
        let found = field.clearance_mm(place).abs();
        // Corners lie at most 0.5 mm apart, so a corner lies within hypot(d, 0.25) of an edge d away.
        let expected = nearest.min(ends);
        assert!(
            found <= expected + 2e-3 && expected <= found.hypot(0.25) + 2e-3,
            "{found} and {expected}"
        );
    }
}

#[test]
fn distance_changes_no_faster_than_the_place() {
    let region = Region {
        window_rad: Some((2.0, 4.5)),
        ..band(wave(80.0, Wave::Zigzag, 7.0, 7, 0.2), level(150.0))
    };
    let zone = zone(revolved(&CUP), region);
    let field = field(&zone);
    for row in 0..60 {
        let along = 60.0 + 1.7 * f64::from(row);
        let mut last = field.clearance_mm(at(-PI, along));
        let steps = 4000;
        for step in 1..=steps {
            let around = -PI + 2.0 * PI * f64::from(step) / f64::from(steps);
            let next = field.clearance_mm(at(around, along));
            let moved = zone.surface.around_scale_mm(along) * 2.0 * PI / f64::from(steps);
            assert!(
                (next - last).abs() <= 1.001 * moved + 1e-3,
                "from {last} to {next} in {moved} mm"
            );
            last = next;
        }
    }
}

#[test]
fn an_empty_area_is_outside_everywhere() {
    let zone = zone(revolved(&CAN), everything());
    let field = Field::new(&zone.surface, &shape::Area::default());
    assert!(!field.contains(at(0.0, 90.0)));
    assert!(field.clearance_mm(at(0.0, 90.0)) < 0.0);
}
