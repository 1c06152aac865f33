//! Film beneath other film: edge to edge, run on under it, kept back from it.
//!
//! Areas on flat parts are compared with those of Shapely 2.2.0 on GEOS 3.14.1 (union, difference and
//! buffer of the same polygons, 256 steps to a quarter circle), worked out for these tests.

use crate::support::*;
use ::piece::*;
use shape::{ZoneShape, shape};

fn joined(join: FilmJoin, trap_mm: f64) -> Finish {
    let cut = FilmCut { join, trap_mm: Some(trap_mm), ..FilmCut::PLAIN };
    Finish::Vinyl { colour: 0, cut }
}

fn plate() -> Form {
    Form::Flat(Outline::Rectangle { width_mm: 120.0, height_mm: 120.0, corner_mm: 0.0 })
}

/// A bar of 60 by 10 mm and a bend over it, on a plate: both zones of film.
fn bar_and_bend(join: FilmJoin, trap_mm: f64) -> Vec<ZoneShape> {
    let bar = path_art("M-30-8H30V8H-30Z", ArtSize::WidthMm(60.0), 0.0, 0.0);
    let bend = path_art("M-10-15H10V3H25V15H-10Z", ArtSize::WidthMm(35.0), 0.0, 7.5);
    let zones = vec![(drawn(bar), film()), (drawn(bend), joined(join, trap_mm))];
    shaped(plate(), zones).zones
}

#[test]
fn film_beneath_ends_as_the_join_says_and_the_upper_film_keeps_its_outline() {
    for (join, trap_mm, beneath) in [
        (FilmJoin::Whole, 0.3, 960.0),
        (FilmJoin::Butt, 0.3, 565.0),
        (FilmJoin::Overlap, 0.3, 579.465),
        (FilmJoin::Overlap, 1.0, 615.865),
        (FilmJoin::Choke, 0.3, 959.717),
        (FilmJoin::Choke, 1.0, 956.858),
    ] {
        let zones = bar_and_bend(join, trap_mm);
        near(zones[0].area_mm2, beneath, 0.02);
        near(zones[1].area_mm2, 780.0, 0.001);
    }
}

#[test]
fn edge_to_edge_leaves_neither_a_gap_nor_film_on_film() {
    let zones = bar_and_bend(FilmJoin::Butt, 0.3);
    // Union of both by Shapely: 1345 mm².
    near(zones[0].area_mm2 + zones[1].area_mm2, 1345.0, 0.001);
    // Nothing lies beneath the upper film any more.
    near(zones[1].below_mm, 0.0, 1e-6);
    assert!(bar_and_bend(FilmJoin::Whole, 0.3)[1].below_mm > 0.03);
}

#[test]
fn halves_that_only_touch_run_under_each_other_by_the_trap() {
    let half = |data: &str, around: f64| path_art(data, ArtSize::WidthMm(20.0), 0.0, around);
    let halves = |join| {
        let left = half("M0-20A20 20 0 0 0 0 20Z", -10.0);
        let right = half("M0-20A20 20 0 0 1 0 20Z", 10.0);
        shaped(plate(), vec![(drawn(left), film()), (drawn(right), joined(join, 0.5))]).zones
    };
    near(halves(FilmJoin::Whole)[0].area_mm2, 628.317, 0.1);
    near(halves(FilmJoin::Overlap)[0].area_mm2, 648.315, 0.12);
    near(halves(FilmJoin::Overlap)[1].area_mm2, 628.317, 0.1);
}

#[test]
fn a_base_of_the_same_outline_keeps_back_all_round() {
    // A disc of 20 mm radius: pi 19.5², by Shapely 1194.59 mm².
    let disc =
        || path_art("M-20 0A20 20 0 0 1 20 0A20 20 0 0 1-20 0Z", ArtSize::WidthMm(40.0), 0.0, 0.0);
    let zones = vec![(drawn(disc()), film()), (drawn(disc()), joined(FilmJoin::Choke, 0.5))];
    near(shaped(plate(), zones).zones[0].area_mm2, 1194.59, 0.15);
    // Edge to edge nothing is left of it.
    let zones = vec![(drawn(disc()), film()), (drawn(disc()), joined(FilmJoin::Butt, 0.5))];
    let wrong = shape(&piece_of(plate(), zones), &studio()).expect_err("nothing left");
    assert_eq!(wrong[0].path.0, "zone[1].vinyl.join");
    assert!(wrong[0].message.contains("`zone-0` beneath that of `zone-1`"), "{wrong:?}");
}

#[test]
fn on_a_cone_a_trap_is_as_wide_round_the_back_as_in_front() {
    // A ring of 40 mm along the wall and a square over its middle, in front and across the back.
    let (mut areas, trap) = (Vec::new(), 0.6);
    for around in [0.0, std::f64::consts::PI] {
        let square = path_art("M0 0H20V20H0Z", ArtSize::WidthMm(20.0), 90.0, around);
        let of = |join| {
            let ring = band(level(70.0), level(110.0));
            let zones = vec![(ring, film()), (drawn(square.clone()), joined(join, trap))];
            shaped(revolved(&CUP), zones).zones[0].area_mm2
        };
        // The film beneath runs on under an edge of 80 mm: trap times edge less four corners.
        areas.push(of(FilmJoin::Overlap) - of(FilmJoin::Butt));
    }
    near(areas[0], 80.0 * trap - 4.0 * trap * trap, 0.1);
    near(areas[0], areas[1], 0.01);
}

#[test]
fn letters_that_are_cut_out_of_a_ground_leave_no_hairs() {
    // The same word twice, the lower one a hair larger: what is left of it is no ring of hairs.
    let word = |mm: f64| drawn(lettering("Ebb", "rubik-bold", ArtSize::HeightMm(mm), 90.0));
    let zones = vec![(word(20.05), film()), (word(20.0), joined(FilmJoin::Butt, 0.3))];
    let wrong = shape(&piece_of(revolved(&CUP), zones), &studio()).expect_err("nothing left");
    assert!(wrong[0].message.starts_with("nothing is left"), "{wrong:?}");
}
