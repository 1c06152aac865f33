//! What is refused in an SVG file before it is drawn.

use super::reader::DEEPEST;
use super::{LARGEST_NUMBER, unreadable};
use crate::path_numbers::largest_number;
use svgtypes::SimplifyingPathParser;
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
            "foreignObject" | "iframe" | "audio" | "video" => {
                return Some((
                    line(),
                    format!("holds <{name}>, which is no drawing"),
                    "Take it out.",
                ));
            }
            _ => {}
        }
        if node.ancestors().count() > DEEPEST + 2 {
            return Some((
                line(),
                format!("nests its groups more than {DEEPEST} deep"),
                "Ungroup its shapes in a drawing program.",
            ));
        }
        // One marker is drawn again at every corner of every path that uses it.
        let in_sheet = |node: &roxmltree::Node| {
            let mut texts = node.descendants().filter_map(|one| one.text());
            texts.any(|text| MARKERS.iter().any(|key| sets_in_style(text, key, leads_in)))
        };
        if MARKERS.iter().any(|key| sets(&node, key, leads_in))
            || (name == "style" && in_sheet(&node))
        {
            return Some((
                line(),
                "draws markers on its lines".to_owned(),
                "Turn arrowheads and other markers into paths in the drawing program.",
            ));
        }
        if let Some(why) = node.attribute("d").and_then(broken_path) {
            return Some((
                line(),
                format!("has a path that {why}"),
                "Mend or remove that path in the drawing program, and save the drawing again.",
            ));
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

/// Properties that draw markers on lines (SVG 2, section 13.3).
const MARKERS: [&str; 4] = ["marker", "marker-start", "marker-mid", "marker-end"];

fn leads_in(value: &str) -> bool {
    value.contains("url(")
}

/// Whether an element sets a property, as an attribute or in its style, to a value that `counts`.
pub(super) fn sets(node: &roxmltree::Node, key: &str, counts: fn(&str) -> bool) -> bool {
    node.attribute(key).is_some_and(counts)
        || node.attribute("style").is_some_and(|style| sets_in_style(style, key, counts))
}

/// The same for declarations of a style sheet.
fn sets_in_style(style: &str, key: &str, counts: fn(&str) -> bool) -> bool {
    style
        .split([';', '{', '}'])
        .filter_map(|one| one.split_once(':'))
        .any(|(name, value)| name.trim().eq_ignore_ascii_case(key) && counts(value.trim()))
}

/// Why path data is cut short by its reader, if it is.
fn broken_path(data: &str) -> Option<String> {
    if data.trim() == "none" {
        return None;
    }
    let error = SimplifyingPathParser::from(data).find_map(Result::err)?;
    Some(unreadable(data, &error))
}

/// The line of the first entity whose text holds another one.
pub(super) fn nested_entity(document: &roxmltree::Document) -> Option<u32> {
    let head = document.input_text().get(..document.root_element().range().start)?;
    let known = ["amp;", "lt;", "gt;", "apos;", "quot;", "#"];
    head.match_indices("<!ENTITY").find_map(|(place, _)| {
        let quoted = &head[place..];
        let quoted = &quoted[quoted.find(['"', '\''])?..];
        let end = quoted.chars().next()?;
        let text = quoted[1..].split(end).next()?;
        let holds =
            |(at, _): (usize, &str)| !known.iter().any(|one| text[at + 1..].starts_with(one));
        let nested = text.match_indices('&').any(holds);
        nested.then(|| document.text_pos_at(place).row)
    })
}

/// Whether a value holds `url(...)` that does not point into the file itself.
fn leads_out(value: &str) -> bool {
    value.match_indices("url(").any(|(place, found)| {
        let target =
            value[place + found.len()..].trim_start().trim_start_matches(['"', '\'']).trim_start();
        !target.starts_with('#')
    })
}
