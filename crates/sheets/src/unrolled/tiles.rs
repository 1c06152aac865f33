//! A drawing larger than the page split into overlapping tiles.

use crate::drawing::{ACCENT, Anchor, Bounds, Ink, Layer, Letters, Mark, Trace};
use glam::DVec2;

/// How much neighbouring tiles share, mm.
const OVERLAP_MM: f64 = 12.0;

/// One tile.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Tile {
    /// `A1`: row by letter from the top, column by number from the left.
    pub(crate) name: String,
    /// What it shows.
    pub(crate) view: Bounds,
}

/// Tiles that cover `bounds`, none larger than `page_mm`, row by row, and the marks to join them by:
/// a dashed line in the middle of each overlap with crosses on it. Cut one tile along the line, lay
/// it on the other's line, and let the crosses meet.
pub(crate) fn split(bounds: Bounds, page_mm: DVec2, letters: &Letters) -> (Vec<Tile>, Layer) {
    let (columns, rows) = (cut(bounds.size().x, page_mm.x), cut(bounds.size().y, page_mm.y));
    // Full tiles first and a narrow one last, so that the front of a cup, in the middle of its wall,
    // is not where two tiles meet.
    let size = bounds.size().min(page_mm);
    let tile = |column: u32, row: u32| {
        let step = DVec2::new(f64::from(column), f64::from(row)) * (size - OVERLAP_MM);
        let min = bounds.min + step;
        Bounds::new(min, (min + size).min(bounds.max))
    };
    let tiles = (0..rows)
        .flat_map(|row| (0..columns).map(move |column| (column, row)))
        .map(|(column, row)| Tile { name: name(column, row), view: tile(column, row) })
        .collect();
    let mut joins = Layer::new("joins", "Marks to join the tiles by");
    for column in 1..columns {
        let x = tile(column, 0).min.x + OVERLAP_MM / 2.0;
        let ends = [DVec2::new(x, bounds.min.y), DVec2::new(x, bounds.max.y)];
        let sides = [name(column - 1, 0), name(column, 0)].map(|name| name[1..].to_owned());
        join(&mut joins, ends, &sides, letters);
    }
    for row in 1..rows {
        let y = tile(0, row).min.y + OVERLAP_MM / 2.0;
        let ends = [DVec2::new(bounds.min.x, y), DVec2::new(bounds.max.x, y)];
        let sides = [name(0, row - 1), name(0, row)].map(|name| name[..1].to_owned());
        join(&mut joins, ends, &sides, letters);
    }
    (tiles, joins)
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

fn join(joins: &mut Layer, [start, end]: [DVec2; 2], sides: &[String; 2], letters: &Letters) {
    let line = Ink::dashed(ACCENT, 0.15, 3.0, 1.5);
    joins.marks.push(Mark::path(Trace::line([start, end]), line));
    let along = (end - start).normalize_or_zero();
    let across = DVec2::new(along.y.abs(), along.x.abs());
    for share in [0.04, 0.35, 0.65, 0.96] {
        let at = start.lerp(end, share);
        joins.marks.push(Mark::path(Trace::cross(at, 3.0), Ink::line(ACCENT, 0.2)));
        joins.marks.push(Mark::path(Trace::circle(at, 1.5), Ink::line(ACCENT, 0.2)));
        for (side, direction) in sides.iter().zip([-1.0, 1.0]) {
            let spot = at + along * 5.0 + across * direction * 3.0;
            let label = letters.write(side, 2.0, Anchor::Middle, spot, 0.0);
            joins.marks.push(Mark::path(label, Ink::fill(ACCENT)));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tiles_cover_everything_and_fit_the_page() {
        let bounds = Bounds::new(DVec2::new(-150.0, -3.0), DVec2::new(150.0, 200.0));
        let page = DVec2::new(180.0, 120.0);
        let (tiles, joins) = split(bounds, page, &Letters::new());
        let names: Vec<_> = tiles.iter().map(|tile| tile.name.as_str()).collect();
        assert_eq!(names, ["A1", "A2", "B1", "B2"]);
        let all = tiles.iter().fold(Bounds::EMPTY, |all, tile| all.union(tile.view));
        assert!((all.min - bounds.min).length() < 1e-9 && (all.max - bounds.max).length() < 1e-9);
        for tile in &tiles {
            assert!(tile.view.size().x <= page.x && tile.view.size().y <= page.y);
        }
        assert!((tiles[0].view.max.x - tiles[1].view.min.x - OVERLAP_MM).abs() < 1e-9);
        assert!(!joins.marks.is_empty());
    }

    #[test]
    fn what_fits_is_one_tile_without_joins() {
        let bounds = Bounds::new(DVec2::ZERO, DVec2::new(100.0, 100.0));
        let (tiles, joins) = split(bounds, DVec2::splat(100.0), &Letters::new());
        assert_eq!((tiles.len(), joins.marks.len()), (1, 0));
        assert_eq!(tiles[0].view, bounds);
    }
}
