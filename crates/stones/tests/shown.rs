//! Stones are shown while they are laid: at once, and again whenever they lie closer.

mod support;

use piece::{Layout, Settings};
use shape::shape;
use stones::{Stone, lay_stones, lay_stones_shown};
use support::{Laid, band, body, check_pairs, laid_out, lay_as, read, scatter};

const CONE: &[(f64, f64)] = &[(0.0, 44.0), (60.0, 36.0)];
const BLEND: &[(&str, f64)] = &[("SS10", 40.0), ("SS8", 30.0), ("SS6", 30.0)];

fn text() -> String {
    body(CONE, &scatter("ground", &band(8.0, 40.0), BLEND, 0.1))
}

fn squares_mm2(stones: &[Stone]) -> f64 {
    stones.iter().map(|stone| stone.diameter_mm * stone.diameter_mm).sum()
}

#[test]
fn a_sound_layout_is_shown_at_once_and_closer_ones_after_it() {
    let piece = read(&text());
    let shape = shape(&piece, &Settings::demo()).expect("a body");
    let mut shown: Vec<Vec<Stone>> = Vec::new();
    let mut show = |stones: &[Stone]| shown.push(stones.to_vec());
    let last = lay_stones_shown(&piece, &shape, &Settings::demo(), &mut |_| true, &mut show)
        .expect("room");
    assert!(shown.len() > 2, "{} layouts shown", shown.len());
    for pair in shown.windows(2) {
        assert!(squares_mm2(&pair[1]) > squares_mm2(&pair[0]));
    }
    // Sharing out the last wide holes may cost a little of what is covered.
    let (end, before) = (squares_mm2(&last.stones), squares_mm2(shown.last().expect("shown")));
    assert!(end >= 0.998 * before, "{end} after {before}");
    // To look on changes nothing.
    let alone = lay_stones(&piece, &shape, &Settings::demo(), &mut |_| true).expect("room");
    assert_eq!(alone, last);
    for stones in shown {
        let mut laid = Laid { piece: piece.clone(), shape: shape.clone(), stones: last.clone() };
        laid.stones.stones = stones;
        check_pairs(&laid, 0.1);
    }
}

#[test]
fn what_was_shown_before_a_stop_is_whole() {
    let piece = read(&text());
    let shape = shape(&piece, &Settings::demo()).expect("a body");
    let seen = std::sync::atomic::AtomicUsize::new(0);
    let mut counts = Vec::new();
    let mut show = |stones: &[Stone]| {
        seen.fetch_add(1, std::sync::atomic::Ordering::Relaxed);
        counts.push(stones.len());
    };
    let mut going = |_| seen.load(std::sync::atomic::Ordering::Relaxed) < 2;
    let stopped = lay_stones_shown(&piece, &shape, &Settings::demo(), &mut going, &mut show);
    assert_eq!(stopped.expect_err("stopped"), Vec::new());
    assert_eq!(counts.len(), 2);
    // A cone of 80 cm² takes about so many (area of circles over three quarters of it).
    assert!(counts.iter().all(|count| *count > 1000), "{counts:?}");
}

#[test]
fn more_rounds_press_closer_and_none_is_the_draft() {
    let covered = |rounds| {
        let laid = lay_as(&text(), laid_out(Layout::Scatter { rounds }));
        check_pairs(&laid, 0.1);
        laid.stones.zones[0].coverage
    };
    let (draft, few, many) = (covered(Some(0)), covered(Some(4)), covered(Some(24)));
    assert!(draft < few && few < many, "{draft} {few} {many}");
    // Random packing of discs of one size covers about 0.826 (Atkinson, Stillinger, Torquato 2014);
    // grown by half the gap these come near it, but for what the edges cost.
    let wider = (2.4 + 0.1) / 2.4;
    let grown = many * wider * wider;
    assert!((0.81..0.86).contains(&grown), "{grown}");
}
