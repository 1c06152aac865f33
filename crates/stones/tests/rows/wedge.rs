//! Rows that keep their columns but for a wedge at the back.

use crate::support::{self, band, body, check_pairs, rows};
use crate::{CONE, NARROWS, PITCH_MM, STRAIGHT, covers, laid_as, wall};
use glam::DVec3;
use piece::{Follow, Stagger, Taper};
use std::collections::BTreeMap;
use std::f64::consts::PI;
use stones::Stone;

/// Stones of the largest size about one, nearer than so many pitches.
fn about<'a>(stones: &'a [Stone], stone: &Stone, pitches: f64) -> Vec<&'a Stone> {
    let near = |other: &&Stone| {
        let apart = other.centre_mm.distance(stone.centre_mm);
        other.size == stone.size && apart > 0.0 && apart < pitches * PITCH_MM
    };
    stones.iter().filter(near).collect()
}

#[test]
fn a_wedge_leaves_one_honeycomb_but_for_a_narrow_strip_at_the_back() {
    for (cone, told) in [(NARROWS, 0.822), (CONE, 0.822), ([(0.0, 30.0), (60.0, 44.0)], 0.803)] {
        let laid = laid_as(&wall(&cone), Follow::Level, Stagger::Offset, Taper::Wedge);
        let zone = &laid.shape.zones[0];
        let field = shape::Field::new(&zone.surface, &zone.area);
        let stones = &laid.stones.stones;
        // By bands of 10 mm along the wall: how far from the back the farthest dislocation lies.
        let mut wide: BTreeMap<u32, f64> = BTreeMap::new();
        let mut inner = 0;
        for stone in stones {
            if field.clearance_mm(stone.at) < 2.2 * PITCH_MM {
                continue;
            }
            inner += 1;
            // In a hexagonal lattice, the densest there is (pi / sqrt 12; Thue), each has six.
            if about(stones, stone, 1.02).len() != 6 {
                let radius = zone.surface.around_scale_mm(stone.at.along_mm);
                let from_back = (PI - stone.at.around.abs()) * radius;
                let band = wide.entry((stone.at.along_mm / 10.0) as u32).or_default();
                *band = band.max(from_back);
            }
        }
        eprintln!("{inner} inner stones, half widths of the wedge by 10 mm: {wide:?}");
        assert!(inner > 500);
        // Both halves end in a ragged line a stone and a half deep at most.
        for half in wide.values() {
            assert!(*half < 1.6 * PITCH_MM, "{wide:?}");
        }
        covers(&laid, told);
    }
}

#[test]
fn rows_of_a_wedge_climb_as_a_straight_line_in_the_unrolled_sector() {
    // Half the sector is pi sin(a), a the half angle of the cone; a line square to the front at a
    // distance from the tip passes the direction f at that distance / cos f.
    let laid = laid_as(&wall(&NARROWS), Follow::Level, Stagger::Offset, Taper::Wedge);
    let slope = 12.0 / 120.0;
    let tip = |along: f64| 44.0 / slope - along;
    for row in laid.stones.stones.chunk_by(|a, b| a.row == b.row) {
        let Some(front) = row.iter().find(|stone| stone.at.around.abs() < 0.05) else { continue };
        let at_front = tip(front.at.along_mm) * libm::cos(slope * front.at.around);
        for stone in row.iter().filter(|stone| stone.at.around.abs() < 2.8) {
            let off = tip(stone.at.along_mm) * libm::cos(slope * stone.at.around) - at_front;
            // Stones that fill the ragged edges count to the nearest row.
            let edge = stone.at.along_mm < 7.0 || stone.at.along_mm > 113.0;
            assert!(edge || off.abs() < 0.01, "{off} mm off its row: {stone:?}");
        }
    }
}

#[test]
fn small_stones_fill_the_wedge() {
    let text = wall(&NARROWS).replace(
        "follow = \"level\", size = \"SS10\"",
        "taper = \"wedge\", sizes = [ { size = \"SS10\" }, { size = \"SS5\" } ]",
    );
    let laid = support::lay(&text);
    check_pairs(&laid, 0.1);
    let small: Vec<&Stone> =
        laid.stones.stones.iter().filter(|stone| stone.diameter_mm < 2.0).collect();
    let back = small.iter().filter(|stone| stone.at.around.abs() > PI - 0.15).count();
    eprintln!("{} small stones, {back} at the back", small.len());
    assert!(back > 5);
    let inner = small.iter().filter(|stone| {
        stone.at.around.abs() < PI - 0.2 && (8.0..112.0).contains(&stone.at.along_mm)
    });
    assert_eq!(inner.count(), 0);
    assert!(laid.stones.notes.is_empty(), "{:?}", laid.stones.notes);
}

#[test]
fn a_wedge_on_a_straight_cup_is_level_rows() {
    let places = |taper| -> Vec<DVec3> {
        let laid = laid_as(&wall(&STRAIGHT), Follow::Level, Stagger::Offset, taper);
        laid.stones.stones.iter().map(|stone| stone.centre_mm).collect()
    };
    assert_eq!(places(Taper::Wedge), places(Taper::Spread));
}

#[test]
fn a_wedge_on_a_lid_top_is_one_honeycomb_without_a_break() {
    // A flat ring unrolls to itself: no stone lacks a neighbour but at the edges.
    let text = body(
        &[(0.0, 8.0), (40.0, 48.0), (45.0, 48.5)],
        &rows("wall", &band(0.0, 39.0), "level", "SS10", 0.1),
    );
    let laid = laid_as(&text, Follow::Level, Stagger::Offset, Taper::Wedge);
    let zone = &laid.shape.zones[0];
    let field = shape::Field::new(&zone.surface, &zone.area);
    for stone in &laid.stones.stones {
        if field.clearance_mm(stone.at) > 2.2 * PITCH_MM {
            assert_eq!(about(&laid.stones.stones, stone, 1.02).len(), 6, "{stone:?}");
        }
    }
}
