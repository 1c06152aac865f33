//! What a piece of film covers, row by row: the form in which pieces are nested.
//!
//! Each row is 1 mm high, and holds the stretches across it that the piece reaches anywhere within the
//! row, to the next hundredth of a mm outwards. Pieces whose stretches do not meet do not meet either
//! (semi-discrete representation: Okano 2002; Chehrazad, Roose and Wauters 2022, both from memory).

/// Height of a row, mm.
pub(super) const ROW_MM: f64 = 1.0;
/// Steps across a sheet in one mm.
pub(super) const STEPS_PER_MM: f64 = 100.0;

/// A stretch across a row, in steps, from and to.
pub(super) type Stretch = (i32, i32);

/// The rows of a piece from its upper edge.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Covered {
    /// Stretches of each row from left to right, apart from each other.
    pub(super) rows: Vec<Vec<Stretch>>,
    /// Width of the piece, steps.
    pub(super) width: i32,
    /// Its height, steps.
    pub(super) height: i32,
}

/// A length in steps, rounded up.
pub(super) fn steps_up(mm: f64) -> i32 {
    (mm * STEPS_PER_MM - 1e-6).ceil() as i32
}

/// A length in steps, rounded down.
pub(super) fn steps_down(mm: f64) -> i32 {
    (mm * STEPS_PER_MM + 1e-6).floor() as i32
}

impl Covered {
    /// What outlines cover, even-odd, that lie in a rectangle with its corner at 0.
    pub(super) fn new(outlines: &[Vec<[f64; 2]>], (width, height): (f64, f64)) -> Self {
        let count = ((height / ROW_MM - 1e-6).ceil() as usize).max(1);
        let edges: Vec<([f64; 2], [f64; 2])> = outlines
            .iter()
            .flat_map(|one| one.iter().zip(one.iter().cycle().skip(1)))
            .filter(|(a, b)| a[1] != b[1])
            .map(|(&a, &b)| if a[1] < b[1] { (a, b) } else { (b, a) })
            .collect();
        let mut in_row: Vec<Vec<usize>> = vec![Vec::new(); count];
        let row_of = |y: f64| ((y / ROW_MM).floor().max(0.0) as usize).min(count - 1);
        for (index, (a, b)) in edges.iter().enumerate() {
            for row in &mut in_row[row_of(a[1])..=row_of(b[1])] {
                row.push(index);
            }
        }
        let rows = in_row.iter().enumerate().map(|(row, inside)| {
            let (top, end) = (row as f64 * ROW_MM, (row + 1) as f64 * ROW_MM);
            let mut levels = vec![top, end];
            for &index in inside {
                let (a, b) = edges[index];
                levels.extend([a[1], b[1]].into_iter().filter(|y| top < *y && *y < end));
            }
            levels.sort_by(f64::total_cmp);
            levels.dedup();
            let mut stretches = Vec::new();
            for pair in levels.windows(2) {
                let across =
                    edges_between(inside.iter().map(|&index| edges[index]), pair[0], pair[1]);
                stretches.extend(across.chunks_exact(2).map(|sides| {
                    let (left, right) = (sides[0], sides[1]);
                    let (from, to) = (left.0.min(left.1).max(0.0), right.0.max(right.1).min(width));
                    (steps_down(from), steps_up(to))
                }));
            }
            merged(stretches)
        });
        let rows = rows.collect();
        Self { rows, width: steps_up(width), height: steps_up(height) }
    }
}

/// Where edges that run through from one level to another meet both, from left to right.
fn edges_between(
    edges: impl Iterator<Item = ([f64; 2], [f64; 2])>,
    from: f64,
    to: f64,
) -> Vec<(f64, f64)> {
    let mut across: Vec<(f64, f64)> = edges
        .filter(|(a, b)| a[1] <= from && to <= b[1])
        .map(|(a, b)| {
            let at = |y: f64| a[0] + (b[0] - a[0]) * (y - a[1]) / (b[1] - a[1]);
            (at(from), at(to))
        })
        .collect();
    across.sort_by(|one, other| (one.0 + one.1).total_cmp(&(other.0 + other.1)));
    across
}

/// Stretches from left to right, those that meet made one.
fn merged(mut stretches: Vec<Stretch>) -> Vec<Stretch> {
    stretches.sort_unstable();
    let mut all: Vec<Stretch> = Vec::with_capacity(stretches.len());
    for (from, to) in stretches {
        match all.last_mut() {
            Some(last) if from <= last.1 => last.1 = last.1.max(to),
            _ => all.push((from, to)),
        }
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_row_holds_all_that_is_reached_within_it() {
        // A triangle with its tip on top, 2 mm high, 2 mm wide below.
        let triangle = vec![vec![[1.0, 0.0], [2.0, 2.0], [0.0, 2.0]]];
        let covered = Covered::new(&triangle, (2.0, 2.0));
        assert_eq!(covered.rows, [vec![(50, 150)], vec![(0, 200)]]);
        // The same the other way up: the wider end of each row counts.
        let turned = vec![vec![[0.0, 0.0], [2.0, 0.0], [1.0, 2.0]]];
        assert_eq!(Covered::new(&turned, (2.0, 2.0)).rows, [vec![(0, 200)], vec![(50, 150)]]);
    }

    #[test]
    fn holes_stay_free_where_they_reach_through_a_row() {
        let square = |from: f64, to: f64| vec![[from, from], [to, from], [to, to], [from, to]];
        let covered = Covered::new(&[square(0.0, 10.0), square(2.5, 7.5)], (10.0, 10.0));
        assert_eq!(covered.rows[2], [(0, 1000)]);
        assert_eq!(covered.rows[3], [(0, 250), (750, 1000)]);
        assert_eq!(covered.rows[7], [(0, 1000)]);
    }
}
