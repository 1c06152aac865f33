//! Lines between the patches that stones are set in.

use super::near::Cells;
use super::stone_marks::PageStone;
use glam::DVec2;

/// Half the width of the square in which the cell of a stone is cut: beyond its girdle it reaches over the
/// gap to the next stone, and over a hole as wide as a stone.
fn reach_mm(stone: &PageStone, usual: Usual) -> f64 {
    stone.diameter_mm / 2.0 + f64::max(0.6 * usual.diameter_mm, 0.8 * usual.gap_mm)
}

/// What stones are like in the middle of them all.
#[derive(Clone, Copy)]
struct Usual {
    diameter_mm: f64,
    /// From girdle to girdle.
    gap_mm: f64,
}

/// The borders of the patches: wherever cells of stones of two patches meet. The cell of a stone is where
/// the power of a place to its circle is less than to any other (Aurenhammer 1987, power diagrams; from
/// memory), so no line crosses a stone, and lines meet in corners.
pub(super) fn borders(stones: &[PageStone]) -> Vec<[DVec2; 2]> {
    let mut borders = Vec::new();
    let usual = usual(stones);
    let widest_mm = stones.iter().map(|stone| reach_mm(stone, usual)).fold(0.1, f64::max);
    // Corners of the squares of two stones meet at most so far from their middles.
    let cells = Cells::new(stones, 2.0 * std::f64::consts::SQRT_2 * widest_mm);
    for (index, stone) in stones.iter().enumerate() {
        let near: Vec<usize> = cells.about(stone.centre).filter(|other| *other != index).collect();
        if near.iter().all(|other| stones[*other].patch == stone.patch) {
            continue;
        }
        for (from, to, beside) in cell(stones, stone, &near, reach_mm(stone, usual)) {
            // Both cells have the side; the other draws it.
            if beside > index && stones[beside].patch != stone.patch {
                borders.push([from, to]);
            }
        }
    }
    borders
}

/// The sides of a stone's cell that it has in common with other stones.
fn cell(
    stones: &[PageStone],
    stone: &PageStone,
    near: &[usize],
    reach_mm: f64,
) -> Vec<(DVec2, DVec2, usize)> {
    let corner = |x: f64, y: f64| (stone.centre + DVec2::new(x, y) * reach_mm, None);
    // Each corner with the stone beyond the side that begins there.
    let mut corners: Vec<(DVec2, Option<usize>)> =
        vec![corner(-1.0, -1.0), corner(1.0, -1.0), corner(1.0, 1.0), corner(-1.0, 1.0)];
    for &other in near {
        let away = stones[other].centre - stone.centre;
        let (one, two) = (stone.diameter_mm / 2.0, stones[other].diameter_mm / 2.0);
        // Where the powers are equal, along the way to the other's middle.
        let share = (away.length_squared() + one * one - two * two) / 2.0;
        let beyond = |at: DVec2| (at - stone.centre).dot(away) - share;
        let mut kept = Vec::with_capacity(corners.len() + 1);
        for (place, &(from, beside)) in corners.iter().enumerate() {
            let (to, _) = corners[(place + 1) % corners.len()];
            let (start, end) = (beyond(from), beyond(to));
            let crossing = || from.lerp(to, start / (start - end));
            if start <= 0.0 {
                kept.push((from, beside));
                if end > 0.0 {
                    kept.push((crossing(), Some(other)));
                }
            } else if end <= 0.0 {
                kept.push((crossing(), beside));
            }
        }
        corners = kept;
    }
    let sides = corners.iter().enumerate().filter_map(|(place, &(from, beside))| {
        Some((from, corners[(place + 1) % corners.len()].0, beside?))
    });
    sides.filter(|(from, to, _)| from != to).collect()
}

fn usual(stones: &[PageStone]) -> Usual {
    let mut diameters: Vec<f64> = stones.iter().map(|stone| stone.diameter_mm).collect();
    let diameter_mm = middle(&mut diameters).unwrap_or(1.0);
    // Single stones lie as far apart as ten of them are wide and more.
    let cells = Cells::new(stones, 12.0 * diameter_mm);
    let gap = |(index, stone): (usize, &PageStone)| {
        let gaps = cells.about(stone.centre).filter(|other| *other != index).map(|other| {
            let touching_mm = (stone.diameter_mm + stones[other].diameter_mm) / 2.0;
            (stone.centre - stones[other].centre).length() - touching_mm
        });
        gaps.reduce(f64::min)
    };
    // A sample is enough to tell close stones from single ones.
    let every = stones.len() / 200 + 1;
    let mut gaps: Vec<f64> = stones.iter().enumerate().step_by(every).filter_map(gap).collect();
    Usual { diameter_mm, gap_mm: middle(&mut gaps).unwrap_or(0.0) }
}

fn middle(values: &mut [f64]) -> Option<f64> {
    values.sort_by(f64::total_cmp);
    values.get(values.len() / 2).copied()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn stone(x: f64, y: f64, diameter_mm: f64, patch: u32) -> PageStone {
        PageStone { centre: DVec2::new(x, y), diameter_mm, colour: 0, layer: 0, patch }
    }

    #[test]
    fn between_two_circles_the_border_lies_where_tangents_are_equal() {
        // The radical axis of two circles (as in any geometry of circles): at a distance of
        // (d² + r1² - r2²) / 2d from the middle of the first: (25 + 4 - 1) / 10 = 2.8.
        let found = borders(&[stone(0.0, 0.0, 4.0, 1), stone(5.0, 0.0, 2.0, 2)]);
        let [[from, to]] = found[..] else { panic!("{found:?}") };
        assert!((from.x - 2.8).abs() < 1e-12 && (to.x - 2.8).abs() < 1e-12);
        assert!((from.y + to.y).abs() < 1e-12 && (to.y - from.y).abs() > 4.0);
    }

    #[test]
    fn borders_cross_no_stone_and_part_patches_from_end_to_end() {
        // Rows of 30 and of three sizes, shifted by chance numbers of a low-discrepancy sequence.
        let mut stones = Vec::new();
        for row in 0..20_u32 {
            for column in 0..30_u32 {
                let number = f64::from(row * 30 + column);
                let shift = DVec2::new(number * 0.754_877, number * 0.569_840).fract() * 0.3;
                let diameter_mm = [1.8, 2.4, 2.8][((row + column) % 3) as usize];
                let at = DVec2::new(f64::from(column), f64::from(row)) * 3.2 + shift;
                stones.push(stone(at.x, at.y, diameter_mm, 1 + u32::from(column >= 15)));
            }
        }
        let found = borders(&stones);
        for [from, to] in &found {
            for stone in &stones {
                let way = *to - *from;
                let share = (stone.centre - *from).dot(way) / way.length_squared();
                let off = stone.centre.distance(from.lerp(*to, share.clamp(0.0, 1.0)));
                assert!(off > stone.diameter_mm / 2.0, "{off}");
            }
        }
        // From the first row to the last, without a gap.
        let mut ends: Vec<(f64, f64)> =
            found.iter().map(|[from, to]| (from.y.min(to.y), from.y.max(to.y))).collect();
        ends.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut reached = ends[0].1;
        for (low, high) in ends {
            assert!(low <= reached + 1e-9, "a gap from {reached} to {low}");
            reached = reached.max(high);
        }
        assert!(reached > 19.0 * 3.2);
    }
}
