//! A drawing larger than the page split into overlapping tiles.

use super::Occupied;
use crate::drawing::{ACCENT, Anchor, Bounds, Ink, Layer, Letters, Mark, Trace};
use glam::DVec2;

/// How much neighbouring tiles share, mm.
const OVERLAP_MM: f64 = 10.0;

/// One tile.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Tile {
    /// `A1`: row by letter from the top, column by number from the left.
    pub(crate) name: String,
    /// What it shows.
    pub(crate) view: Bounds,
}

/// Tiles no larger than `page_mm` that cover what `profile` outlines (points close together), each
/// only as high as what it shows, and the marks to join them by: a dashed line in the middle of each
/// overlap with crosses on it. Cut one tile along the line, lay it on the other's line, and let the
/// crosses meet. With `front`, the middle of a tile lies at x = 0; that tile comes first, the others
/// after it from left to right.
pub(crate) fn split(
    profile: &[DVec2],
    page_mm: DVec2,
    front: bool,
    occupied: &Occupied,
    letters: &Letters,
) -> (Vec<Tile>, Layer) {
    let bounds = profile.iter().fold(Bounds::EMPTY, |all, &point| all.with(point)).grown(1.0);
    let columns = columns(bounds, page_mm.x, front);
    let mut tiles = Vec::new();
    let mut joins = Layer::new("joins", "Marks to join the tiles by");
    for (column, &(left, right)) in (0_u32..).zip(&columns) {
        let (top, bottom) = height(profile, left, right, bounds);
        let rows = cut(bottom - top, page_mm.y);
        for row in 0..rows {
            let from = top + f64::from(row) * (page_mm.y - OVERLAP_MM);
            let to = if rows == 1 { bottom } else { (from + page_mm.y).min(bottom) };
            let view = Bounds::new(DVec2::new(left, from), DVec2::new(right, to));
            tiles.push(Tile { name: name(column, row), view });
            if row > 0 {
                let y = from + OVERLAP_MM / 2.0;
                let ends = [DVec2::new(left, y), DVec2::new(right, y)];
                let sides = [name(0, row - 1), name(0, row)].map(|name| name[..1].to_owned());
                join(&mut joins, ends, &sides, occupied, letters);
            }
        }
        if column > 0 {
            let x = left + OVERLAP_MM / 2.0;
            let (top, bottom) = height(profile, left, left + OVERLAP_MM, bounds);
            let ends = [DVec2::new(x, top), DVec2::new(x, bottom)];
            let sides = [name(column - 1, 0), name(column, 0)].map(|name| name[1..].to_owned());
            join(&mut joins, ends, &sides, occupied, letters);
        }
    }
    // Stable: the others keep their order.
    tiles.sort_by_key(|tile| !(front && tile.view.min.x < 0.0 && tile.view.max.x > 0.0));
    (tiles, joins)
}

/// Left and right side of each column of tiles.
fn columns(bounds: Bounds, page_mm: f64, front: bool) -> Vec<(f64, f64)> {
    let (left, right) = (bounds.min.x, bounds.max.x);
    if right - left <= page_mm {
        return vec![(left, right)];
    }
    let step = page_mm - OVERLAP_MM;
    let middle = if front { -page_mm / 2.0 } else { left };
    // As near to the middle as leaves no tile half empty beyond an end.
    let first = middle.clamp(left, right - page_mm);
    let before = ((first - left) / step).ceil() as i32;
    let after = ((right - first - page_mm) / step).ceil() as i32;
    (-before..=after)
        .map(|place| first + f64::from(place) * step)
        .map(|from| (from.max(left), (from + page_mm).min(right)))
        .collect()
}

/// Top and bottom of what lies between two places.
fn height(profile: &[DVec2], left: f64, right: f64, bounds: Bounds) -> (f64, f64) {
    let within = profile.iter().filter(|point| point.x >= left - 2.0 && point.x <= right + 2.0);
    let held = within.fold(Bounds::EMPTY, |all, &point| all.with(point)).grown(1.0);
    if held.min.y.is_finite() { (held.min.y, held.max.y) } else { (bounds.min.y, bounds.max.y) }
}

fn cut(length_mm: f64, page_mm: f64) -> u32 {
    if length_mm <= page_mm {
        1
    } else {
        ((length_mm - OVERLAP_MM) / (page_mm - OVERLAP_MM)).ceil() as u32
    }
}

fn name(column: u32, row: u32) -> String {
    let letter = char::from_u32('A' as u32 + row.min(25)).unwrap_or('Z');
    format!("{letter}{}", column + 1)
}

fn join(
    joins: &mut Layer,
    [start, end]: [DVec2; 2],
    sides: &[String; 2],
    occupied: &Occupied,
    letters: &Letters,
) {
    let line = Ink::dashed(ACCENT, 0.15, 3.0, 1.5);
    joins.marks.push(Mark::path(Trace::line([start, end]), line));
    let along = (end - start).normalize_or_zero();
    let across = DVec2::new(along.y.abs(), along.x.abs());
    let shares: &[f64] =
        if (end - start).length() < 90.0 { &[0.15, 0.85] } else { &[0.08, 0.36, 0.64, 0.92] };
    let mut taken = occupied.clone();
    let mut placed = 0;
    for share in shares {
        let at = start.lerp(end, *share);
        let room = |at: DVec2| {
            let (low, high) = (at - across * 4.5 - along * 3.2, at + across * 4.5 + along * 7.0);
            Bounds::new(low.min(high), low.max(high))
        };
        // Slid along the line to where nothing lies.
        let shifts = [0.0, -5.0, 5.0, -10.0, 10.0, -15.0, 15.0];
        let mut spots = shifts.into_iter().map(|shift| at + along * shift);
        let Some(at) = spots.find(|at| taken.is_free(room(*at))) else { continue };
        taken.rectangle(room(at));
        placed += 1;
        joins.marks.push(Mark::path(Trace::cross(at, 3.0), Ink::line(ACCENT, 0.2)));
        joins.marks.push(Mark::path(Trace::circle(at, 1.5), Ink::line(ACCENT, 0.2)));
        for (side, direction) in sides.iter().zip([-1.0, 1.0]) {
            let spot = at + along * 5.0 + across * direction * 3.0;
            let label = letters.write(side, 2.0, Anchor::Middle, spot, 0.0);
            joins.marks.push(Mark::path(label, Ink::fill(ACCENT)));
        }
    }
    if placed < 2 {
        // Two thin crosses at least, even on work.
        for share in [0.15, 0.85] {
            let at = start.lerp(end, share);
            joins.marks.push(Mark::path(Trace::cross(at, 2.0), Ink::line(ACCENT, 0.2)));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The border of a rectangle, a point every mm.
    fn rectangle(min: DVec2, max: DVec2) -> Vec<DVec2> {
        let across = (min.x as i32..=max.x as i32).map(f64::from);
        let down = (min.y as i32..=max.y as i32).map(f64::from);
        across
            .flat_map(|x| [DVec2::new(x, min.y), DVec2::new(x, max.y)])
            .chain(down.flat_map(|y| [DVec2::new(min.x, y), DVec2::new(max.x, y)]))
            .collect()
    }

    #[test]
    fn tiles_cover_everything_fit_the_page_and_have_the_front_in_the_middle() {
        let profile = rectangle(DVec2::new(-150.0, -3.0), DVec2::new(150.0, 200.0));
        let page = DVec2::new(180.0, 120.0);
        let (tiles, joins) = split(&profile, page, true, &Occupied::default(), &Letters::new());
        let names: Vec<_> = tiles.iter().map(|tile| tile.name.as_str()).collect();
        assert_eq!(names, ["A2", "B2", "A1", "B1", "A3", "B3"]);
        let all = tiles.iter().fold(Bounds::EMPTY, |all, tile| all.union(tile.view));
        assert!(profile.iter().all(|point| Bounds::EMPTY.with(*point).meets(&all)));
        for tile in &tiles {
            assert!(tile.view.size().x <= page.x && tile.view.size().y <= page.y);
        }
        assert!((tiles[0].view.max.x + tiles[0].view.min.x).abs() < 1e-9);
        assert!((tiles[0].view.max.x - tiles[4].view.min.x - OVERLAP_MM).abs() < 1e-9);
        assert!(!joins.marks.is_empty());
    }

    #[test]
    fn what_fits_is_one_tile_without_joins() {
        let profile = rectangle(DVec2::ZERO, DVec2::new(98.0, 98.0));
        let page = DVec2::splat(100.0);
        let (tiles, joins) = split(&profile, page, true, &Occupied::default(), &Letters::new());
        assert_eq!((tiles.len(), joins.marks.len()), (1, 0));
        assert_eq!(tiles[0].view, Bounds::new(DVec2::splat(-1.0), DVec2::splat(99.0)));
    }
}
