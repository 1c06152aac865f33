//! Numbers as they stand in tables and file names: a fixed count of digits, never `-0`.

/// A number with a point and exactly `digits` decimals.
pub(crate) fn fixed(value: f64, digits: usize) -> String {
    let text = format!("{value:.digits$}");
    match text.strip_prefix('-') {
        Some(rest) if rest.bytes().all(|byte| matches!(byte, b'0' | b'.')) => rest.to_owned(),
        _ => text,
    }
}

/// A number without zeros at the end: for SVG coordinates, to 0.001 mm.
pub(crate) fn short(value: f64) -> String {
    let mut text = String::new();
    push_short(&mut text, value);
    text
}

/// Adds a number without zeros at the end. Drawings hold hundreds of thousands of them, so they are
/// put together digit by digit from whole thousandths.
pub(crate) fn push_short(text: &mut String, value: f64) {
    let thousandths = (value * 1000.0).round() as i64;
    if thousandths < 0 {
        text.push('-');
    }
    let thousandths = thousandths.unsigned_abs();
    push_whole(text, thousandths / 1000);
    let mut part = thousandths % 1000;
    if part > 0 {
        text.push('.');
    }
    while part > 0 {
        text.push(digit(part / 100));
        part = part % 100 * 10;
    }
}

fn push_whole(text: &mut String, value: u64) {
    if value >= 10 {
        push_whole(text, value / 10);
    }
    text.push(digit(value % 10));
}

fn digit(value: u64) -> char {
    char::from(b'0' + value as u8)
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
        assert_eq!(short(-1203.09), "-1203.09");
    }
}
