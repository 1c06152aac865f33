//! Prints how well stones fill the trial regions, and how fast: a draft, what a piece gets, and a
//! longer squeeze. `bench ROUNDS PART [SVG]` does one number of rounds on the regions whose name
//! holds PART and draws the last of them.

mod regions;

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
    blend: piece::Blend,
    sizes: Sizes,
    rounds: Option<u32>,
    svg: Option<&str>,
) {
    let zone = &region.shape.zones[0];
    let field = shape::Field::new(&zone.surface, &zone.area);
    let order = Order {
        sizes: sizes.to_vec(),
        gap_mm: 0.1,
        layout: piece::Layout::Scatter,
        blend,
        grade: None,
        most: Vec::new(),
        seed: [1, 7],
    };
    let ground = Ground::new(&zone.surface, &field, &zone.area, &[]).expect("a region");
    let (start, busy) = (Instant::now(), busy_s());
    let spots = Pack { rounds }.fill(&ground, &order, &mut |_| true);
    let seconds = start.elapsed().as_secs_f64();
    let busy = busy_s() - busy;
    let square = |spot: &Spot| sizes[spot.size].0 * sizes[spot.size].0;
    let coverage =
        std::f64::consts::PI / 4.0 * spots.iter().map(square).sum::<f64>() / zone.area_mm2;
    let off = (0..sizes.len())
        .map(|size| spots.iter().filter(|spot| spot.size == size).count() as f64)
        .zip(sizes)
        .map(|(count, (_, share))| (count / spots.len() as f64 - share).abs())
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

fn main() {
    let mut args = std::env::args().skip(1);
    let rounds: Option<u32> = args.next().and_then(|text| text.parse().ok());
    let part = args.next().unwrap_or_default();
    let svg = args.next();
    for region in [regions::strip(1.0), regions::wavy(), regions::annulus()] {
        for (name, sizes) in
            [("blend", BLEND), ("wide", WIDE), ("free", WIDE), ("area", WIDE), ("one", ONE)]
        {
            if !format!("{}-{name}", region.name).contains(&part) {
                continue;
            }
            let small = region.name == "annulus";
            let longer = if small { 60 } else { 8 };
            let all = [Some(0), None, Some(longer)];
            for rounds in if rounds.is_some() { vec![rounds] } else { all.to_vec() } {
                let blend = match name {
                    "free" => piece::Blend::Free,
                    "area" => piece::Blend::Area,
                    _ => piece::Blend::Count,
                };
                measure(&region, name, blend, sizes, rounds, svg.as_deref());
            }
        }
    }
    if part.is_empty() || part == "large" {
        measure(&regions::strip(4.7), "blend", piece::Blend::Count, BLEND, Some(0), None);
    }
}
