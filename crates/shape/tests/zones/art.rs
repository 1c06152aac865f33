//! Drawings on the surface: their areas, sizes and places.

use crate::support::*;
use piece::{ArtSize, Outline, PlacedArt};
use std::f64::consts::PI;

const DISC: &str = "M-10 0A10 10 0 1 0 10 0A10 10 0 1 0-10 0Z";
/// A pentagram drawn in one stroke, circumradius 20: it crosses itself five times.
const PENTAGRAM: &str = "M0-20L11.7557 16.1803L-19.0211-6.1803L19.0211-6.1803L-11.7557 16.1803Z";
const CAN: [(f64, f64); 2] = [(0.0, 40.0), (180.0, 40.0)];

fn plate() -> piece::Form {
    piece::Form::Flat(Outline::Circle { diameter_mm: 60.0 })
}

#[test]
fn a_disc_has_pi_r_squared_on_a_plate_and_rolled_on_a_can() {
    let flat = zone(plate(), drawn(path_art(DISC, ArtSize::WidthMm(24.0), 5.0, -3.0)));
    near(flat.area_mm2, PI * 144.0, 0.3);
    near(flat.area.edge_length_mm(&flat.surface), PI * 24.0, 0.05);
    let rolled = zone(revolved(&CAN), drawn(path_art(DISC, ArtSize::HeightMm(24.0), 80.0, 3.0)));
    near(rolled.area_mm2, PI * 144.0, 0.3);
    assert_eq!(rolled.area.shapes(&rolled.surface), 1);
}

#[test]
fn self_crossing_art_is_filled_whole() {
    // A pentagram of circumradius R has area 5 R r sin 36 deg with r = R (3 - sqrt 5)/2, its inner
    // corners (plane trigonometry); even-odd filling would leave the pentagon in the middle bare.
    let (big, small) = (20.0, 20.0 * (3.0 - 5.0_f64.sqrt()) / 2.0);
    let width = 2.0 * 19.0211;
    let star = zone(plate(), drawn(path_art(PENTAGRAM, ArtSize::WidthMm(width), 0.0, 0.0)));
    near(star.area_mm2, 5.0 * big * small * (PI / 5.0).sin(), 0.1);
    assert_eq!(star.area.loops.len(), 1);
}

#[test]
fn art_keeps_its_size_on_the_parallel_through_its_middle() {
    let art =
        zone(revolved(&CUP), drawn(path_art("M0 0H40V10H0Z", ArtSize::WidthMm(40.0), 90.0, 0.4)));
    let extent = art.area.extent(&art.surface).expect("not empty");
    near((extent.around.1 - extent.around.0) * 39.0, 40.0, 1e-4);
    near(extent.height_mm, 10.0, 1e-4);
    near(0.5 * (extent.around.0 + extent.around.1), 0.4, 1e-6);
    near(0.5 * (extent.along_mm.0 + extent.along_mm.1), 90.0, 1e-4);
    // Widening and narrowing of the cone cancel about the middle.
    near(art.area_mm2, 400.0, 0.01);
}

#[test]
fn turning_is_clockwise_and_mirroring_comes_before() {
    // An L with its foot to the right; turned a quarter clockwise its foot points down.
    let foot = "M0 0H4V16H20V20H0Z";
    let plain = path_art(foot, ArtSize::WidthMm(20.0), 80.0, 0.0);
    let turned = PlacedArt { turn_rad: 0.5 * PI, ..plain.clone() };
    let mirrored = PlacedArt { mirror: true, ..turned.clone() };
    let holds = |art: PlacedArt, right: f64, down: f64| {
        let zone = zone(revolved(&CAN), drawn(art));
        shape::Field::new(&zone.surface, &zone.area).contains(at(right / 40.0, 80.0 + down))
    };
    // Drawn: top left and bottom right are covered, top right is not.
    assert!(
        holds(plain.clone(), -8.0, -8.0)
            && holds(plain.clone(), 8.0, 8.0)
            && !holds(plain, 8.0, -8.0)
    );
    // Clockwise: top left goes to top right, bottom right to bottom left.
    assert!(
        holds(turned.clone(), 8.0, -8.0)
            && holds(turned.clone(), -8.0, 8.0)
            && !holds(turned, 8.0, 8.0)
    );
    assert!(
        holds(mirrored.clone(), 8.0, 8.0)
            && holds(mirrored.clone(), -8.0, 8.0)
            && !holds(mirrored, 8.0, -8.0)
    );
}

#[test]
fn copies_are_spread_evenly_and_one_lies_over_the_back() {
    let art = PlacedArt { repeat: 4, ..path_art(DISC, ArtSize::WidthMm(20.0), 80.0, 0.0) };
    let zone = zone(revolved(&CAN), drawn(art));
    near(zone.area_mm2, 4.0 * PI * 100.0, 0.8);
    assert_eq!(zone.area.shapes(&zone.surface), 4);
    assert_eq!(zone.area.edges.len(), 4);
    let field = shape::Field::new(&zone.surface, &zone.area);
    for quarter in 0..4 {
        assert!(field.contains(at(0.5 * PI * f64::from(quarter), 80.0)));
    }
}

#[test]
fn an_svg_file_brings_its_transforms_strokes_holes_and_clips() {
    let width = ArtSize::WidthMm(40.0);
    let area = |inner: &str| {
        let text =
            format!("<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 100 100'>{inner}</svg>");
        zone(revolved(&CAN), drawn(svg_art(&text, width, 80.0))).area_mm2
    };
    // A rectangle of 40 by 20, scaled and moved by its group.
    near(
        area("<g transform='translate(3 4) scale(2)'><rect width='20' height='10'/></g>"),
        800.0,
        0.1,
    );
    // A line of 40 by a stroke of 4.
    near(area("<path d='M10 10H50' fill='none' stroke='black' stroke-width='4'/>"), 160.0, 0.1);
    // A dashed line: 8 drawn, 8 left out, over 40: three dashes of 8 by 4.
    near(
        area(
            "<path d='M10 10H50' fill='none' stroke='black' stroke-width='4' stroke-dasharray='8'/>",
        ),
        96.0,
        0.1,
    );
    // A ring by the even-odd rule.
    let ring = "<path fill-rule='evenodd' d='M0 0H40V40H0ZM10 10H30V30H10Z'/>";
    near(area(ring), 1600.0 - 400.0, 0.1);
    // A disc of radius 20 clipped to its upper half, which is 40 wide.
    let clipped = "<clipPath id='c'><rect width='100' height='50'/></clipPath><circle clip-path='url(#c)' cx='50' cy='50' r='20'/>";
    near(area(clipped), 0.5 * PI * 400.0, 0.5);
    // The clip path moves with what it clips.
    let moved = "<clipPath id='c'><rect width='100' height='50'/></clipPath><g transform='translate(7 9)'><circle clip-path='url(#c)' cx='50' cy='50' r='20'/></g>";
    near(area(moved), 0.5 * PI * 400.0, 0.5);
    // Unseen things do not count.
    let unseen = "<rect width='40' height='10'/><rect y='50' width='99' height='20' display='none'/><rect y='80' width='99' height='20' opacity='0'/>";
    near(area(unseen), 400.0, 0.1);
}

#[test]
fn leaving_out_keeps_the_margin_on_cans_cones_and_lids() {
    let lid = [(0.0, 8.0), (36.0, 44.0)];
    for (form, along) in [(CAN, 80.0), (CUP, 80.0), (lid, 20.0)] {
        for margin in [0.5, 2.0] {
            let art = drawn(path_art(DISC, ArtSize::WidthMm(12.0), along, 3.1));
            let ground = piece::Region { leave_out: vec![(1, margin)], ..everything() };
            let shape = shaped(revolved(&form), vec![(ground, film()), (art, film())]);
            let [ground, art] = [&shape.zones[0], &shape.zones[1]];
            // All three unroll: radius in the sheet and angle in the sheet of each place.
            let slope = (form[1].1 - form[0].1) / (form[1].0 - form[0].0);
            let sheet = |p: &shape::SurfacePoint| {
                let radius = form[0].1 + slope * p.along_mm;
                if slope == 0.0 {
                    return (p.around * radius, p.along_mm);
                }
                let (out, angle) = (radius / slope, p.around.rem_euclid(2.0 * PI) * slope);
                (out * angle.sin(), out * angle.cos())
            };
            let on_can = |p: &shape::SurfacePoint| shape::SurfacePoint {
                around: p.around.rem_euclid(2.0 * PI),
                ..*p
            };
            let theirs: Vec<(f64, f64)> =
                art.area.edges.iter().flatten().map(|p| sheet(&on_can(p))).collect();
            let hole = ground.area.edges.iter().find(|edge| {
                edge.iter().all(|p| {
                    let (start, end) = ground.surface.along_range_mm();
                    p.along_mm > start + 0.1 && p.along_mm < end - 0.1
                })
            });
            for place in hole.expect("a hole about the disc") {
                let place = sheet(&on_can(place));
                let nearest = theirs
                    .iter()
                    .map(|t| (t.0 - place.0).hypot(t.1 - place.1))
                    .fold(f64::MAX, f64::min);
                // The lid is one plane, on which the discs about the edge are exact as well.
                assert!(
                    (margin - 0.005..margin + 0.06).contains(&nearest),
                    "{nearest} for {margin} on {form:?}"
                );
            }
        }
    }
}

/// So many rows of so many squares, each 0.6 of its place.
fn squares(columns: u32, rows: u32) -> String {
    let places = (0..rows).flat_map(|row| (0..columns).map(move |column| (row, column)));
    places.map(|(row, column)| format!("M{column} {row}h.6v.6h-.6z")).collect()
}

#[test]
fn thousands_of_shapes_over_the_back_are_counted_in_a_moment() {
    let can_mm = 2.0 * PI * 40.0;
    let art = PlacedArt {
        around: PI,
        ..path_art(&squares(200, 100), ArtSize::WidthMm(can_mm - 1.0), 90.0, 0.0)
    };
    let zone = zone(revolved(&CAN), drawn(art));
    let started = std::time::Instant::now();
    assert_eq!(zone.area.shapes(&zone.surface), 20_000);
    // Measured: some ms. It was 15 s when each was held against each.
    assert!(started.elapsed().as_secs_f64() < 2.0, "{:?}", started.elapsed());
}

#[test]
fn the_corners_of_all_copies_are_counted() {
    let art = |repeat: u32| PlacedArt {
        repeat,
        ..path_art(&squares(100, 40), ArtSize::WidthMm(60.0), 80.0, 0.0)
    };
    // 4000 squares have 16,000 corners; 25 copies have the 400,000 that are possible.
    let found = wrong(revolved(&CAN), drawn(art(26)));
    assert_eq!(found.len(), 1, "{found:?}");
    let (path, message) = &found[0];
    assert_eq!(path, "zone[0].art.repeat");
    assert!(message.contains("416000 corners, more than 400000"), "{message}");
    assert!(
        shape::shape(&piece_of(revolved(&CAN), vec![(drawn(art(25)), film())]), &studio()).is_ok()
    );
}

#[test]
fn shaping_stops_as_soon_as_it_is_told_and_complains_of_nothing() {
    let many = || drawn(path_art(DISC, ArtSize::WidthMm(20.0), 80.0, 0.0));
    let zones = (0..6).map(|_| (many(), film())).collect();
    let piece = piece_of(revolved(&CAN), zones);
    let mut asked: i32 = 0;
    let mut last = 0.0;
    let mut going = |share: f64| {
        assert!((last..=1.0).contains(&share), "{share} after {last}");
        (last, asked) = (share, asked + 1);
        true
    };
    assert!(shape::shape_while(&piece, &studio(), &mut going).is_ok());
    let whole = asked;
    assert!(whole >= 18, "{whole}");
    for most in 0..whole {
        let mut left = most;
        let mut going = |_: f64| {
            left -= 1;
            left >= 0
        };
        let stopped = shape::shape_while(&piece, &studio(), &mut going);
        assert_eq!(stopped.err(), Some(Vec::new()), "stopped after {most}");
        assert_eq!(left, -1, "asked again after it was stopped");
    }
}

#[test]
fn art_can_be_sized_by_its_share_of_the_way_round() {
    let size = ArtSize::RoundShare(0.25);
    let art = zone(revolved(&CUP), drawn(path_art("M0 0H40V10H0Z", size, 90.0, 0.4)));
    let extent = art.area.extent(&art.surface).expect("not empty");
    near(extent.around.1 - extent.around.0, 0.5 * PI, 1e-6);
    // Its radius there is 39 mm, and its proportions are kept.
    near(extent.height_mm, 0.25 * 0.5 * PI * 39.0, 1e-3);
}

#[test]
fn rows_of_copies_stand_below_each_other_or_half_a_step_aside() {
    let rows = |half_drop| piece::ArtRows { count: 3, apart_mm: 30.0, half_drop };
    let one = path_art(DISC, ArtSize::WidthMm(12.0), 50.0, 0.0);
    for half_drop in [false, true] {
        let art = PlacedArt { repeat: 4, rows: rows(half_drop), ..one.clone() };
        let zone = zone(revolved(&CAN), drawn(art.clone()));
        near(zone.area_mm2, 12.0 * PI * 36.0, 1.0);
        assert_eq!(zone.area.shapes(&zone.surface), 12);
        let field = shape::Field::new(&zone.surface, &zone.area);
        for (row, along) in [(0, 50.0), (1, 80.0), (2, 110.0)] {
            let shift = if half_drop && row == 1 { 0.25 * PI } else { 0.0 };
            for copy in 0..4 {
                let around = 0.5 * PI * f64::from(copy) + shift;
                let around = if around > PI { around - 2.0 * PI } else { around };
                assert!(field.contains(at(around.min(PI - 1e-3), along)));
                assert!(!field.contains(at(around - 0.25 * PI, along)));
            }
        }
        let middles = shape::copies(&art, &zone.surface);
        assert_eq!(middles.len(), 12);
        assert!(middles.iter().all(|middle| field.contains(*middle)));
    }
}

#[test]
fn a_row_past_the_foot_is_refused_where_the_rows_are_told() {
    let rows = piece::ArtRows { count: 4, apart_mm: 45.0, half_drop: true };
    let art = PlacedArt { rows, ..path_art(DISC, ArtSize::WidthMm(12.0), 50.0, 0.0) };
    let found = wrong(revolved(&CAN), drawn(art));
    assert_eq!(found[0].0, "zone[0].art.rows");
    assert!(found[0].1.contains("11.0 mm past the end"), "{}", found[0].1);
}
