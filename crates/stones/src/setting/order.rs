//! Cuts the stones of a zone into patches small enough to finish before the glue skins and before the
//! piece must be turned.
//!
//! Common practice (no source): a patch is 2 to 5 cm wide and within a quarter turn or less.

use crate::going::Going;
use crate::steps::step;
use std::cmp::Ordering;
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
    /// Layout of its zone that it belongs to.
    pub layer: usize,
    /// Row in that, 0 if there are none.
    pub row: u32,
    /// To set it, min.
    pub work_min: f64,
}

/// How the stones of one zone lie.
#[derive(Debug, Clone, Copy)]
pub struct Lie {
    /// Mean area a stone takes up, mm².
    pub stone_area_mm2: f64,
    /// Diameter of the widest stone, mm.
    pub widest_mm: f64,
}

/// Where patches that lie above one another are parted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Parting {
    /// Each level into as few as fit.
    Levels,
    /// All levels of a zone at the same places, so that patches stand in columns: these are set from
    /// the rim to the foot without turning.
    Columns,
    /// All zones that are set in one go at the same places.
    SharedColumns,
}

/// How patches are cut.
#[derive(Debug, Clone, Copy)]
pub struct Ways<'a> {
    /// Whether `around` is an angle.
    pub round: bool,
    /// Longest that a patch may take: the glue stays open, min.
    pub open_min: f64,
    /// Widest that a patch may be round the part, rad.
    pub widest_rad: f64,
    /// Where they are parted.
    pub parting: Parting,
    /// Whether to go on; when not, patches come out larger than they may be.
    pub going: Going<'a>,
}

/// One patch.
#[derive(Debug, Clone, PartialEq)]
pub struct Cut {
    /// Which level it lies in, from the rim down, from 0.
    pub level: u32,
    /// Its stones as indices, in setting order.
    pub stones: Vec<usize>,
}

/// The stones of each zone in patches: levels from the rim down, each walked round the other way than
/// the one before.
pub fn patches(zones: &[(Vec<Place>, Lie)], ways: &Ways<'_>) -> Vec<Vec<Cut>> {
    let together = match ways.parting {
        Parting::SharedColumns => zones.len().max(1),
        Parting::Levels | Parting::Columns => 1,
    };
    zones.chunks(together).flat_map(|group| cut_together(group, ways)).collect()
}

/// A stone in its level.
#[derive(Debug, Clone, Copy)]
struct Seat {
    stone: usize,
    layer: usize,
    /// In the zone, from the rim down.
    line: u32,
    /// From where the round begins.
    around: f64,
    along_mm: f64,
    work_min: f64,
}

impl Seat {
    fn side_by_side(&self, other: &Self) -> Ordering {
        self.around
            .total_cmp(&other.around)
            .then(self.along_mm.total_cmp(&other.along_mm))
            .then(self.stone.cmp(&other.stone))
    }

    fn by_line(&self, other: &Self) -> Ordering {
        self.line.cmp(&other.line).then_with(|| self.side_by_side(other))
    }

    /// Each layout was laid among the stones of those before, and is set so.
    fn by_layer(&self, other: &Self) -> Ordering {
        self.layer.cmp(&other.layer).then_with(|| self.by_line(other))
    }
}

impl Ways<'_> {
    fn fits(&self, seats: &[Seat]) -> bool {
        step();
        let wide = match seats {
            [first, .., last] if self.round => last.around - first.around > self.widest_rad,
            _ => false,
        };
        !wide && work_min(seats) <= self.open_min + 1e-9
    }
}

fn work_min(seats: &[Seat]) -> f64 {
    seats.iter().map(|seat| seat.work_min).sum()
}

/// Cuts zones that begin their round at the same place and, in columns, are parted at the same places.
fn cut_together(zones: &[(Vec<Place>, Lie)], ways: &Ways<'_>) -> Vec<Vec<Cut>> {
    let begin = if ways.round { cut_at(zones.iter().flat_map(|(places, _)| places)) } else { 0.0 };
    let levels: Vec<Vec<Vec<Seat>>> =
        zones.iter().map(|(places, lie)| levels(places, lie, begin, ways)).collect();
    let counts: Vec<usize> = levels.iter().map(Vec::len).collect();
    let levels = levels.concat();
    let cut = match ways.parting {
        Parting::Levels => levels.iter().map(|level| sectors(level, ways)).collect(),
        Parting::Columns | Parting::SharedColumns => columns(&levels, ways),
    };
    let mut cut = cut.into_iter();
    let of_zone = |count: usize| -> Vec<Cut> {
        let mut out = Vec::new();
        for (number, mut sectors) in cut.by_ref().take(count).enumerate() {
            if number % 2 == 1 {
                sectors.reverse();
            }
            for mut sector in sectors {
                sector.sort_by(Seat::by_layer);
                let stones = sector.iter().map(|seat| seat.stone).collect();
                out.push(Cut { level: number as u32, stones });
            }
        }
        out
    };
    counts.into_iter().map(of_zone).collect()
}

/// The levels of a zone, each sorted round the part.
fn levels(places: &[Place], lie: &Lie, begin: f64, ways: &Ways<'_>) -> Vec<Vec<Seat>> {
    let line = lines(places, lie);
    let seat = |(stone, place): (usize, &Place)| Seat {
        stone,
        layer: place.layer,
        line: line[stone],
        around: if ways.round { (place.around - begin).rem_euclid(TAU) } else { place.around },
        along_mm: place.along_mm,
        work_min: place.work_min,
    };
    let mut seats: Vec<Seat> = places.iter().enumerate().map(seat).collect();
    seats.sort_by(Seat::by_line);
    // A full patch is about square.
    let in_patch = places.len() as f64 * (ways.open_min / work_min(&seats).max(1e-6)).min(1.0);
    let side_mm = (in_patch.max(1.0) * lie.stone_area_mm2).sqrt();
    let mut levels = layers(&seats, side_mm);
    levels.iter_mut().for_each(|level| level.sort_by(Seat::side_by_side));
    levels
}

/// Rows as laid, or lines one stone high where there are none or several layouts lie among each other.
fn lines(places: &[Place], lie: &Lie) -> Vec<u32> {
    let top = places.iter().map(|place| place.along_mm).fold(f64::INFINITY, f64::min);
    let mingled = places.windows(2).any(|pair| pair[0].layer != pair[1].layer);
    places
        .iter()
        .map(|place| match place.row {
            row if row > 0 && !mingled => row,
            // What lies level to a hair stays together.
            _ => ((place.along_mm - top) / lie.widest_mm.max(0.1) + 1e-9) as u32,
        })
        .collect()
}

/// Where a round is begun: in the middle of its widest stretch without stones, or at the back.
fn cut_at<'a>(places: impl Iterator<Item = &'a Place>) -> f64 {
    let mut arounds: Vec<f64> = places.map(|place| place.around).collect();
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
        // What lies at the back to a hair stays together.
        -PI - IN_COLUMN / 2.0
    }
}

/// Cuts lines, in order, into layers of about `side_mm` with about equally many stones each.
fn layers(seats: &[Seat], side_mm: f64) -> Vec<Vec<Seat>> {
    let by_line: Vec<&[Seat]> = seats.chunk_by(|a, b| a.line == b.line).collect();
    let mean = |line: &[Seat]| {
        line.iter().map(|seat| seat.along_mm).sum::<f64>() / line.len().max(1) as f64
    };
    let (Some(first), Some(last)) = (by_line.first(), by_line.last()) else { return Vec::new() };
    let step_mm = (mean(last) - mean(first)) / (by_line.len() as f64 - 1.0).max(1.0);
    let height_mm = step_mm.abs().max(0.1) * by_line.len() as f64;
    let count = ((height_mm / side_mm).round() as usize).clamp(1, by_line.len());
    let share = seats.len() as f64 / count as f64;
    let mut out = vec![Vec::new(); count];
    let mut before = 0;
    for line in by_line {
        let middle = before as f64 + line.len() as f64 / 2.0;
        before += line.len();
        out[((middle / share) as usize).min(count - 1)].extend(line);
    }
    out.retain(|layer| !layer.is_empty());
    out
}

/// How many to try after so many did not fit: one more, or a 32nd more where that is nothing.
fn more_than(count: usize) -> usize {
    count + (count / 32).max(1)
}

/// Cuts a level, sorted round the part, into sectors with about equally many stones, as few as fit.
/// Stones right above one another stay together.
fn sectors(level: &[Seat], ways: &Ways<'_>) -> Vec<Vec<Seat>> {
    let in_column = |place: usize| level[place].around - level[place - 1].around < IN_COLUMN;
    // No fewer than the work takes.
    let mut count = (work_min(level) / ways.open_min.max(1e-6)).floor().max(1.0) as usize;
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
        let done = || count >= level.len() || sectors().all(|seats| ways.fits(seats));
        if done() || !ways.going.on() {
            return sectors().map(<[Seat]>::to_vec).collect();
        }
        count = more_than(count);
    }
}

/// Cuts all levels, each sorted round the part, at the same places, as few as let every patch fit.
fn columns(levels: &[Vec<Seat>], ways: &Ways<'_>) -> Vec<Vec<Vec<Seat>>> {
    let mut all: Vec<f64> = levels.iter().flatten().map(|seat| seat.around).collect();
    all.sort_by(f64::total_cmp);
    let mut count = levels.iter().map(|level| sectors(level, ways).len()).max().unwrap_or(1);
    loop {
        let borders: Vec<f64> =
            (1..count).filter_map(|k| border(&all, k * all.len() / count)).collect();
        let column = |seat: &Seat| borders.partition_point(|border| *border <= seat.around);
        let cut = |level: &Vec<Seat>| -> Vec<Vec<Seat>> {
            level.chunk_by(|a, b| column(a) == column(b)).map(<[Seat]>::to_vec).collect()
        };
        let cut: Vec<Vec<Vec<Seat>>> = levels.iter().map(cut).collect();
        let done = || count >= all.len() || cut.iter().flatten().all(|seats| ways.fits(seats));
        if done() || !ways.going.on() {
            return cut;
        }
        count = more_than(count);
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
