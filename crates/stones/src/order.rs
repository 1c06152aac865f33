//! The order to set stones in: patches small enough to finish before the glue skins and before the
//! piece must be turned.
//!
//! Common practice (no source): a patch is 2 to 5 cm wide and within a quarter turn or less.

use std::f64::consts::{FRAC_PI_2, PI, TAU};

/// What the order needs to know of a stone.
#[derive(Debug, Clone, Copy)]
pub struct Place {
    /// Round the part, radians (mm on a flat part).
    pub around: f64,
    /// Along the wall, mm.
    pub along_mm: f64,
    /// Row in its zone, 0 if there are none.
    pub row: u32,
}

/// How the stones of one zone lie.
#[derive(Debug, Clone, Copy)]
pub struct Lie {
    /// Whether `around` is an angle.
    pub round: bool,
    /// Mean area a stone takes up, mm².
    pub stone_area_mm2: f64,
    /// Diameter of the widest stone, mm.
    pub widest_mm: f64,
    /// Most stones in a patch: as many as are set while the glue stays open.
    pub patch_stones: usize,
}

/// The stones of one zone (as indices into `places`) patch by patch, each patch in setting order:
/// layers from the rim down, each walked round the other way than the one before.
pub fn patches(places: &[Place], lie: &Lie) -> Vec<Vec<usize>> {
    let mut order: Vec<usize> = (0..places.len()).collect();
    let cut = if lie.round { cut_at(places) } else { 0.0 };
    let around = |i: usize| {
        if lie.round { (places[i].around - cut).rem_euclid(TAU) } else { places[i].around }
    };
    let side_by_side = |a: &usize, b: &usize| {
        around(*a)
            .total_cmp(&around(*b))
            .then(places[*a].along_mm.total_cmp(&places[*b].along_mm))
            .then(a.cmp(b))
    };
    let line = lines(places, lie);
    order.sort_by(|a, b| line[*a].cmp(&line[*b]).then_with(|| side_by_side(a, b)));

    // A full patch is about square.
    let side_mm = (lie.patch_stones as f64 * lie.stone_area_mm2).sqrt();
    let mut out = Vec::new();
    for (number, mut layer) in layers(&order, &line, places, side_mm).into_iter().enumerate() {
        layer.sort_by(side_by_side);
        let mut sectors = sectors(&layer, &around, lie);
        if number % 2 == 1 {
            sectors.reverse();
        }
        for mut sector in sectors {
            sector.sort_by(|a, b| line[*a].cmp(&line[*b]).then_with(|| side_by_side(a, b)));
            out.push(sector);
        }
    }
    out
}

/// Rows as laid, or lines one stone high where there are none.
fn lines(places: &[Place], lie: &Lie) -> Vec<u32> {
    let top = places.iter().map(|place| place.along_mm).fold(f64::INFINITY, f64::min);
    places
        .iter()
        .map(|place| match place.row {
            0 => ((place.along_mm - top) / lie.widest_mm.max(0.1)) as u32,
            row => row,
        })
        .collect()
}

/// Where a round is begun: in the middle of its widest stretch without stones, or at the back.
fn cut_at(places: &[Place]) -> f64 {
    let mut arounds: Vec<f64> = places.iter().map(|place| place.around).collect();
    arounds.sort_by(f64::total_cmp);
    let (Some(first), Some(last)) = (arounds.first().copied(), arounds.last().copied()) else {
        return -PI;
    };
    let across_back = (first + TAU - last, last);
    let widest = arounds
        .windows(2)
        .map(|pair| (pair[1] - pair[0], pair[0]))
        .fold(across_back, |most, gap| if gap.0 > most.0 + 1e-9 { gap } else { most });
    // A gap a few stones wide shows; anything less is the ordinary space between two stones.
    if widest.0 > 4.0 * TAU / arounds.len() as f64 && widest.0 > TAU / 24.0 {
        widest.1 + widest.0 / 2.0
    } else {
        -PI
    }
}

/// Cuts lines into layers of about `side_mm` with about equally many stones each.
fn layers(order: &[usize], line: &[u32], places: &[Place], side_mm: f64) -> Vec<Vec<usize>> {
    let mut by_line: Vec<Vec<usize>> = Vec::new();
    for index in order {
        match by_line.last_mut() {
            Some(last) if line[last[0]] == line[*index] => last.push(*index),
            _ => by_line.push(vec![*index]),
        }
    }
    let mean = |stones: &[usize]| {
        stones.iter().map(|i| places[*i].along_mm).sum::<f64>() / stones.len().max(1) as f64
    };
    let (Some(first), Some(last)) = (by_line.first(), by_line.last()) else { return Vec::new() };
    let step_mm = (mean(last) - mean(first)) / (by_line.len() as f64 - 1.0).max(1.0);
    let height_mm = step_mm.abs().max(0.1) * by_line.len() as f64;
    let count = ((height_mm / side_mm).round() as usize).clamp(1, by_line.len());
    let share = order.len() as f64 / count as f64;
    let mut out = vec![Vec::new(); count];
    let mut before = 0;
    for stones in by_line {
        let middle = before as f64 + stones.len() as f64 / 2.0;
        before += stones.len();
        out[((middle / share) as usize).min(count - 1)].extend(stones);
    }
    out.retain(|layer| !layer.is_empty());
    out
}

/// Cuts a layer, sorted by `around`, into sectors with equally many stones, none too large or too
/// wide to set without turning the piece.
fn sectors(layer: &[usize], around: &impl Fn(usize) -> f64, lie: &Lie) -> Vec<Vec<usize>> {
    let mut count = layer.len().div_ceil(lie.patch_stones.max(1)).max(1);
    loop {
        let cuts: Vec<usize> = (0..=count).map(|k| k * layer.len() / count).collect();
        let too_wide = |pair: &[usize]| {
            let sector = &layer[pair[0]..pair[1]];
            lie.round
                && sector.len() > 1
                && around(sector[sector.len() - 1]) - around(sector[0]) > FRAC_PI_2
        };
        if count >= layer.len() || !cuts.windows(2).any(too_wide) {
            return cuts.windows(2).map(|pair| layer[pair[0]..pair[1]].to_vec()).collect();
        }
        count += 1;
    }
}
