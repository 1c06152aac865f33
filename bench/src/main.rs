//! Prints how well stones fill the trial regions, and how fast.

mod regions;

use regions::Ground;
use std::fmt::Write as _;
use std::time::Instant;
use stones::fill::{Engine, Order, Spot};
use stones::pack::Pack;

const BLEND: [(f64, f64); 3] = [(2.8, 0.4), (2.4, 0.3), (2.0, 0.3)];
const ONE: [(f64, f64); 1] = [(2.8, 1.0)];
const WIDE: [(f64, f64); 8] = [
    (6.4, 0.125), (4.7, 0.125), (3.9, 0.125), (3.1, 0.125),
    (2.8, 0.125), (2.4, 0.125), (2.0, 0.125), (1.8, 0.125),
];

fn order(sizes: &[(f64, f64)]) -> Order {
    Order { sizes: sizes.to_vec(), gap_mm: 0.1, follow: piece::Follow::Level, seed: [1, 7] }
}

fn measure(ground: &Ground, name: &str, sizes: &[(f64, f64)], engine: &dyn Engine, svg: Option<&str>) {
    let zone = &ground.shape.zones[0];
    let field = shape::Field::new(&zone.surface, &zone.area);
    let order = order(sizes);
    let start = Instant::now();
    let g = stones::fill::Ground::new(&zone.surface, &field, &zone.area, &[]).expect("a region");
    let spots = engine.fill(&g, &order, &mut |_| true);
    let seconds = start.elapsed().as_secs_f64();
    let covered: f64 = spots
        .iter()
        .map(|spot| std::f64::consts::PI / 4.0 * sizes[spot.size].0 * sizes[spot.size].0)
        .sum();
    let shares: Vec<String> = (0..sizes.len())
        .map(|size| spots.iter().filter(|spot| spot.size == size).count())
        .map(|count| format!("{:.1}", 100.0 * count as f64 / spots.len() as f64))
        .collect();
    println!(
        "{:8} {:8} {:7} stones  coverage {:.4}  {:.3} s  {:.0}/s  shares {}",
        ground.name, name, spots.len(), covered / zone.area_mm2, seconds,
        spots.len() as f64 / seconds, shares.join(" ")
    );
    if let Some(path) = svg {
        std::fs::write(path, drawn(&zone.surface, &spots, sizes)).expect("a writable path");
    }
}

fn drawn(surface: &shape::Surface, spots: &[Spot], sizes: &[(f64, f64)]) -> String {
    let colours = ["#2a5d84", "#d8a13c", "#b54a4a", "#5b8c5a", "#7d5ba6", "#333333", "#999999", "#e377c2"];
    let mut out = String::new();
    let sheet = surface.sheet(0);
    let (low, high) = sheet.extent_mm();
    let _ = write!(out, "<svg xmlns='http://www.w3.org/2000/svg' viewBox='{} {} {} {}' width='{}' height='{}'><rect x='-999' y='-999' width='2999' height='2999' fill='white'/>", low.x, low.y, high.x - low.x, high.y - low.y, 8.0 * (high.x - low.x), 8.0 * (high.y - low.y));
    for spot in spots {
        let at = sheet.sheet_from_surface(spot.at);
        let _ = write!(out, "<circle stroke='none' cx='{:.3}' cy='{:.3}' r='{}' fill='{}'/>", at.x, at.y, sizes[spot.size].0 / 2.0, colours[spot.size % 8]);
    }
    out.push_str("</svg>");
    out
}

fn main() {
    let args: Vec<String> = std::env::args().collect();
    let rounds: Option<u32> = args.get(1).and_then(|text| text.parse().ok());
    let pack = Pack { rounds };
    let which = args.get(2).map_or("", String::as_str);
    let svg = args.get(3).map(String::as_str);
    for ground in [regions::strip(1.0), regions::wavy(), regions::annulus()] {
        for (name, sizes) in [("blend", &BLEND[..]), ("wide", &WIDE[..]), ("one", &ONE[..])] {
            let key = format!("{}-{}", ground.name, name);
            if key.contains(which) {
                if which.contains("old") { continue; }
                measure(&ground, name, sizes, &pack, svg);
            }
        }
    }
    if which == "big" {
        measure(&regions::strip(4.46), "blend", &BLEND, &pack, svg);
    }
    if which == "old" {
        for ground in [regions::strip(1.0), regions::wavy(), regions::annulus()] {
            measure(&ground, "blend", &BLEND, &stones::scatter::Scatter, svg);
        }
    }
}
