//! Rows as one spiral.

use crate::support::{body, lay, rows};
use crate::{CONE, NARROWS, PITCH_MM, STRAIGHT, covers, laid_as, wall};
use piece::{Follow, Stagger, Taper};
use std::f64::consts::{PI, TAU};
use stones::{Stone, Stones};

/// Height of the straight cup, mm.
const HIGH_MM: f64 = 120.0;

/// Stones of a thread as it is wound: the angle from the back, counting turns, and along the wall.
fn unwound(stones: &Stones) -> Vec<(f64, &Stone)> {
    // The back itself is the beginning of a turn, whichever sign it has.
    let turn = |stone: &Stone| (stone.at.around + PI + 1e-6).rem_euclid(TAU) - 1e-6;
    let wound = |stone: &Stone| TAU * f64::from(stone.row - 1) + turn(stone);
    let mut found: Vec<_> = stones.stones.iter().map(|stone| (wound(stone), stone)).collect();
    found.sort_by(|a, b| a.0.total_cmp(&b.0));
    found
}

#[test]
fn a_spiral_on_a_straight_cup_is_a_helix_with_even_gaps() {
    let laid = laid_as(&wall(&STRAIGHT), Follow::Spiral, Stagger::Offset, Taper::Spread);
    let thread = unwound(&laid.stones);
    let radius = 37.4;
    // The lead is the way along the axis in one turn (ISO 5408), and that of rows that nest: in the
    // plane sqrt(p² - (s / 2)²), s the distance between two stones of a row (Pythagoras).
    let near = thread[0].1.centre_mm.distance(thread[1].1.centre_mm);
    let nested = (PITCH_MM * PITCH_MM - near * near / 4.0).sqrt();
    let turns = thread[thread.len() - 1].0 / TAU;
    let sunk = thread[thread.len() - 1].1.at.along_mm - thread[0].1.at.along_mm;
    let lead = sunk / turns;
    // From flush with the rim to flush with the foot in as many whole turns as nest; what is left is
    // shared by all of them.
    let way = HIGH_MM - 2.8;
    let shared = way / (way / nested).floor();
    eprintln!("lead {lead} mm, rows nest at {nested} mm, shared out {shared} mm");
    assert!((lead - shared).abs() < 0.005, "{lead} {shared}");
    // Both ends at the back, within a stone.
    assert!((turns - turns.round()).abs() * TAU * radius < PITCH_MM, "{turns} turns");
    assert!((thread[thread.len() - 1].1.at.along_mm - (HIGH_MM - 1.4)).abs() < 0.1);
    // A turn of a helix is sqrt((2 pi r)² + lead²) long.
    let long = turns * libm::hypot(TAU * radius, lead);
    let arc = 2.0 * radius * libm::asin(near / (2.0 * radius));
    let told = long / arc + 1.0;
    eprintln!("{} stones, a thread of {long} mm has room for {told}", thread.len());
    // A few more fill what is bare at the ends.
    let more = thread.len() as f64 - told;
    assert!((-1.5..4.0).contains(&more), "{} {told}", thread.len());
    // Even to 0.005 mm along the whole thread, but where one that fills an end comes between.
    let uneven = thread.windows(2).filter(|two| {
        let apart = two[0].1.centre_mm.distance(two[1].1.centre_mm);
        (apart - near).abs() >= 0.005
    });
    assert!(uneven.count() <= 4);
    // Flush with the rim.
    assert!((thread[0].1.at.along_mm - 1.4).abs() < 1e-3);
    // Half a turn at either end is bare, and what is left between the turns.
    let level = laid_as(&wall(&STRAIGHT), Follow::Level, Stagger::Offset, Taper::Spread);
    covers(&laid, 0.809);
    covers(&level, 0.831);
}

#[test]
fn an_aligned_spiral_on_a_straight_cup_lies_stone_under_stone() {
    let laid = laid_as(&wall(&STRAIGHT), Follow::Spiral, Stagger::Aligned, Taper::Spread);
    // A whole pitch between turns, and what is left shared by all (as in a helix between two levels).
    let shared = (HIGH_MM - 2.8) / ((HIGH_MM - 2.8) / PITCH_MM).floor();
    // Without the stones that fill the bare half turn at the rim.
    let on_thread = |(wound, stone): &(f64, &Stone)| {
        (stone.at.along_mm - 1.4 - shared * wound / TAU).abs() < 0.3
    };
    let thread: Vec<_> = unwound(&laid.stones).into_iter().filter(on_thread).collect();
    // floor(pi / asin(p / 2r)) stones to a turn (chord geometry).
    let ring = (PI / libm::asin(PITCH_MM / (2.0 * 37.4))).floor() as usize;
    let turn = |stone: &Stone| stone.at.around;
    let whole = thread.len() / ring - 1;
    for k in ring..whole * ring {
        let (above, here) = (thread[k - ring].1, thread[k].1);
        let aside = (turn(above) - turn(here)).rem_euclid(TAU);
        assert!(aside.min(TAU - aside) < 1e-9, "{above:?} {here:?}");
        let down = here.at.along_mm - above.at.along_mm;
        assert!((down - shared).abs() < 0.005, "{down} {shared}");
    }
}

#[test]
fn a_spiral_on_a_cone_sinks_all_the_way_and_covers_nearly_as_well_as_level_rows() {
    // Half a row is missing at either end, and more is lost where angles change and between whole turns
    // (own trials).
    for (cone, told, told_level) in [(CONE, 0.778, 0.812), (NARROWS, 0.792, 0.813)] {
        let laid = laid_as(&wall(&cone), Follow::Spiral, Stagger::Offset, Taper::Spread);
        let level = laid_as(&wall(&cone), Follow::Level, Stagger::Offset, Taper::Spread);
        covers(&laid, told);
        covers(&level, told_level);
        // Turn by turn along the thread; the last turn may have been filled up.
        let thread = unwound(&laid.stones);
        let last = laid.stones.stones.iter().map(|stone| stone.row).max().unwrap_or(0);
        let inner = thread.iter().filter(|(_, stone)| stone.row + 1 < last);
        let alongs: Vec<f64> = inner.map(|(_, stone)| stone.at.along_mm).collect();
        let rises = alongs.windows(2).filter(|two| two[1] < two[0]).count();
        // One that fills an end may come between.
        assert!(rises <= 2, "{rises} of {} stones rise", alongs.len());
    }
}

#[test]
fn smaller_stones_fill_the_wedges_at_both_ends_of_a_spiral() {
    let told = |pockets: &str| {
        let layers = format!(
            "[[zone]]\nname = \"wall\"\npart = \"body\"\ninset = \"0 mm\"\n[[zone.stones]]\n\
             layout = \"rows\"\nfollow = \"spiral\"\nsize = \"SS10\"\ncolour = \"ebb\"\n{pockets}"
        );
        lay(&body(&STRAIGHT, &layers))
    };
    let pockets = |sizes: &str| {
        format!("[[zone.stones]]\nlayout = \"pockets\"\nsizes = [ {sizes} ]\ncolour = \"foam\"\n")
    };
    let sizes = "{ size = \"SS8\" }, { size = \"SS6\" }, { size = \"SS5\" }";
    let (bare, filled) = (told(""), told(&pockets(sizes)));
    // Own trials: 0.809 and 0.818.
    covers(&bare, 0.809);
    covers(&filled, 0.818);
    // The wedges are one lead high, 2.55 mm, so all lie within two stones of an edge.
    let small = filled.stones.stones.iter().filter(|stone| stone.layer == 1);
    let from_edge_mm: Vec<f64> =
        small.map(|stone| stone.at.along_mm.min(HIGH_MM - stone.at.along_mm)).collect();
    assert!(from_edge_mm.len() > 40 && from_edge_mm.iter().all(|mm| *mm < 5.6));
    let edge = |laid: &crate::support::Laid| laid.stones.zones[0].quality.edge.expect("edges").bare;
    assert!(edge(&bare) > 0.4 && edge(&filled) < 0.1, "{} {}", edge(&bare), edge(&filled));
    // With a size that fits wherever a hole shows, none does.
    let finest = told(&pockets(&format!("{sizes}, {{ size = \"1.2 mm\" }}")));
    assert_eq!(finest.stones.zones[0].quality.wide_holes, Some(0));
}

#[test]
fn a_spiral_in_a_window_keeps_inside_it() {
    let region = "band = { from = \"10 mm\", to = \"70 mm\" }\nwindow = { from = \"-70 deg\", to = \"80 deg\" }";
    let text = body(&STRAIGHT, &rows("wall", region, "level", "SS10", 0.1));
    let laid = laid_as(&text, Follow::Spiral, Stagger::Offset, Taper::Spread);
    assert!(laid.stones.zones[0].coverage > 0.74, "{}", laid.stones.zones[0].coverage);
}

#[test]
fn a_spiral_comes_down_a_wall_that_narrows_by_more_than_half() {
    for size in ["SS6", "SS30"] {
        let measures = [(0.0, 50.0), (25.0, 26.0), (70.0, 9.0)];
        let text = body(&measures, &rows("wall", "inset = \"0 mm\"", "level", size, 0.1));
        for stagger in [Stagger::Offset, Stagger::Aligned] {
            let laid = laid_as(&text, Follow::Spiral, stagger, Taper::Spread);
            let deepest = laid.stones.stones.iter().map(|stone| stone.at.along_mm);
            // Within two rows of the foot, but for where too few stones go round for a thread.
            assert!(deepest.fold(0.0, f64::max) > 40.0, "{size} {stagger:?}");
        }
    }
}
