//! How evenly single stones are spread, beside a Poisson-disc library.

mod support;

use piece::Layout;
use std::f64::consts::TAU;
use support::{lay_as, scatter};

/// Least distance between two middles, mm.
const APART_MM: f64 = 4.0;
/// Side of the plate, mm.
const SIDE_MM: f64 = 120.0;
/// Diameter of a stone, SS5, mm.
const STONE_MM: f64 = 1.8;

/// Mean power of the points of a square of this side over the waves that fit into it with lengths from
/// `longest` to `shortest` mm: 1 for points thrown without regard for each other. (Periodogram;
/// Ulichney 1988, "Dithering with blue noise".)
fn power(points: &[(f64, f64)], side_mm: f64, (longest, shortest): (f64, f64)) -> f64 {
    let most = (side_mm / shortest).ceil() as i32;
    let (mut sum, mut count) = (0.0, 0);
    for across in 0..=most {
        for down in -most..=most {
            let waves = f64::from(across * across + down * down).sqrt() / side_mm;
            if waves < 1.0 / longest || waves > 1.0 / shortest {
                continue;
            }
            let (mut cosines, mut sines) = (0.0, 0.0);
            for (x, y) in points {
                let turn = TAU * (f64::from(across) * x + f64::from(down) * y) / side_mm;
                cosines += libm::cos(turn);
                sines += libm::sin(turn);
            }
            sum += (cosines * cosines + sines * sines) / points.len() as f64;
            count += 1;
        }
    }
    sum / f64::from(count)
}

/// Middles of accents on the plate.
fn ours(seed: u64, per_mm2: Option<f64>) -> Vec<(f64, f64)> {
    let zone = scatter("face", "inset = \"0 mm\"", &[("SS5", 100.0)], 0.1);
    let text = format!(
        "cupwright = 1\ntitle = \"Trial\"\nseed = {seed}\n\
         [colours]\n\"ebb\" = \"#1f6f78\"\n\"foam\" = \"#e8eef0\"\n\
         [[part]]\nname = \"body\"\nrole = \"topper\"\n\
         flat = {{ width = \"{SIDE_MM} mm\", height = \"{SIDE_MM} mm\" }}\n{zone}"
    );
    let sparse = Layout::Sparse { apart_mm: APART_MM, per_mm2 };
    let stones = lay_as(&text, |finish| finish.layers[0].layout = sparse).stones.stones;
    stones.iter().map(|stone| (stone.centre_mm.x, stone.centre_mm.y)).collect()
}

/// The library's points, seed by seed.
fn theirs() -> Vec<Vec<(f64, f64)>> {
    let rows = include_str!("data/poisson-disc.csv").lines().filter(|line| !line.starts_with('#'));
    let mut sets = vec![Vec::new(); 3];
    for row in rows {
        let numbers: Vec<f64> =
            row.split(',').map(|number| number.parse().expect("a number")).collect();
        sets[numbers[0] as usize - 1].push((numbers[1], numbers[2]));
    }
    sets
}

/// Mean power over waves from five to two and a half mean distances long: what the eye sees as clumps
/// and holes.
fn clumps(sets: &[Vec<(f64, f64)>], side_mm: f64) -> f64 {
    let powers = sets.iter().map(|points| {
        let mean_mm = side_mm / (points.len() as f64).sqrt();
        power(points, side_mm, (5.0 * mean_mm, 2.5 * mean_mm))
    });
    powers.sum::<f64>() / sets.len() as f64
}

#[test]
fn accents_are_as_even_as_points_of_a_poisson_disc_library() {
    let library = clumps(&theirs(), SIDE_MM);
    // The middles lie half a stone inside the plate.
    let of = |per_mm2| {
        let sets: Vec<_> = (1..=3).map(|seed| ours(seed, per_mm2)).collect();
        clumps(&sets, SIDE_MM - STONE_MM)
    };
    let (full, thinned) = (of(None), of(Some(0.55 / (APART_MM * APART_MM))));
    assert!(library < 0.3, "the library's own points are not blue: {library}");
    // 1 is chance. Full, they are nearly as even as the library's; thinned to a density below what the
    // distance allows, somewhat less even.
    assert!(full < 1.25 * library, "{full} against {library}");
    assert!(thinned < 1.75 * library, "{thinned} against {library}");
}
