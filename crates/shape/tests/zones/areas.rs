//! Areas and edges of bands, windows, waves and what lies beneath.

use crate::support::*;
use piece::{Finish, Region, Wave};
use std::f64::consts::PI;

#[test]
fn a_band_has_the_area_of_a_frustum() {
    // Zwillinger, CRC Standard Mathematical Tables: lateral area pi (r1 + r2) s.
    let zone = zone(revolved(&CUP), band(level(30.0), level(120.0)));
    let radius = |along: f64| 45.0 - 12.0 * along / 180.0;
    near(zone.area.area_mm2(&zone.surface), PI * (radius(30.0) + radius(120.0)) * 90.0, 0.01);
    assert_eq!(zone.area.shapes(&zone.surface), 1);
    assert_eq!(zone.area.edges.len(), 2);
    near(zone.area.edge_length_mm(&zone.surface), 2.0 * PI * (radius(30.0) + radius(120.0)), 0.05);
}

#[test]
fn a_window_of_half_a_turn_halves_the_area() {
    for from in [-0.5 * PI, 0.5 * PI, 2.9, -3.1] {
        let window =
            Region { window_rad: Some((from, from + PI)), ..band(level(30.0), level(120.0)) };
        let half = zone(revolved(&CUP), window);
        let whole = zone(revolved(&CUP), band(level(30.0), level(120.0)));
        near(half.area_mm2, 0.5 * whole.area_mm2, 0.01);
        assert_eq!(half.area.shapes(&half.surface), 1, "window from {from}");
        assert_eq!(half.area.edges.len(), 1);
        let extent = half.area.extent(&half.surface).expect("not empty");
        near(extent.around.1 - extent.around.0, PI, 1e-6);
        near(extent.height_mm, 90.0, 1e-4);
    }
}

#[test]
fn a_window_of_a_whole_turn_has_no_edge_at_the_back() {
    let region =
        Region { window_rad: Some((1.0, 1.0 + 2.0 * PI)), ..band(level(30.0), level(120.0)) };
    let zone = zone(revolved(&CUP), region);
    assert_eq!(zone.area.edges.len(), 2);
}

#[test]
fn waves_leave_the_mean_area_alone() {
    // On a cylinder a sine and a zigzag take away as much as they add.
    let can = [(0.0, 40.0), (180.0, 40.0)];
    for shape in [Wave::Sine, Wave::Zigzag] {
        let zone = zone(revolved(&can), band(wave(60.0, shape, 7.0, 5, 0.3), level(150.0)));
        near(zone.area_mm2, 2.0 * PI * 40.0 * 90.0, 2.0);
    }
    // A scallop of half circles lies (pi/2 - 1) amplitudes below its middle on average.
    let zone = zone(revolved(&can), band(wave(60.0, Wave::Scallop, 7.0, 5, 0.3), level(150.0)));
    near(zone.area_mm2, 2.0 * PI * 40.0 * (90.0 - 7.0 * (0.5 * PI - 1.0)), 2.0);
}

#[test]
fn a_zigzag_edge_is_as_long_as_its_teeth() {
    let can = [(0.0, 40.0), (180.0, 40.0)];
    let zone = zone(revolved(&can), band(wave(60.0, Wave::Zigzag, 6.0, 8, 0.0), level(150.0)));
    let tooth = (PI * 40.0 / 8.0).hypot(12.0);
    near(zone.area.edge_length_mm(&zone.surface), 16.0 * tooth + 2.0 * PI * 40.0, 0.1);
}

#[test]
fn a_crest_lies_nearest_to_the_rim() {
    for shape in [Wave::Sine, Wave::Zigzag, Wave::Scallop] {
        let edge = wave(60.0, shape, 7.0, 5, 0.3);
        near(shape::edge::edge_along_mm(&edge, 0.3), 53.0, 1e-6);
        near(shape::edge::edge_along_mm(&edge, 0.3 + PI / 5.0), 67.0, 1e-6);
        near(shape::edge::edge_along_mm(&edge, 0.3 + 2.0 * PI / 5.0), 53.0, 1e-5);
    }
}

#[test]
fn what_lies_beneath_is_weighted_by_area() {
    let can = [(0.0, 40.0), (180.0, 40.0)];
    let shape = shaped(
        revolved(&can),
        vec![
            (band(level(30.0), level(90.0)), Finish::Paint { colour: 0, coats: 2 }),
            (band(level(30.0), level(150.0)), Finish::Resin { coats: 3, film_mm: 0.3 }),
            (band(level(60.0), level(150.0)), film()),
        ],
    );
    // Paint 2 x 0.05 mm on a third of the film, resin 3 x 0.3 mm under all of it.
    near(shape.zones[0].below_mm, 0.0, 0.0);
    near(shape.zones[1].below_mm, 0.05, 1e-6);
    near(shape.zones[2].below_mm, 0.9 + 0.1 / 3.0, 1e-6);
    // The surface of the film has grown by as much: a cylinder of that radius.
    near(shape.zones[2].area_mm2, 2.0 * PI * (40.0 + 0.9 + 0.1 / 3.0) * 90.0, 0.05);
}

#[test]
fn later_stones_push_earlier_ones_aside() {
    let can = [(0.0, 40.0), (180.0, 40.0)];
    let shape = shaped(
        revolved(&can),
        vec![
            (band(level(30.0), level(150.0)), stones()),
            (band(level(60.0), level(90.0)), stones()),
            (band(level(40.0), level(140.0)), film()),
        ],
    );
    near(shape.zones[0].area_mm2, 2.0 * PI * 40.0 * 90.0, 0.05);
    assert_eq!(shape.zones[0].area.shapes(&shape.zones[0].surface), 2);
    near(shape.zones[1].area_mm2, 2.0 * PI * 40.0 * 30.0, 0.05);
}

#[test]
fn finishes_near_the_rim_are_cautioned() {
    let shape = shaped(
        revolved(&CUP),
        vec![(band(level(13.0), level(90.0)), film()), (band(level(20.0), level(90.0)), film())],
    );
    let notes: Vec<_> =
        shape.notes.iter().filter(|note| note.severity == piece::Severity::Caution).collect();
    assert_eq!(notes.len(), 1);
    assert_eq!(notes[0].path.0, "zone[0]");
    assert!(
        notes[0].message.contains("`zone-0`") && notes[0].message.contains("13.0 mm"),
        "{}",
        notes[0].message
    );
}

pub fn warned(form: piece::Form, zones: Vec<(piece::Region, piece::Finish)>) -> Vec<String> {
    let warnings = shaped(form, zones).notes.into_iter();
    let warnings = warnings.filter(|note| note.severity == piece::Severity::Warning);
    warnings.map(|note| note.message).collect()
}

#[test]
fn stones_over_lettering_are_warned_of() {
    let name = |at| drawn(lettering("Ebb", "rubik-bold", piece::ArtSize::HeightMm(12.0), at));
    let over = |at| {
        warned(revolved(&CUP), vec![(name(at), film()), (band(level(40.0), level(90.0)), stones())])
    };
    let told = over(65.0);
    assert_eq!(told, ["the stones of zone `zone-1` hide 100 % of zone `zone-0`"]);
    assert_eq!(over(120.0), Vec::<String>::new());
}
