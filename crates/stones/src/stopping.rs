//! Whatever is being laid, a stop is answered after little more work: counted in steps, not in time.

use crate::lay_stones_shown;
use crate::steps::done;
use piece::{Piece, Settings};
use shape::{Shape, shape};
use std::cell::RefCell;

/// Work that may be done between two questions and after a stop, in looks at neighbours, edges and pairs
/// of rows. A million of them take about a second.
const LITTLE: u64 = 100_000;
/// More of it while windows about wide holes are tried side by side, all of them between two questions.
const FOR_WINDOWS: u64 = 100_000;
/// Moments at which each piece is stopped.
const MOMENTS: usize = 4;

/// A body of 260 mm girth with zones.
fn body(curve: &str, zones: &str) -> Piece {
    let text = format!(
        "cupwright = 1\ntitle = \"Stopped\"\n[colours]\n\"ebb\" = \"#1f6f78\"\n\"foam\" = \"#e8eef0\"\n\
         [[part]]\nname = \"body\"\nrevolved = [ {{ along = \"0 mm\", radius = \"45 mm\" }}, \
         {{ along = \"170 mm\", radius = \"36 mm\"{curve} }} ]\n{zones}"
    );
    text.parse().unwrap_or_else(|faults| panic!("{faults:?}"))
}

fn zone(region: &str, stones: &str) -> String {
    let name = region.bytes().fold(0_u32, |sum, byte| sum.wrapping_mul(31) + u32::from(byte));
    format!("[[zone]]\nname = \"z{name}\"\npart = \"body\"\n{region}\n{stones}\n")
}

fn whole(stones: &str) -> String {
    zone("band = { from = \"5 mm\", to = \"165 mm\" }", &format!("stones = {{ {stones} }}"))
}

/// Lays a piece with a look at each question: how much work was done before it. The work after the last
/// question, and the questions.
fn laid(piece: &Piece, shape: &Shape, stop_at: usize) -> (u64, Vec<u64>) {
    let asked: RefCell<Vec<u64>> = RefCell::new(Vec::new());
    let pool = rayon::ThreadPoolBuilder::new().num_threads(1).build().expect("a thread");
    let asked = pool.install(|| {
        let mut asked = asked.into_inner();
        let begun = done();
        let mut going = |_: f64| {
            asked.push(done() - begun);
            asked.len() <= stop_at
        };
        let laid = lay_stones_shown(piece, shape, &Settings::demo(), &mut going, &mut |_| {});
        assert_eq!(laid.is_err(), asked.len() > stop_at);
        asked.push(done() - begun);
        asked
    });
    let after = asked[asked.len() - 1] - asked[asked.len() - 2];
    (after, asked)
}

fn is_stopped_soon(told: &str, piece: &Piece) {
    let shape = shape(piece, &Settings::demo()).expect("a shape");
    let (_, asked) = laid(piece, &shape, usize::MAX);
    let little = if told == "free choice" { LITTLE + FOR_WINDOWS } else { LITTLE };
    let longest = asked.windows(2).map(|pair| pair[1] - pair[0]).max().unwrap_or(0);
    let at = asked.windows(2).position(|pair| pair[1] - pair[0] == longest).unwrap_or(0);
    let all = asked[asked.len() - 1];
    println!("{told}: {all} steps, {} questions, longest {longest} at {at}", asked.len());
    assert!(all > 2 * LITTLE, "{told}: {all} steps are nothing to stop");
    assert!(longest < little, "{told}: {longest} steps without a question, from {at} on");
    for moment in 0..MOMENTS {
        let stop_at = (asked.len() - 2) * moment / MOMENTS;
        let (after, _) = laid(piece, &shape, stop_at);
        assert!(after < little, "{told}: {after} steps after a stop at question {stop_at}");
    }
}

#[test]
fn rows_are_stopped_soon() {
    for (told, keys) in [
        ("level", "size = \"SS5\", colours = [ \"ebb\", \"foam\" ]"),
        ("aligned", "size = \"SS5\", stagger = \"aligned\", colour = \"ebb\""),
        (
            "wedge",
            "sizes = [ { size = \"SS6\" }, { size = \"1.2 mm\" } ], taper = \"wedge\", colour = \"ebb\"",
        ),
        ("spiral", "size = \"SS5\", follow = \"spiral\", colour = \"ebb\""),
        ("edge", "size = \"SS6\", follow = \"edge\", colour = \"ebb\""),
        (
            "edge aligned",
            "size = \"SS6\", follow = \"edge\", stagger = \"aligned\", colour = \"ebb\"",
        ),
    ] {
        let piece = body("", &whole(&format!("layout = \"rows\", {keys}")));
        is_stopped_soon(told, &piece);
    }
}

#[test]
fn other_layouts_are_stopped_soon() {
    for (told, keys) in [
        ("rings", "layout = \"rings\", size = \"SS8\", colour = \"ebb\""),
        ("outline", "layout = \"outline\", rows = 12, size = \"SS5\", colour = \"ebb\""),
        ("sparse", "layout = \"sparse\", size = \"SS5\", apart = \"3 mm\", colour = \"ebb\""),
        (
            "sparse, so many",
            "layout = \"sparse\", size = \"SS5\", apart = \"3 mm\", density = \"6 per cm2\", colour = \"ebb\"",
        ),
        (
            "scatter",
            "layout = \"scatter\", rounds = 2, sizes = [ { size = \"SS8\" }, { size = \"SS5\" } ], colour = \"ebb\"",
        ),
        (
            "free choice",
            "layout = \"scatter\", blend = \"free\", rounds = 3, colour = \"ebb\", \
             sizes = [ { size = \"SS16\" }, { size = \"SS8\" }, { size = \"SS5\" } ]",
        ),
        (
            "gradient",
            "layout = \"rows\", size = \"SS6\", colours = [ \"ebb\", \"foam\" ], \
             gradient = { wall = [\"20 mm\", \"150 mm\"] }",
        ),
    ] {
        let piece = body("", &whole(keys));
        is_stopped_soon(told, &piece);
    }
}

#[test]
fn joined_stacks_on_a_curved_wall_are_stopped_soon() {
    let half = |from: u32, to: u32| {
        zone(
            &format!(
                "band = {{ from = \"5 mm\", to = \"165 mm\" }}\n\
                 window = {{ from = \"{from} deg\", to = \"{to} deg\" }}"
            ),
            "stone_rules = { straddle = true }\n\
             [[zone.stones]]\nlayout = \"outline\"\nsize = \"SS6\"\ncolour = \"foam\"\n\
             [[zone.stones]]\nlayout = \"rows\"\nsize = \"SS10\"\ncolour = \"ebb\"\n\
             [[zone.stones]]\nlayout = \"pockets\"\nsize = \"1.2 mm\"\ncolour = \"foam\"",
        )
    };
    let piece = body(", run = \"smooth\"", &(half(0, 180) + &half(180, 360)));
    is_stopped_soon("joined", &piece);
}
