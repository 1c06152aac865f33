//! How each maker is known at a glance: a short tag, an ink, and a pattern that is told apart without
//! colour.

use crate::drawing::{INK, Srgb, WHITE};
use std::collections::BTreeSet;
use work::rota::Rota;

/// Lines over the ink of a block.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Pattern {
    Plain,
    Rising,
    Dotted,
    Level,
    Falling,
    Upright,
}

/// How a maker's work is drawn.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Look {
    /// Few letters that no other maker has.
    pub(super) tag: String,
    pub(super) fill: Srgb,
    /// For letters and pattern on the fill.
    pub(super) on_fill: Srgb,
    pub(super) pattern: Pattern,
}

/// Deep water, wet sand, samphire in autumn, sea lavender, reed, mist: each is lighter or darker than
/// its neighbours, so that they differ in grey and to eyes that miss red or green.
const LOOKS: [(Srgb, Srgb, Pattern); 6] = [
    ([0x1f, 0x55, 0x60], WHITE, Pattern::Plain),
    ([0xdc, 0xab, 0x52], INK, Pattern::Rising),
    ([0x93, 0x38, 0x2a], WHITE, Pattern::Dotted),
    ([0xb1, 0xa4, 0xd2], INK, Pattern::Level),
    ([0x4d, 0x63, 0x1f], WHITE, Pattern::Falling),
    ([0xbf, 0xcb, 0xc6], INK, Pattern::Upright),
];

/// Hands that nobody's name stands for.
pub(super) static NOBODY: Look =
    Look { tag: String::new(), fill: WHITE, on_fill: INK, pattern: Pattern::Plain };

/// The look of every maker, in order. After the sixth, the inks come again with other patterns.
pub(super) fn looks(rota: &Rota) -> Vec<Look> {
    let names: Vec<_> = rota.makers.iter().map(|maker| maker.name.as_str()).collect();
    let look = |(index, tag): (usize, String)| {
        let (fill, on_fill, _) = LOOKS[index % LOOKS.len()];
        let (_, _, pattern) = LOOKS[(index + index / LOOKS.len()) % LOOKS.len()];
        Look { tag, fill, on_fill, pattern }
    };
    tags(&names).into_iter().enumerate().map(look).collect()
}

/// The first letters of each name, as few as tell it from the others and three at most; a number where
/// that is not enough.
fn tags(names: &[&str]) -> Vec<String> {
    let start = |name: &str, count: usize| -> String {
        let mut letters = name.chars().filter(|letter| letter.is_alphanumeric()).take(count);
        let first = letters.next().map(|letter| letter.to_uppercase().to_string());
        first.into_iter().chain(letters.map(|letter| letter.to_string())).collect()
    };
    let alone = |name: &str, count: usize| {
        let tag = start(name, count);
        let same = names.iter().filter(|other| start(other, count) == tag).count();
        (same == 1 && !tag.is_empty()).then_some(tag)
    };
    let mut taken = BTreeSet::new();
    let tag = |(index, name): (usize, &&str)| {
        let tag = (1..=3).find_map(|count| alone(name, count));
        let tag = tag.filter(|tag| !taken.contains(tag)).unwrap_or_else(|| (index + 1).to_string());
        taken.insert(tag.clone());
        tag
    };
    names.iter().enumerate().map(tag).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tags_are_short_and_tell_makers_apart() {
        assert_eq!(tags(&["Wren", "Ondine"]), ["W", "O"]);
        assert_eq!(tags(&["Wren", "wilma", "Ondine"]), ["Wr", "Wi", "O"]);
        assert_eq!(tags(&["Mara", "Mara", ""]), ["1", "2", "3"]);
    }

    /// Lightness of sRGB (CIE 1976 L*; formulas of IEC 61966-2-1 and CIE 15, from memory).
    fn lightness([r, g, b]: Srgb) -> f64 {
        let linear = |value: u8| {
            let value = f64::from(value) / 255.0;
            if value <= 0.04045 { value / 12.92 } else { libm::pow((value + 0.055) / 1.055, 2.4) }
        };
        let y = 0.2126 * linear(r) + 0.7152 * linear(g) + 0.0722 * linear(b);
        116.0 * libm::cbrt(y) - 16.0
    }

    #[test]
    fn neighbours_differ_in_lightness_and_letters_can_be_read() {
        for pair in LOOKS.windows(2) {
            let (one, other) = (lightness(pair[0].0), lightness(pair[1].0));
            assert!((one - other).abs() > 25.0, "{one} {other}");
        }
        for (fill, on_fill, _) in LOOKS {
            assert!((lightness(fill) - lightness(on_fill)).abs() > 45.0, "{fill:?}");
        }
    }

    #[test]
    fn twelve_makers_look_different() {
        let look = |index: usize| (LOOKS[index % 6].0, LOOKS[(index + index / 6) % 6].2 as u8);
        let looks: BTreeSet<_> = (0..12).map(look).collect();
        assert_eq!(looks.len(), 12);
    }
}
