//! The runs of a line of text: of one direction and one script each, in the order in which they are set.

use std::ops::Range;
use unicode_bidi::ParagraphBidiInfo;
use unicode_script::{Script, UnicodeScript as _};

/// Part of a text that is shaped as one.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Run {
    /// Where in the text it lies.
    pub(crate) bytes: Range<usize>,
    /// It is read from right to left.
    pub(crate) from_right: bool,
}

/// The runs of one line, from left to right as they stand: by the Unicode Bidirectional Algorithm
/// (Unicode Standard Annex 9), the first letter with a direction giving that of the line.
pub(crate) fn runs(text: &str) -> Vec<Run> {
    let line = ParagraphBidiInfo::new(text, None);
    let (levels, runs) = line.visual_runs(0..text.len());
    runs.into_iter()
        .flat_map(|bytes| {
            let from_right = levels[bytes.start].is_rtl();
            let mut parts = of_one_script(text, bytes);
            if from_right {
                parts.reverse();
            }
            parts.into_iter().map(move |bytes| Run { bytes, from_right })
        })
        .collect()
}

/// The parts of a run that are of one script each; marks, digits and spaces go with what is before them
/// (Unicode Standard Annex 24, Common and Inherited).
fn of_one_script(text: &str, run: Range<usize>) -> Vec<Range<usize>> {
    let mut parts = Vec::new();
    let (mut begins, mut script) = (run.start, None);
    for (at, letter) in text[run.clone()].char_indices() {
        let own = letter.script();
        if matches!(own, Script::Common | Script::Inherited | Script::Unknown) {
            continue;
        }
        if script.is_some_and(|before| before != own) {
            parts.push(begins..run.start + at);
            begins = run.start + at;
        }
        script = Some(own);
    }
    parts.push(begins..run.end);
    parts
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Capitals as letters of Hebrew, as in the examples of the annex.
    fn hebrew(text: &str) -> String {
        let letter = |c: char| match c {
            'A'..='Z' => char::from_u32(0x05D0 + u32::from(c) - u32::from('A')).unwrap_or(c),
            _ => c,
        };
        text.chars().map(letter).collect()
    }

    /// What stands from left to right, with Hebrew as capitals again, brackets mirrored as a shaper does
    /// and without what only gives directions.
    fn shown(text: &str) -> String {
        let text = hebrew(text);
        let mut shown = String::new();
        for run in runs(&text) {
            let letters = text[run.bytes.clone()].chars();
            let turned: Vec<char> =
                if run.from_right { letters.rev().collect() } else { letters.collect() };
            shown.extend(turned.into_iter().filter_map(|c| match (c, run.from_right) {
                ('\u{05D0}'..='\u{05E9}', _) => {
                    char::from_u32(u32::from(c) - 0x05D0 + u32::from('A'))
                }
                ('(', true) => Some(')'),
                (')', true) => Some('('),
                ('\u{2066}'..='\u{2069}', _) => None,
                _ => Some(c),
            }));
        }
        shown
    }

    #[test]
    fn the_examples_of_the_annex_stand_as_it_shows_them() {
        // Unicode Standard Annex 9, rule L2 (from memory); \u{2066} and \u{2067} open a stretch from left
        // to right and from right to left, \u{2069} closes it.
        for (text, expected) in [
            ("car means CAR.", "car means RAC."),
            ("\u{2067}car MEANS CAR.\u{2069}", ".RAC SNAEM car"),
            (
                "he said \u{201c}\u{2067}car MEANS CAR\u{2069}.\u{201d} \u{201c}\u{2067}IT DOES\u{2069},\u{201d} she agreed.",
                "he said \u{201c}RAC SNAEM car.\u{201d} \u{201c}SEOD TI,\u{201d} she agreed.",
            ),
            (
                "DID YOU SAY '\u{2066}he said \"\u{2067}car MEANS CAR\u{2069}\"\u{2069}'?",
                "?'he said \"RAC SNAEM car\"' YAS UOY DID",
            ),
        ] {
            assert_eq!(shown(text), expected);
        }
    }

    #[test]
    fn digits_and_brackets_stand_as_they_are_read() {
        for (text, expected) in [
            ("NOAH", "HAON"),
            ("NOAH 2027", "2027 HAON"),
            ("noa NOAH", "noa HAON"),
            ("NOAH (noa)", "(noa) HAON"),
            ("NOAH (DAN)", "(NAD) HAON"),
            ("ebb (2027)", "ebb (2027)"),
            ("2027", "2027"),
        ] {
            assert_eq!(shown(text), expected);
        }
    }

    #[test]
    fn scripts_are_shaped_apart() {
        let parts = |text: &str| -> Vec<String> {
            runs(text).into_iter().map(|run| text[run.bytes].to_owned()).collect()
        };
        assert_eq!(parts("Ebb 12 & Flo"), ["Ebb 12 & Flo"]);
        assert_eq!(parts("Ebb Прилив"), ["Ebb ", "Прилив"]);
        assert_eq!(parts("נועה نور"), ["نور", "נועה "]);
    }
}
