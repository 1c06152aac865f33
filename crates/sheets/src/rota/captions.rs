//! Short words beneath blocks, placed so that none lies on another.

use super::blocks::{SMALL, width};
use crate::drawing::Letters;

/// Height of a line of captions, mm.
pub(super) const LINE: f64 = 2.7;
/// Lines of captions at most.
const LINES: usize = 2;
/// Blocks closer than this share a caption, mm.
const CLOSE: f64 = 1.2;
/// A shared caption is no longer than this, mm.
const LONGEST: f64 = 26.0;
/// Room between captions, mm.
const ROOM: f64 = 1.2;

/// A word that belongs to a stretch of the row.
#[derive(Debug, Clone)]
pub(super) struct Word {
    pub(super) from: f64,
    pub(super) until: f64,
    pub(super) text: String,
    /// Stands on a dark plate, by itself.
    pub(super) strong: bool,
}

/// Where a caption begins, and on which line.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Caption {
    pub(super) left: f64,
    pub(super) line: usize,
    pub(super) text: String,
    pub(super) strong: bool,
}

/// Places the words in as few lines as can be; one that finds no room is left out. `right` is where the
/// row ends.
pub(super) fn place(letters: &Letters, mut words: Vec<Word>, right: f64) -> Vec<Caption> {
    words.sort_by(|a, b| a.from.total_cmp(&b.from));
    let mut groups: Vec<Word> = Vec::new();
    let mut strong = Vec::new();
    for word in words {
        if word.strong {
            strong.push(word);
            continue;
        }
        let last = groups.last_mut().filter(|last| word.from - last.until < CLOSE);
        let joined = last.map(|last| {
            let said = last.text.rsplit(" \u{b7} ").next() == Some(word.text.as_str());
            let text = if said {
                last.text.clone()
            } else {
                format!("{} \u{b7} {}", last.text, word.text)
            };
            (last, text)
        });
        match joined {
            Some((last, text)) if width(letters, &text, SMALL) <= LONGEST => {
                last.until = last.until.max(word.until);
                last.text = text;
            }
            _ => groups.push(word),
        }
    }
    // What must not be missed finds its place first.
    let mut captions: Vec<(Caption, f64)> = Vec::new();
    for word in strong.into_iter().chain(groups) {
        let wide = width(letters, &word.text, SMALL) + if word.strong { 1.4 } else { 0.0 };
        let left = word.from.min(right - wide);
        let free = |line: &usize| {
            captions
                .iter()
                .filter(|(other, _)| other.line == *line)
                .all(|(other, end)| left + wide + ROOM <= other.left || *end + ROOM <= left)
        };
        if let Some(line) = (0..LINES).find(free) {
            let caption = Caption { left, line, text: word.text, strong: word.strong };
            captions.push((caption, left + wide));
        }
    }
    captions.into_iter().map(|(caption, _)| caption).collect()
}

/// How many lines they take.
pub(super) fn lines(captions: &[Caption]) -> usize {
    captions.iter().map(|caption| caption.line + 1).max().unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn word(from: f64, text: &str) -> Word {
        Word { from, until: from + 1.0, text: text.to_owned(), strong: false }
    }

    #[test]
    fn close_words_are_joined_and_crowded_ones_take_another_line() {
        let letters = Letters::new();
        let words =
            vec![word(0.0, "mask"), word(1.5, "paint"), word(2.6, "paint"), word(5.0, "pour")];
        let placed = place(&letters, words, 100.0);
        assert_eq!(placed[0].text, "mask \u{b7} paint");
        assert_eq!((placed[1].text.as_str(), placed[1].line), ("pour", 1));
        assert_eq!(lines(&placed), 2);
    }

    #[test]
    fn none_reaches_beyond_the_row_and_the_strong_come_first() {
        let letters = Letters::new();
        let mut late = word(98.0, "LATE");
        late.strong = true;
        let placed = place(&letters, vec![word(97.0, "pack"), late], 100.0);
        assert!(placed.iter().all(|caption| caption.left < 98.0));
        assert!(placed[0].strong && placed[0].line == 0 && placed[1].line == 1);
    }
}
