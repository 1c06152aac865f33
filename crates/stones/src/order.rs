//! Cuts the stones of a layer into patches small enough to finish before the glue skins and before the
//! piece must be turned.
//!
//! Common practice (no source): a patch is 2 to 5 cm wide and within a quarter turn or less.

use std::f64::consts::{PI, TAU};

/// Two stones this near round the part lie right above one another, rad or mm.
pub const IN_COLUMN: f64 = 1e-6;

/// What the order needs to know of a stone.
#[derive(Debug, Clone, Copy)]
pub struct Place {
    /// Round the part, radians (mm on a flat part).
    pub around: f64,
    /// Along the wall, mm.
    pub along_mm: f64,
    /// Row in its zone, 0 if there are none.
    pub row: u32,
    /// To set it, min.
    pub work_min: f64,
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
    /// Longest that a patch may take: the glue stays open, min.
    pub open_min: f64,
    /// Widest that a patch may be round the part, rad.
    pub widest_rad: f64,
    /// Whether all levels are cut at the same places, so that patches stand in columns: these are set
    /// from the rim to the foot without turning. Else each level is cut into as few as fit.
    pub columns: bool,
}

/// One patch.
#[derive(Debug, Clone, PartialEq)]
pub struct Cut {
    /// Which layer it lies in, from the rim down, from 0.
    pub level: u32,
    /// Its stones as indices, in setting order.
    pub stones: Vec<usize>,
}

/// The stones of one zone and layout in patches: levels from the rim down, each walked round the other
/// way than the one before.
pub fn patches(places: &[Place], lie: &Lie) -> Vec<Cut> {
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
    let work_min = |stones: &[usize]| stones.iter().map(|i| places[*i].work_min).sum::<f64>();
    let in_patch = places.len() as f64 * (lie.open_min / work_min(&order).max(1e-6)).min(1.0);
    let side_mm = (in_patch.max(1.0) * lie.stone_area_mm2).sqrt();
    let fits = |stones: &[usize]| {
        let wide = match stones {
            [first, .., last] if lie.round => around(*last) - around(*first) > lie.widest_rad,
            _ => false,
        };
        !wide && work_min(stones) <= lie.open_min + 1e-9
    };
    let mut out = Vec::new();
    let mut levels = layers(&order, &line, places, side_mm);
    levels.iter_mut().for_each(|level| level.sort_by(side_by_side));
    let cut = if lie.columns {
        columns(&levels, &around, &fits)
    } else {
        levels.iter().map(|level| sectors(level, &around, &fits)).collect()
    };
    for (number, mut sectors) in cut.into_iter().enumerate() {
        if number % 2 == 1 {
            sectors.reverse();
        }
        for mut sector in sectors {
            sector.sort_by(|a, b| line[*a].cmp(&line[*b]).then_with(|| side_by_side(a, b)));
            out.push(Cut { level: number as u32, stones: sector });
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

/// Cuts a level, sorted by `around`, into sectors with about equally many stones, as few as fit. Stones
/// right above one another stay together.
fn sectors(
    level: &[usize],
    around: &impl Fn(usize) -> f64,
    fits: &impl Fn(&[usize]) -> bool,
) -> Vec<Vec<usize>> {
    let in_column = |place: usize| around(level[place]) - around(level[place - 1]) < IN_COLUMN;
    let mut count = 1;
    loop {
        let cut = |k: usize| {
            let mut place = k * level.len() / count;
            while count < level.len() && (1..level.len()).contains(&place) && in_column(place) {
                place += 1;
            }
            place
        };
        let cuts: Vec<usize> = (0..=count).map(cut).collect();
        let sectors =
            || cuts.windows(2).map(|pair| &level[pair[0]..pair[1]]).filter(|one| !one.is_empty());
        if count >= level.len() || sectors().all(fits) {
            return sectors().map(<[usize]>::to_vec).collect();
        }
        count += 1;
    }
}

/// Cuts all levels, each sorted by `around`, at the same places, as few as let every patch fit.
fn columns(
    levels: &[Vec<usize>],
    around: &impl Fn(usize) -> f64,
    fits: &impl Fn(&[usize]) -> bool,
) -> Vec<Vec<Vec<usize>>> {
    let mut all: Vec<f64> = levels.iter().flatten().map(|&stone| around(stone)).collect();
    all.sort_by(f64::total_cmp);
    let least = levels.iter().map(|level| sectors(level, around, fits).len()).max().unwrap_or(1);
    let mut count = least;
    loop {
        let borders: Vec<f64> =
            (1..count).filter_map(|k| border(&all, k * all.len() / count)).collect();
        let cut = |level: &Vec<usize>| -> Vec<Vec<usize>> {
            let column = |stone: usize| borders.partition_point(|border| *border <= around(stone));
            level.chunk_by(|a, b| column(*a) == column(*b)).map(<[usize]>::to_vec).collect()
        };
        let cut: Vec<Vec<Vec<usize>>> = levels.iter().map(cut).collect();
        if count >= all.len() || cut.iter().flatten().all(|stones| fits(stones)) {
            return cut;
        }
        count += 1;
    }
}

/// Midway between two sorted values that differ, from the given place on.
fn border(all: &[f64], from: usize) -> Option<f64> {
    let pairs = all.get(from.saturating_sub(1)..)?.windows(2);
    pairs
        .filter(|pair| pair[1] - pair[0] > IN_COLUMN)
        .map(|pair| f64::midpoint(pair[0], pair[1]))
        .next()
}
