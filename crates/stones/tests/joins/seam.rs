//! Nothing shows at the back, where a part is cut to unroll.

use crate::support::{Laid, body, lay, rows};
use crate::{CUP, STRAIGHT, blend, mean_and_error, windowed};
use std::f64::consts::{PI, TAU};
use stones::Stone;

/// Rows repeat all round, so that chance has no say: what differs by less than this, in share of cover or
/// mm of gap, nobody sees (a thirtieth of the hand's gap).
const UNSEEN: f64 = 0.001;

/// A closed band with a wavy edge, filled in one way; the trial turns the wave and chooses the chance.
fn closed(layout: &str, wall: &[(f64, f64)], trial: u32) -> Laid {
    let region = format!(
        "band = {{ from = {{ along = \"18 mm\", wave = \"sine\", amplitude = \"2 mm\", count = 18, \
         crest = \"{} deg\" }}, to = \"48 mm\" }}",
        7 * trial
    );
    let text = format!(
        "[[zone]]\nname = \"tide\"\npart = \"body\"\n{region}\nstones = {{ {layout}, colour = \"ebb\" }}\n"
    );
    lay(&body(wall, &text).replace("seed = 11", &format!("seed = {}", 20 + trial)))
}

/// Of a window of 20 degrees about so many degrees from the front: the share of it under stones, counted on a grid,
/// and the mean gap of the stones with their middles in it to the nearest other.
fn window(laid: &Laid, middle_deg: f64) -> (f64, f64) {
    let surface = &laid.shape.zones[0].surface;
    let stones = &laid.stones.stones;
    let turn = |around: f64| (around - middle_deg.to_radians() + PI).rem_euclid(TAU) - PI;
    let near: Vec<&Stone> =
        stones.iter().filter(|stone| turn(stone.at.around).abs() < 0.45).collect();
    let half = 10_f64.to_radians();
    let (mut covered, mut points) = (0, 0);
    for row in 0..160 {
        for column in 0..80 {
            let around = middle_deg.to_radians() + half * ((f64::from(column) + 0.5) / 40.0 - 1.0);
            let along_mm = 16.0 + 32.0 * (f64::from(row) + 0.5) / 160.0;
            let place = surface.world_from_surface(shape::SurfacePoint { around, along_mm });
            points += 1;
            covered += usize::from(
                near.iter().any(|stone| stone.centre_mm.distance(place) < stone.diameter_mm / 2.0),
            );
        }
    }
    let gaps: Vec<f64> = near
        .iter()
        .filter(|stone| turn(stone.at.around).abs() < half)
        .map(|stone| {
            let clear = |other: &&&Stone| {
                other.centre_mm.distance(stone.centre_mm)
                    - (other.diameter_mm + stone.diameter_mm) / 2.0
            };
            let others = near.iter().filter(|other| **other != *stone);
            others.map(|other| clear(&other)).fold(f64::MAX, f64::min)
        })
        .collect();
    (covered as f64 / f64::from(points), gaps.iter().sum::<f64>() / gaps.len() as f64)
}

#[test]
fn nothing_shows_at_the_back() {
    for (layout, wall) in [
        ("layout = \"rows\", size = \"SS10\"", STRAIGHT),
        ("layout = \"rows\", size = \"SS10\"", CUP),
        ("layout = \"rows\", follow = \"edge\", size = \"SS10\"", CUP),
        ("layout = \"rings\", size = \"SS8\"", CUP),
        ("layout = \"outline\", rows = 3, size = \"SS8\"", CUP),
        ("layout = \"sparse\", apart = \"5 mm\", size = \"SS10\"", CUP),
        (
            "layout = \"scatter\", sizes = [ { size = \"SS10\", share = \"40 %\" }, \
             { size = \"SS6\", share = \"60 %\" } ]",
            CUP,
        ),
    ] {
        let (mut back, mut elsewhere) = ((vec![], vec![]), (vec![], vec![]));
        for trial in 0..5 {
            let laid = closed(layout, &wall, trial);
            // One wave to each window, so that they are alike.
            for number in 0..18 {
                let middle_deg = 180.0 + 20.0 * f64::from(number);
                let to = if number == 0 { &mut back } else { &mut elsewhere };
                let (covered, gap_mm) = window(&laid, middle_deg);
                to.0.push(covered);
                to.1.push(gap_mm);
            }
        }
        // Five windows at the back against 85 others: as spread as those are, the mean of five strays by
        // their standard deviation over the root of five. Beyond 3.3 of it chance goes once in a thousand
        // times. A seam of half a stone's width all along would take 1.4 mm of 14, a tenth of the cover.
        for (name, back, elsewhere) in
            [("cover", &back.0, &elsewhere.0), ("gap", &back.1, &elsewhere.1)]
        {
            let ((at, _), (mean, error)) = (mean_and_error(back), mean_and_error(elsewhere));
            let spread = error * (elsewhere.len() as f64).sqrt();
            let stray = (at - mean) / (spread / 5_f64.sqrt()).max(UNSEEN);
            assert!(stray.abs() < 3.3, "{layout}: {name} {at} at the back, {mean} ± {spread}");
            assert!(spread < 0.35 * mean, "{layout}: {name} {mean} ± {spread} tells nothing");
        }
    }
}

#[test]
fn a_zone_across_the_back_is_the_one_in_front_turned_round() {
    // A half turn is a whole number of steps of the grid on which areas are drawn.
    for follow in ["level", "edge"] {
        let of = |from_deg: f64, to_deg: f64| {
            let zone = rows("tide", &windowed(20.0, 60.0, from_deg, to_deg), follow, "SS10", 0.1);
            lay(&body(&CUP, &zone))
        };
        let (back, front) = (of(100.0, 260.0), of(-80.0, 80.0));
        assert_eq!(back.stones.stones.len(), front.stones.stones.len(), "{follow}");
        for stone in &front.stones.stones {
            let turned =
                glam::DVec3::new(-stone.centre_mm.x, -stone.centre_mm.y, stone.centre_mm.z);
            let others = back.stones.stones.iter();
            let away =
                others.map(|other| other.centre_mm.distance(turned)).fold(f64::MAX, f64::min);
            assert!(away < 1e-3, "{follow}: {away} mm from {stone:?}");
        }
    }
    for seed in ["11", "12", "13"] {
        let of = |from_deg: f64, to_deg: f64| {
            let zone = blend("tide", &windowed(20.0, 60.0, from_deg, to_deg));
            lay(&body(&CUP, &zone).replace("seed = 11", &format!("seed = {seed}"))).stones.zones[0]
                .coverage
        };
        let (back, front) = (of(100.0, 260.0), of(-80.0, 80.0));
        assert!((back - front).abs() < 0.005, "{back} at the back, {front} in front");
    }
}
