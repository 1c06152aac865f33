//! Where a function changes its sign.

/// The place between `low` and `high` where `f` changes its sign, to the last bit, by halving; `None`
/// if it has the same sign at both ends.
pub(super) fn root(f: &dyn Fn(f64) -> f64, low: f64, high: f64) -> Option<f64> {
    let (mut low, mut high) = (low, high);
    let rising = f(low) < 0.0;
    if rising == (f(high) < 0.0) {
        return None;
    }
    loop {
        let middle = f64::midpoint(low, high);
        if middle <= low || middle >= high {
            return Some(middle);
        }
        if (f(middle) < 0.0) == rising {
            low = middle;
        } else {
            high = middle;
        }
    }
}
