//! Numbers as they stand in tables and file names: a fixed count of digits, never `-0`.

/// A number with a point and exactly `digits` decimals.
pub(crate) fn fixed(value: f64, digits: usize) -> String {
    let text = format!("{value:.digits$}");
    match text.strip_prefix('-') {
        Some(rest) if rest.bytes().all(|byte| matches!(byte, b'0' | b'.')) => rest.to_owned(),
        _ => text,
    }
}

/// A number without zeros at the end: for SVG coordinates, to 0.001 mm. Drawings hold hundreds of
/// thousands of them, so they are put together from whole thousandths.
pub(crate) fn short(value: f64) -> String {
    let thousandths = (value * 1000.0).round() as i64;
    let minus = if thousandths < 0 { "-" } else { "" };
    let (whole, part) = (thousandths.unsigned_abs() / 1000, thousandths.unsigned_abs() % 1000);
    match part {
        0 => format!("{minus}{whole}"),
        _ if part.is_multiple_of(100) => format!("{minus}{whole}.{}", part / 100),
        _ if part.is_multiple_of(10) => format!("{minus}{whole}.{:02}", part / 10),
        _ => format!("{minus}{whole}.{part:03}"),
    }
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
        assert_eq!(short(-12.3), "-12.3");
        assert_eq!(short(0.0625), "0.063");
        assert_eq!(short(1.005), "1.005");
    }
}
