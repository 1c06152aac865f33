//! Prints how well stones fill the trial regions, and how fast: a draft, what a piece gets, and a
//! longer squeeze. `bench ROUNDS PART [SVG]` does one number of rounds on the regions whose name
//! holds PART and draws the last of them.

mod regions;

use piece::Blend;
use regions::Region;
use std::fmt::Write as _;
use std::time::Instant;
use stones::fill::{Engine, Ground, Order, Spot};
use stones::pack::{Pack, voids_wider_than};

/// Sizes (mm) and shares by count.
type Sizes = &'static [(f64, f64)];

const ONE: Sizes = &[(2.8, 1.0)];
const BLEND: Sizes = &[(2.8, 0.4), (2.4, 0.3), (2.0, 0.3)];
const WIDE: Sizes = &[
    (6.4, 0.125),
    (4.7, 0.125),
    (3.9, 0.125),
    (3.1, 0.125),
    (2.8, 0.125),
    (2.4, 0.125),
    (2.0, 0.125),
    (1.8, 0.125),
];
/// Holes wider than this show, mm.
const VOID_MM: f64 = 1.7;

fn measure(
    region: &Region,
    name: &str,
    blend: Blend,
    sizes: Sizes,
    rounds: Option<u32>,
    svg: Option<&str>,
) {
    let zone = &region.shape.zones[0];
    let field = shape::Field::new(&zone.surface, &zone.area);
    let order = Order {
        sizes: sizes.to_vec(),
        gap_mm: 0.1,
        layout: piece::Layout::Scatter { rounds },
        blend,
        grade: None,
        most: Vec::new(),
        seed: [1, 7],
    };
    let ground = Ground::new(&zone.surface, &field, &zone.area, &[]).expect("a region");
    let (start, busy) = (Instant::now(), busy_s());
    let spots = Pack.fill(&ground, &order, &mut |_| true);
    let seconds = start.elapsed().as_secs_f64();
    let busy = busy_s() - busy;
    let square = |spot: &Spot| sizes[spot.size].0 * sizes[spot.size].0;
    let coverage =
        std::f64::consts::PI / 4.0 * spots.iter().map(square).sum::<f64>() / zone.area_mm2;
    // A stone counts as one, or with its area where shares are those of the area.
    let counts = |spot: &Spot| if blend == Blend::Area { square(spot) } else { 1.0 };
    let all: f64 = spots.iter().map(counts).sum();
    let off = (0..sizes.len())
        .map(|size| spots.iter().filter(|spot| spot.size == size).map(counts).sum::<f64>() / all)
        .zip(sizes)
        .map(|(is, (_, share))| (is - share).abs())
        .fold(0.0, f64::max);
    let voids = voids_wider_than(&ground, &order, &spots, VOID_MM);
    println!(
        "{:8} {:6} {:>7} rounds {:7} stones  {:.4} covered  {:8.3} s wall {:8.3} s busy  \
         {:5.2} voids in 1000  shares within {:.2} %",
        region.name,
        name,
        rounds.map_or("default".to_owned(), |rounds| rounds.to_string()),
        spots.len(),
        coverage,
        seconds,
        busy,
        1000.0 * voids as f64 / spots.len() as f64,
        100.0 * off
    );
    let sizes_laid: Vec<usize> = (0..sizes.len())
        .map(|size| spots.iter().filter(|spot| spot.size == size).count())
        .collect();
    println!("{:56} of each size {sizes_laid:?}", "");
    if let Some(path) = svg {
        std::fs::write(path, drawn(&zone.surface, &spots, sizes)).expect("a path to write to");
    }
}

/// Processor time of this process so far, all threads, s (0 where the system does not tell).
fn busy_s() -> f64 {
    let text = std::fs::read_to_string("/proc/self/stat").unwrap_or_default();
    let after = text.rsplit(')').next().unwrap_or_default();
    let ticks: Vec<f64> =
        after.split_whitespace().skip(11).take(2).filter_map(|t| t.parse().ok()).collect();
    ticks.iter().sum::<f64>() / 100.0
}

/// The layout unrolled, one colour for each size.
fn drawn(surface: &shape::Surface, spots: &[Spot], sizes: Sizes) -> String {
    const COLOURS: [&str; 8] =
        ["#2a5d84", "#d8a13c", "#b54a4a", "#5b8c5a", "#7d5ba6", "#333333", "#999999", "#e377c2"];
    let sheet = surface.sheet(0);
    let (low, high) = sheet.extent_mm();
    let size = high - low;
    let mut out = format!(
        "<svg xmlns='http://www.w3.org/2000/svg' viewBox='{} {} {} {}' width='{}' height='{}'>",
        low.x,
        low.y,
        size.x,
        size.y,
        8.0 * size.x,
        8.0 * size.y
    );
    for spot in spots {
        let at = sheet.sheet_from_surface(spot.at);
        let radius = sizes[spot.size].0 / 2.0;
        let colour = COLOURS[spot.size % COLOURS.len()];
        let _ = write!(
            out,
            "<circle cx='{:.3}' cy='{:.3}' r='{radius}' stroke='none' fill='{colour}'/>",
            at.x, at.y
        );
    }
    out.push_str("</svg>");
    out
}

/// Rounds of the longer squeeze on a region of about 5,000 stones and on a small one.
const LONGER: (u32, u32) = (60, 150);
/// Larger strips: times as long and high, rounds of the squeeze.
const LARGE: [(f64, u32); 3] = [(2.0, 12), (4.7, 12), (14.9, 6)];

fn main() {
    let mut args = std::env::args().skip(1);
    let rounds: Option<u32> = args.next().and_then(|text| text.parse().ok());
    let part = args.next().unwrap_or_default();
    let svg = args.next();
    for region in [regions::strip(1.0), regions::wavy(), regions::annulus()] {
        for (name, sizes, blend) in [
            ("blend", BLEND, Blend::Count),
            ("wide", WIDE, Blend::Count),
            ("area", WIDE, Blend::Area),
            ("free", WIDE, Blend::Free),
            ("one", ONE, Blend::Count),
        ] {
            if !format!("{}-{name}", region.name).contains(&part) {
                continue;
            }
            let longer = if region.name == "annulus" { LONGER.1 } else { LONGER.0 };
            let all = [Some(0), None, Some(longer)];
            for rounds in if rounds.is_some() { vec![rounds] } else { all.to_vec() } {
                measure(&region, name, blend, sizes, rounds, svg.as_deref());
            }
        }
    }
    for (times, longer) in LARGE {
        let name = format!("large-{times}");
        if part == name {
            let region = regions::strip(times);
            let rounds = rounds.unwrap_or(longer);
            measure(&region, "blend", Blend::Count, BLEND, Some(rounds), None);
            println!("{:56} {:.0} MB at most", "", most_memory_mb());
        } else if part.is_empty() {
            // Each in a process of its own, for its memory and its number of threads.
            for (rounds, threads) in [(0, 1), (longer, 1), (longer, 2)] {
                println!("{threads} thread{}:", if threads == 1 { "" } else { "s" });
                let own = std::env::current_exe().expect("the path of this program");
                let ran = std::process::Command::new(own)
                    .args([rounds.to_string(), name.clone()])
                    .env("RAYON_NUM_THREADS", threads.to_string())
                    .status();
                ran.expect("to run this program again");
            }
        }
    }
}

/// Most memory that this process has held, MB (0 where the system does not tell).
fn most_memory_mb() -> f64 {
    let text = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = text.lines().find_map(|line| line.strip_prefix("VmHWM:"));
    let kb = line.and_then(|line| line.split_whitespace().next()?.parse::<f64>().ok());
    kb.unwrap_or(0.0) / 1024.0
}
