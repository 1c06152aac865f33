//! Least squares by a banded symmetric matrix.

/// A symmetric matrix of which only a band about the diagonal is not zero, and a right side.
#[derive(Debug, Clone)]
pub(super) struct Banded {
    /// Entries below and on the diagonal: row after row, each `width + 1` long, the diagonal last.
    rows: Vec<f64>,
    width: usize,
    right: Vec<f64>,
}

impl Banded {
    /// All zero. `width` is how far from the diagonal entries may lie.
    pub(super) fn new(size: usize, width: usize) -> Self {
        let width = width.min(size.saturating_sub(1));
        Self { rows: vec![0.0; size * (width + 1)], width, right: vec![0.0; size] }
    }

    /// Adds a residual that is `value` now and grows by `slopes` (by index, all within one band).
    pub(super) fn add(&mut self, slopes: &[(usize, f64)], value: f64, weight: f64) {
        for (n, (i, a)) in slopes.iter().enumerate() {
            self.right[*i] -= weight * a * value;
            for (j, b) in &slopes[..=n] {
                let (row, column) = (*i.max(j), *i.min(j));
                self.rows[row * (self.width + 1) + self.width - (row - column)] += weight * a * b;
            }
        }
    }

    /// The least step, each unknown held back by a share of the mean of the diagonal, by Cholesky's
    /// factors (Golub and Van Loan, Matrix Computations, section 4.3, from memory); `None` if it is not
    /// positive.
    pub(super) fn solved(mut self, share: f64) -> Option<Vec<f64>> {
        let size = self.right.len();
        let span = self.width + 1;
        let mean: f64 = (0..size).map(|i| self.rows[i * span + self.width]).sum::<f64>()
            / (size as f64).max(1.0);
        for i in 0..size {
            self.rows[i * span + self.width] += share * mean + f64::MIN_POSITIVE;
            let first = i.saturating_sub(self.width);
            for j in first..=i {
                let common = first.max(j.saturating_sub(self.width));
                // Entry (i, k) lies `width - i + k` into row i.
                let (row_i, row_j) = (i * span + self.width - i, j * span + self.width - j);
                let dot: f64 =
                    (common..j).map(|k| self.rows[row_i + k] * self.rows[row_j + k]).sum();
                let left = self.rows[row_i + j] - dot;
                if j < i {
                    self.rows[row_i + j] = left / self.rows[row_j + j];
                } else if left > 0.0 {
                    self.rows[row_i + i] = left.sqrt();
                } else {
                    return None;
                }
            }
        }
        let mut x = self.right;
        for i in 0..size {
            let row = i * span + self.width - i;
            let dot: f64 =
                (i.saturating_sub(self.width)..i).map(|k| self.rows[row + k] * x[k]).sum();
            x[i] = (x[i] - dot) / self.rows[row + i];
        }
        for i in (0..size).rev() {
            let row = i * span + self.width - i;
            x[i] /= self.rows[row + i];
            for k in i.saturating_sub(self.width)..i {
                x[k] -= self.rows[row + k] * x[i];
            }
        }
        x.iter().all(|one| one.is_finite()).then_some(x)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_chain_of_springs_hangs_as_its_stiffness_says() {
        // Ten springs of stiffness 2 in a row, the first end held, the last pulled by 3: each is 1.5
        // longer (Hooke).
        let size = 10;
        let mut matrix = Banded::new(size, 1);
        for i in 0..size {
            let slopes = [(i, 1.0), (i.max(1) - 1, -1.0)];
            matrix.add(if i == 0 { &slopes[..1] } else { &slopes }, 0.0, 2.0);
        }
        matrix.right[size - 1] += 3.0;
        let x = matrix.solved(0.0).expect("it is positive");
        for (i, x) in x.iter().enumerate() {
            assert!((x - 1.5 * (i as f64 + 1.0)).abs() < 1e-12, "{i}: {x}");
        }
    }

    #[test]
    fn what_nothing_holds_stays_where_it_is() {
        let mut matrix = Banded::new(2, 1);
        // Only the difference is asked for.
        matrix.add(&[(0, 1.0), (1, -1.0)], -2.0, 1.0);
        let x = matrix.solved(1e-9).expect("it is held back");
        assert!((x[0] - x[1] - 2.0).abs() < 1e-6 && (x[0] + x[1]).abs() < 1e-6, "{x:?}");
    }
}
