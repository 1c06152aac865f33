//! How long a drawing of 10,000 segments takes to be read, cleaned and placed: `cargo bench -p shape`.
//!
//! Prints the least of several rounds in ms. The same is asked for in all ways that art can lie, for
//! one layer of two, and with a border.

use piece::{ArtOutline, ArtSize, Lie, NoArt, PlacedArt, Settings, Source, read_piece};
use std::fmt::Write as _;
use std::hint::black_box;
use std::time::Instant;

const ROUNDS: usize = 15;
const SHAPES: usize = 100;
const SEGMENTS: usize = 100;

/// Reeds in two colours: shapes of straight and curved segments that lie on each other.
fn drawing() -> String {
    let mut text = "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 100 100'>".to_owned();
    for shape in 0..SHAPES {
        let colour = ["#12343b", "#c9b28f"][shape * 2 / SHAPES];
        let (x, y) = ((shape % 10 * 10) as f64, (shape / 10 * 10) as f64);
        write!(text, "<path fill='{colour}' d='M{} {}", x + 12.0, y + 6.0).expect("a string");
        for step in 1..SEGMENTS {
            let angle = step as f64 / SEGMENTS as f64 * std::f64::consts::TAU;
            let radius = 5.0 + libm::sin(12.0 * angle);
            let at = (x + 6.0 + radius * libm::cos(angle), y + 6.0 + radius * libm::sin(angle));
            if step % 2 == 0 {
                write!(text, "L{} {}", at.0, at.1).expect("a string");
            } else {
                write!(text, "Q{} {} {} {}", at.0 + 0.1, at.1, at.0, at.1).expect("a string");
            }
        }
        text += "Z'/>";
    }
    text + "</svg>"
}

fn main() {
    let source = Source::new("bench.toml", include_str!("../../../examples/heron-low-tide.toml"));
    let mut piece = read_piece(&source, &NoArt).value.expect("the demo piece is well described");
    let mut zone = piece.zones[0].clone();
    zone.region.leave_out.clear();
    let settings = Settings::demo();
    let art = |layer: Option<&str>| {
        let (text, layer) = (drawing().into(), layer.map(str::to_owned));
        piece::Art::Svg { file: "reeds.svg".to_owned(), text, layer }
    };
    let plain = PlacedArt::new(art(None), ArtSize::WidthMm(90.0), 85.0, 0.0);
    let border = Some(ArtOutline { width_mm: 0.5, only: false });
    let ways = [
        ("level", plain.clone()),
        ("straight", PlacedArt { lie: Lie::Straight, ..plain.clone() }),
        ("rising", PlacedArt { lie: Lie::Rising { rise_rad: 0.1 }, ..plain.clone() }),
        ("layer", PlacedArt { art: art(Some("#12343b")), ..plain.clone() }),
        ("border", PlacedArt { outline: border, ..plain }),
    ];
    println!("{} segments in {SHAPES} shapes", SHAPES * SEGMENTS);
    for (name, art) in ways {
        zone.region.art = Some(art);
        piece.zones = vec![zone.clone()];
        let times: Vec<f64> = (0..ROUNDS)
            .map(|_| {
                let begin = Instant::now();
                black_box(shape::shape(&piece, &settings)).expect("the drawing can be placed");
                begin.elapsed().as_secs_f64() * 1000.0
            })
            .collect();
        let least = times.into_iter().fold(f64::INFINITY, f64::min);
        println!("{name:<10} {least:>8.2} ms");
    }
}
