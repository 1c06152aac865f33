//! What is refused in an SVG file before it is drawn.

use super::LARGEST_NUMBER;
use crate::path_numbers::largest_number;
use usvg::roxmltree;

/// More characters of text than this in one drawing are a page, not a drawing.
const MOST_LETTERS: usize = 2000;

/// The first thing in a file that is refused: its line, what it does, and what to do.
pub(super) fn forbidden(document: &roxmltree::Document) -> Option<(u32, String, &'static str)> {
    let mut letters = 0;
    for node in document.descendants().filter(roxmltree::Node::is_element) {
        let line = || document.text_pos_at(node.range().start).row;
        let name = node.tag_name().name();
        match name {
            "script" | "handler" => {
                return Some((
                    line(),
                    "holds a script".to_owned(),
                    "Take the script out; a drawing needs none.",
                ));
            }
            "image" | "feImage" => {
                return Some((
                    line(),
                    "holds a picture made of dots".to_owned(),
                    "Trace it into paths first, or name a PNG or JPEG file instead of this one.",
                ));
            }
            "text" => {
                let long =
                    |node: &roxmltree::Node| node.text().map_or(0, |text| text.chars().count());
                letters += node
                    .descendants()
                    .filter(roxmltree::Node::is_text)
                    .map(|n| long(&n))
                    .sum::<usize>();
                if letters > MOST_LETTERS {
                    return Some((
                        line(),
                        format!("holds more than {MOST_LETTERS} characters of text"),
                        "Take text out; `lettering` sets words, too.",
                    ));
                }
            }
            // One marker is drawn again at every corner of every path that uses it.
            "marker" => {
                return Some((
                    line(),
                    "draws markers on its lines".to_owned(),
                    "Turn arrowheads and other markers into paths in the drawing program.",
                ));
            }
            "foreignObject" | "iframe" | "audio" | "video" => {
                return Some((
                    line(),
                    format!("holds <{name}>, which is no drawing"),
                    "Take it out.",
                ));
            }
            _ => {}
        }
        for attribute in node.attributes() {
            let (key, value) = (attribute.name(), attribute.value());
            if key.starts_with("on") {
                return Some((
                    line(),
                    format!("holds a script in `{key}`"),
                    "Take it out; a drawing needs none.",
                ));
            }
            if key == "d" && largest_number(value) > LARGEST_NUMBER {
                return Some((
                    line(),
                    "draws with numbers over a million".to_owned(),
                    "Scale the drawing down.",
                ));
            }
            if (matches!(key, "href" | "src")
                && !value.trim_start().starts_with('#')
                && name != "a")
                || leads_out(value)
            {
                let shown: String = value.chars().take(60).collect();
                return Some((
                    line(),
                    format!("refers to something outside itself, `{shown}`"),
                    "Take the reference out, or draw it into the file.",
                ));
            }
        }
        if name == "style"
            && node
                .descendants()
                .filter_map(|n| n.text())
                .any(|t| leads_out(t) || t.contains("@import"))
        {
            return Some((
                line(),
                "has a style sheet that refers to something outside".to_owned(),
                "Take the reference out.",
            ));
        }
    }
    None
}

/// Whether a value holds `url(...)` that does not point into the file itself.
fn leads_out(value: &str) -> bool {
    value.match_indices("url(").any(|(place, found)| {
        let target =
            value[place + found.len()..].trim_start().trim_start_matches(['"', '\'']).trim_start();
        !target.starts_with('#')
    })
}
