//! Numbers as they are typed.

/// The longest start that reads as a number, and the rest. With `fractions` that may be `2 3/4`.
pub(super) fn split(text: &str, fractions: bool) -> (&str, &str) {
    let signed = text.strip_prefix(['+', '-']).unwrap_or(text);
    let sign = text.len() - signed.len();
    let digits = |s: &str| s.len() - s.trim_start_matches(|c: char| c.is_ascii_digit()).len();
    let mut end = digits(signed);
    if fractions {
        let (mut at, whole) = (end, end);
        at += signed[at..].len() - signed[at..].trim_start_matches(' ').len();
        let numerator = digits(&signed[at..]);
        let over = at + numerator;
        for slash in [whole, over] {
            if slash > 0 && (slash == whole || numerator > 0) && signed[slash..].starts_with('/') {
                let denominator = digits(&signed[slash + 1..]);
                if denominator > 0 {
                    return text.split_at(sign + slash + 1 + denominator);
                }
            }
        }
    }
    if signed[end..].starts_with('.') {
        let decimals = digits(&signed[end + 1..]);
        if end > 0 || decimals > 0 {
            end += 1 + decimals;
        }
    }
    if end == 0 { ("", text) } else { text.split_at(sign + end) }
}

/// `2.5`, `3/4` or `2 3/4`, with a sign.
pub(super) fn value_of(number: &str) -> Option<f64> {
    let Some((left, denominator)) = number.split_once('/') else {
        return number.parse().ok();
    };
    let (whole, numerator) = left.rsplit_once(' ').unwrap_or(("0", left));
    let whole = whole.trim_matches(' ');
    let (sign, whole) =
        (if number.starts_with('-') { -1.0 } else { 1.0 }, whole.trim_start_matches(['+', '-']));
    let numerator = numerator.trim_start_matches(['+', '-']);
    let (whole, numerator): (f64, f64) = (whole.parse().ok()?, numerator.parse().ok()?);
    let denominator: f64 = denominator.parse().ok()?;
    (denominator > 0.0).then(|| sign * (whole + numerator / denominator))
}
