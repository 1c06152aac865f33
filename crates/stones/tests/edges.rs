//! Outlines and rings: flush with every edge, at even gaps, a stone in each corner.

mod support;

use piece::Layout;
use shape::SurfacePoint;
use std::f64::consts::PI;
use support::{
    Laid, STAR, band, body, check_pairs, laid_out, lay_as, most_room_mm, plate, scatter,
};

const WALL: [(f64, f64); 2] = [(0.0, 37.4), (120.0, 37.4)];
const CONE: [(f64, f64); 2] = [(0.0, 44.0), (120.0, 33.0)];
const LID: [(f64, f64); 3] = [(0.0, 10.0), (33.0, 43.0), (43.0, 44.0)];

/// Clear distances from each stone to its nearest other, mm.
fn gaps_mm(laid: &Laid) -> Vec<f64> {
    let stones = &laid.stones.stones;
    let nearest = |a: usize| {
        let others = (0..stones.len()).filter(|b| *b != a);
        let apart = others.map(|b| stones[a].centre_mm.distance(stones[b].centre_mm));
        apart.fold(f64::INFINITY, f64::min) - stones[a].diameter_mm
    };
    (0..stones.len()).map(nearest).collect()
}

#[test]
fn the_outline_of_a_disc_has_the_count_of_a_closed_ring_at_equal_gaps() {
    for across in [30.0, 50.0, 73.0_f64] {
        for (size, diameter_mm) in [("SS6", 2.0), ("SS16", 3.9_f64)] {
            let text = plate(&format!("circle = \"{across} mm\""), "", &[(size, 100.0)]);
            let laid = lay_as(&text, laid_out(Layout::Outline { rows: 1 }));
            check_pairs(&laid, 0.1);
            // Chords of a circle: n = floor(pi / asin(pitch / 2R)).
            let ring_mm = across / 2.0 - diameter_mm / 2.0;
            let count = (PI / libm::asin((diameter_mm + 0.1) / (2.0 * ring_mm))).floor();
            assert_eq!(laid.stones.stones.len(), count as usize, "{across} {size}");
            let gaps = gaps_mm(&laid);
            let (least, most) =
                gaps.iter().fold((f64::INFINITY, 0.0_f64), |(a, b), g| (a.min(*g), b.max(*g)));
            assert!(most - least < 1e-3, "gaps from {least} to {most} mm");
        }
    }
}

#[test]
fn the_outline_of_a_square_has_a_stone_in_each_corner_and_equal_gaps_between() {
    let text = plate("width = \"40 mm\", height = \"40 mm\"", "", &[("SS10", 100.0)]);
    let laid = lay_as(&text, laid_out(Layout::Outline { rows: 1 }));
    check_pairs(&laid, 0.1);
    for (x, y) in [(18.6, 18.6), (-18.6, 18.6), (18.6, -18.6), (-18.6, -18.6)] {
        let near = |at: SurfacePoint| libm::hypot(at.around - x, at.along_mm - y);
        let nearest = laid.stones.stones.iter().map(|stone| near(stone.at));
        let off = nearest.fold(f64::INFINITY, f64::min);
        assert!(off < 1e-3, "no stone in the corner {x} {y}: {off} mm");
    }
    // Between two corners 37.2 mm apart go floor(37.2 / 2.9) = 12 steps.
    assert_eq!(laid.stones.stones.len(), 4 * 12);
    for gap in gaps_mm(&laid) {
        assert!((gap - (37.2 / 12.0 - 2.8)).abs() < 1e-3, "{gap}");
    }
}

#[test]
fn the_outline_of_a_star_has_a_stone_in_each_tip_and_by_each_notch() {
    let laid = lay_as(&plate(STAR, "", &[("SS6", 100.0)]), laid_out(Layout::Outline { rows: 1 }));
    check_pairs(&laid, 0.1);
    let zone = &laid.shape.zones[0];
    // Corners of the drawing, 100 wide, scaled to 60 mm and centred on its box.
    for (index, (x, y)) in
        [(0.0, -50.0), (14.0, -16.0), (50.0, -16.0), (20.0, 6.0), (30.0, 42.0), (0.0, 20.0)]
            .into_iter()
            .enumerate()
    {
        let corner = zone
            .surface
            .world_from_surface(SurfacePoint { around: 0.6 * x, along_mm: 0.6 * (y + 4.0) });
        let nearest = laid.stones.stones.iter().map(|stone| stone.centre_mm.distance(corner));
        let nearest = nearest.fold(f64::INFINITY, f64::min);
        if index % 2 == 1 {
            assert!((nearest - 1.0).abs() < 1e-3, "no stone touches the notch: {nearest} mm");
        } else {
            // A stone in a tip of angle a lies r / sin(a / 2) from it: the two tips differ a little.
            assert!(nearest < 1.0 / libm::sin(0.25), "no stone in the tip: {nearest} mm");
        }
    }
}

#[test]
fn outlines_and_rings_keep_gaps_and_stay_inside_on_wall_cone_lid_and_plates() {
    let one = [("SS10", 100.0)];
    let window = "window = { from = \"120 deg\", to = \"230 deg\" }";
    let across_the_back = format!("{}\n{window}", band(15.0, 60.0));
    for text in [
        body(&WALL, &scatter("tide", &band(15.0, 40.0), &one, 0.1)),
        body(&CONE, &scatter("tide", &band(15.0, 40.0), &one, 0.1)),
        body(&LID, &scatter("tide", &band(0.0, 33.0), &one, 0.1)),
        body(&CONE, &scatter("tide", &across_the_back, &one, 0.1)),
        plate("width = \"40 mm\", height = \"40 mm\"", "", &one),
        plate("circle = \"50 mm\"", "", &one),
        plate(STAR, "", &one),
    ] {
        for layout in [Layout::Outline { rows: 1 }, Layout::Outline { rows: 3 }, Layout::Rings] {
            let laid = lay_as(&text, laid_out(layout));
            check_pairs(&laid, 0.1);
            if layout == Layout::Rings {
                assert!(most_room_mm(&laid, 2.8, 0.2) < 1e-3);
            }
        }
    }
}

fn nearest_to(laid: &Laid, (x, y): (f64, f64)) -> f64 {
    let away = |stone: &stones::Stone| libm::hypot(stone.at.around - x, stone.at.along_mm - y);
    laid.stones.stones.iter().map(away).fold(f64::INFINITY, f64::min)
}

#[test]
fn a_second_row_has_a_stone_in_each_corner_of_a_square_and_no_hole_beside_it() {
    let text = plate("width = \"40 mm\", height = \"40 mm\"", "", &[("SS10", 100.0)]);
    let laid = lay_as(&text, laid_out(Layout::Outline { rows: 2 }));
    check_pairs(&laid, 0.1);
    // Flush stones lie 37.2 / 12 = 3.1 mm apart; the stone that touches both of a corner's neighbours
    // and lies on the diagonal is at (x, x) from the corner's with (3.1 - x)² + x² = 2.9² (Pythagoras).
    let x = (3.1 + (2.0 * 2.9 * 2.9 - 3.1_f64 * 3.1).sqrt()) / 2.0;
    for (right, down) in [(1.0, 1.0), (-1.0, 1.0), (1.0, -1.0), (-1.0, -1.0)] {
        let off = nearest_to(&laid, (right * (18.6 - x), down * (18.6 - x)));
        assert!(off < 2e-3, "no stone inside the corner: {off} mm");
    }
    // Neighbours within the second row: none so far from the next that another nearly fits between.
    let second: Vec<_> = laid.stones.stones.iter().filter(|stone| stone.row == 2).collect();
    for stone in &second {
        let mut apart: Vec<f64> =
            second.iter().map(|other| other.centre_mm.distance(stone.centre_mm)).collect();
        apart.sort_by(f64::total_cmp);
        assert!(apart[2] < 1.35 * 2.9, "a hole of {} mm beside {stone:?}", apart[2] - 2.8);
    }
}

#[test]
fn rings_of_a_lid_cover_more_than_hexagons_clipped_to_it() {
    // A ring of 30 to 44 mm. Own trials: hexagons clipped to it 0.694, rings laid out whole 0.689, one
    // size squeezed without order 0.755. Concentric rings at one pitch: floor(pi / asin(pitch / 2R))
    // at 42.6, 39.7, 36.8 and 33.9 mm come to 330 stones, 0.624.
    let text = body(
        &[(0.0, 20.0), (30.0, 50.0)],
        &scatter("ring", &band(10.0, 24.0), &[("SS10", 100.0)], 0.1),
    );
    let laid = lay_as(&text, laid_out(Layout::Rings));
    check_pairs(&laid, 0.1);
    let covered = laid.stones.zones[0].coverage;
    assert!(covered > 0.715, "{covered}");
    assert!(covered < PI / 12.0_f64.sqrt());
}

#[test]
fn rings_leave_no_wide_hole_in_the_corners_of_a_rounded_lid() {
    let corners = "width = \"60 mm\", height = \"44 mm\", corner = \"10 mm\"";
    let discs =
        [(corners, 6), ("circle = \"50 mm\"", 4), ("width = \"40 mm\", height = \"40 mm\"", 4)];
    for (outline, most) in discs {
        let laid = lay_as(&plate(outline, "", &[("SS10", 100.0)]), laid_out(Layout::Rings));
        check_pairs(&laid, 0.1);
        // Wider than 1.7 mm between girdles; laid out whole, rings left 24 of them in the rounded lid
        // and 18 in the square (own trials).
        let holes = laid.stones.zones[0].quality.wide_holes;
        assert!(holes.is_some_and(|holes| holes <= most), "{holes:?} holes, {outline}");
    }
}
