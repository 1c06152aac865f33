//! Rows along an edge, stone under stone.

use crate::support::{band, body, rows};
use crate::{PITCH_MM, STRAIGHT, by_row, covers, laid_as};
use piece::{Follow, Stagger, Taper};
use std::f64::consts::PI;
use stones::Stone;

#[test]
fn aligned_rows_along_a_level_edge_are_a_square_grid() {
    let text =
        body(&[(0.0, 38.0), (120.0, 38.0)], &rows("wall", &band(20.0, 70.0), "edge", "SS10", 0.1));
    let laid = laid_as(&text, Follow::Edge, Stagger::Aligned, Taper::Spread);
    // Chord geometry round, and a pitch a row down.
    let ring = (PI / libm::asin(PITCH_MM / (2.0 * 38.0))).floor() as usize;
    let down = ((50.0 - 2.8) / PITCH_MM).floor() as usize + 1;
    assert_eq!(laid.stones.stones.len(), ring * down);
}

#[test]
fn aligned_rows_along_a_wave_lie_square_under_the_row_before() {
    let region = "band = { from = { along = \"20 mm\", wave = \"sine\", amplitude = \"3 mm\", count = 4 }, to = \"60 mm\" }";
    let text = body(&STRAIGHT, &rows("wall", region, "edge", "SS10", 0.1));
    let laid = laid_as(&text, Follow::Edge, Stagger::Aligned, Taper::Spread);
    let offset = laid_as(&text, Follow::Edge, Stagger::Offset, Taper::Spread);
    let found = by_row(&laid.stones);
    let (mut under, mut all) = (0, 0);
    for (row, stones) in &found {
        let Some(above) = row.checked_sub(1).and_then(|row| found.get(&row)) else { continue };
        for stone in stones {
            // One that nests would lie within 1.12 pitches of two stones of the row before.
            let apart = |other: &&&Stone| other.centre_mm.distance(stone.centre_mm);
            let near = above.iter().filter(|other| apart(other) < 1.12 * PITCH_MM).count();
            all += 1;
            under += usize::from(near == 1);
        }
    }
    assert!(under * 100 > all * 97, "{under} of {all}");
    covers(&laid, 0.698);
    covers(&offset, 0.744);
}
