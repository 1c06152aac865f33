//! Numbers as they stand in tables and file names: a fixed count of digits, never `-0`.

/// A number with a point and exactly `digits` decimals.
pub(crate) fn fixed(value: f64, digits: usize) -> String {
    let text = format!("{value:.digits$}");
    match text.strip_prefix('-') {
        Some(rest) if rest.bytes().all(|byte| matches!(byte, b'0' | b'.')) => rest.to_owned(),
        _ => text,
    }
}

/// The same without zeros at the end: for SVG coordinates, to 0.001 mm.
pub(crate) fn short(value: f64) -> String {
    let text = fixed(value, 3);
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// A number rounded to `digits` decimals, for JSON.
pub(crate) fn rounded(value: f64, digits: usize) -> f64 {
    fixed(value, digits).parse().unwrap_or(value)
}

pub(crate) use piece::file_name::slug;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_keep_their_digits_and_lose_a_minus_before_nothing() {
        assert_eq!(fixed(-0.0004, 3), "0.000");
        assert_eq!(fixed(-0.0006, 3), "-0.001");
        assert_eq!(fixed(2.0, 2), "2.00");
        assert_eq!(short(10.0), "10");
        assert_eq!(short(-0.000_1), "0");
        assert_eq!(short(12.340_4), "12.34");
    }
}
