//! Where a function is zero.

/// The argument between `low` and `high` (both above 0) at which a falling `gap` passes from above to
/// below 0, to 1 part in 10,000, by halving the ratio: `None` if it is below 0 already at `low`, and
/// `high` if it never gets there.
pub(crate) fn falling<E>(
    (mut low, mut high): (f64, f64),
    mut gap: impl FnMut(f64) -> Result<f64, E>,
) -> Result<Option<f64>, E> {
    if gap(low)? < 0.0 {
        return Ok(None);
    }
    if gap(high)? >= 0.0 {
        return Ok(Some(high));
    }
    while high > low * 1.0001 {
        let middle = (low * high).sqrt();
        if gap(middle)? >= 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    Ok(Some(low))
}

/// The argument between two bounds at which a steadily rising `gap` is 0, or the bound nearest to it: the
/// false position of Illinois (Dowell and Jarratt, BIT 11, 168, 1971, from memory), to `within`.
pub(crate) fn rising<E>(
    (mut low, mut high): (f64, f64),
    within: f64,
    mut gap: impl FnMut(f64) -> Result<f64, E>,
) -> Result<f64, E> {
    let mut below = gap(low)?;
    if below >= 0.0 {
        return Ok(low);
    }
    let mut above = gap(high)?;
    if above <= 0.0 {
        return Ok(high);
    }
    let mut last_was_below = None;
    for _ in 0..100 {
        let at = (low * above - high * below) / (above - below);
        let found = gap(at)?;
        if found.abs() <= within || high - low <= 1e-12 * high.abs() {
            return Ok(at);
        }
        let is_below = found < 0.0;
        // The end that stays twice counts half, so that it moves too.
        if is_below {
            (low, below) = (at, found);
            if last_was_below == Some(true) {
                above *= 0.5;
            }
        } else {
            (high, above) = (at, found);
            if last_was_below == Some(false) {
                below *= 0.5;
            }
        }
        last_was_below = Some(is_below);
    }
    Ok(0.5 * (low + high))
}

/// The place between `low` and `high` where `f` changes its sign, to the last bit, by halving; `None`
/// if it has the same sign at both ends.
pub(crate) fn sign_change(f: &dyn Fn(f64) -> f64, low: f64, high: f64) -> Option<f64> {
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
