//! How long a drawing of 10,000 segments takes to be read, cleaned and placed: `cargo bench -p shape`.
//!
//! Each round goes from the text of the piece file and of the drawing to the zone on the cup, in several
//! ways that art can lie. Beside it stands how long usvg alone takes to read the drawing.

use piece::read::{Art, Pixels, Unread};
use piece::{Settings, Source, read_piece};
use std::fmt::Write as _;
use std::hint::black_box;
use std::sync::Arc;
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

/// Least and middle of several rounds, ms.
fn rounds(mut work: impl FnMut()) -> (f64, f64) {
    let mut times: Vec<f64> = (0..ROUNDS)
        .map(|_| {
            let begin = Instant::now();
            work();
            begin.elapsed().as_secs_f64() * 1000.0
        })
        .collect();
    times.sort_by(f64::total_cmp);
    (times[0], times[ROUNDS / 2])
}

/// A drawing that lies beside a piece file.
struct Beside(Arc<str>);

impl Art for Beside {
    fn svg(&self, _: &str) -> Result<Arc<str>, Unread> {
        Ok(self.0.clone())
    }

    fn font(&self, _: &str) -> Result<Arc<[u8]>, Unread> {
        Err(Unread::not_there("there is none"))
    }

    fn pixels(&self, _: &str) -> Result<Pixels, Unread> {
        Err(Unread::not_there("there is none"))
    }
}

/// A piece file with one zone whose art says this.
fn piece_file(art: &str) -> String {
    let cup = include_str!("../../../examples/heron-low-tide.toml");
    let (parts, _) = cup.split_once("[[zone]]").expect("zones come last");
    format!(
        "{parts}\n[[zone]]\nname = \"reeds\"\npart = \"body\"\nart = {{ file = \"reeds.svg\", width = \"90 mm\", along = \"85 mm\"{art} }}\npaint = {{ colour = \"marsh night\" }}\n"
    )
}

fn main() {
    let beside = Beside(drawing().into());
    let settings = Settings::demo();
    println!(
        "{} segments in {SHAPES} shapes: least and middle of {ROUNDS} rounds",
        SHAPES * SEGMENTS
    );
    let told = |name: &str, (least, middle): (f64, f64)| {
        println!("{name:<24} {least:>8.2} ms {middle:>8.2} ms");
    };
    told(
        "usvg alone, reading",
        rounds(|| {
            let tree = usvg::Tree::from_str(&beside.0, &usvg::Options::default());
            black_box(tree).expect("an SVG file");
        }),
    );
    for (name, art) in [
        ("level", ""),
        ("straight", ", lie = \"straight\""),
        ("one layer", ", layer = \"#12343b\""),
        ("border", ", outline = \"0.5 mm\""),
    ] {
        let text = piece_file(art);
        let read = || {
            let reading = read_piece(&Source::new("bench.toml", text.clone()), &beside);
            reading.value.unwrap_or_else(|| panic!("{:?}", reading.diagnostics))
        };
        let taken = rounds(|| {
            black_box(shape::shape(&read(), &settings)).expect("the drawing can be placed");
        });
        told(name, taken);
    }
}
