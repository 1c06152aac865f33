//! Drawings from SVG path data and SVG files.
//!
//! Files come from anywhere, so nothing in them is ever followed: no file, no address, no script, no
//! picture, and entities only as far as the XML reader's own limits allow.

mod reader;
mod refused;
mod text;

use crate::art::{Drawing, Filled};
use crate::path_numbers::largest_number;
use kurbo::BezPath;
use piece::{Diagnostic, FieldPath};
use reader::{Reader, Refusal};
use refused::{forbidden, nested_entity};
use svgtypes::{SimplePathSegment, SimplifyingPathParser};
use text::Typefaces;
use usvg::{ImageHrefResolver, Options, Tree, roxmltree};

/// Numbers in path data larger than this draw nothing sensible, and an arc that large would be cut into
/// so many pieces that they fill the memory.
const LARGEST_NUMBER: f64 = 1_000_000.0;

/// A drawing from path data (SVG 2, section 9.3), filled by the non-zero rule.
pub(crate) fn from_path_data(data: &str, at: &FieldPath) -> Result<Drawing, Diagnostic> {
    let wrong = |message: String| {
        Diagnostic::error(at.clone(), message)
            .hint("Copy the text between the quotes of `d=\"...\"`, which begins with M.")
    };
    if data.trim().is_empty() {
        return Err(wrong("there is no path data".to_owned()));
    }
    let largest = largest_number(data);
    if largest > LARGEST_NUMBER {
        return Err(wrong(format!(
            "the path data holds the number {largest:.3e}, at most {LARGEST_NUMBER} is possible"
        )));
    }
    let mut path = BezPath::new();
    for segment in SimplifyingPathParser::from(data) {
        let unread = |error| wrong(format!("the path data {}", unreadable(data, &error)));
        match segment.map_err(unread)? {
            SimplePathSegment::MoveTo { x, y } => path.move_to((x, y)),
            SimplePathSegment::LineTo { x, y } => path.line_to((x, y)),
            SimplePathSegment::CurveTo { x1, y1, x2, y2, x, y } => {
                path.curve_to((x1, y1), (x2, y2), (x, y))
            }
            SimplePathSegment::Quadratic { x1, y1, x, y } => path.quad_to((x1, y1), (x, y)),
            SimplePathSegment::ClosePath => path.close_path(),
        }
    }
    if !path.is_finite() {
        return Err(wrong("the path data holds a number that is too large".to_owned()));
    }
    Ok(Drawing { filled: vec![Filled::plain(path)], ..Drawing::default() })
}

/// Why path data cannot be read, the rest of a sentence about it.
fn unreadable(data: &str, error: &svgtypes::Error) -> String {
    let place = match error {
        svgtypes::Error::UnexpectedData(place)
        | svgtypes::Error::InvalidChar(_, place)
        | svgtypes::Error::InvalidString(_, place)
        | svgtypes::Error::InvalidNumber(place) => *place,
        _ => return "breaks off in the middle of a command".to_owned(),
    };
    // The reader counts characters from 1.
    match data.chars().nth(place.saturating_sub(1)) {
        Some(found) => {
            format!("cannot be read at character {place}, which is `{found}`")
        }
        None => format!("breaks off after character {}", data.chars().count()),
    }
}

/// A drawing from an SVG file: fills and strokes as outlines, groups, transforms and clip paths
/// applied. Invisible things are left out.
pub(crate) fn from_file(file: &str, text: &str, at: &FieldPath) -> Result<Drawing, Diagnostic> {
    let wrong = |message: String, hint: &str| Diagnostic::error(at.clone(), message).hint(hint);
    let options =
        roxmltree::ParsingOptions { allow_dtd: true, ..roxmltree::ParsingOptions::default() };
    let document =
        roxmltree::Document::parse_with_options(text, options).map_err(|error| match error {
            roxmltree::Error::EntityReferenceLoop(place) => wrong(
                format!("`{file}` unfolds entities into entities (line {})", place.row),
                "Save the drawing again as plain SVG without entities.",
            ),
            error => wrong(
                format!("`{file}` is not a readable SVG file: {error}"),
                "Save the drawing again as plain SVG.",
            ),
        })?;
    if document.root_element().tag_name().name() != "svg" {
        return Err(wrong(
            format!(
                "`{file}` is not an SVG file: it begins with <{}>",
                document.root_element().tag_name().name()
            ),
            "Save the drawing as SVG.",
        ));
    }
    if let Some(line) = nested_entity(&document) {
        return Err(wrong(
            format!("`{file}` unfolds entities into entities (line {line})"),
            "Save the drawing again as plain SVG without entities.",
        ));
    }
    if let Some((line, what, hint)) = forbidden(&document) {
        return Err(wrong(format!("`{file}` {what} (line {line})"), hint));
    }
    let stands =
        |line: Option<u32>| line.map_or_else(String::new, |line| format!(" (line {line})"));
    let typefaces = Typefaces::new();
    let options = Options {
        resources_dir: None,
        fontdb: typefaces.database(),
        font_resolver: typefaces.resolver(),
        image_href_resolver: ImageHrefResolver {
            resolve_data: Box::new(|_, _, _| None),
            resolve_string: Box::new(|_, _| None),
        },
        ..Options::default()
    };
    let tree = Tree::from_xmltree(&document, &options).map_err(|error| {
        wrong(format!("`{file}` cannot be read: {error}"), "Save the drawing again as plain SVG.")
    })?;
    drop(options);
    if let Some(refused) = typefaces.refused() {
        let line = stands(refused.line(&document));
        return Err(wrong(format!("`{file}` {}{line}", refused.why), &refused.hint));
    }
    let mut reader = Reader::new(0);
    reader.group(tree.root(), &[], 0);
    if let Some(Refusal { what, hint, sign }) = reader.refused {
        let node = document.descendants().filter(roxmltree::Node::is_element).find(sign);
        let line = stands(node.map(|node| document.text_pos_at(node.range().start).row));
        return Err(wrong(format!("`{file}` {what}{line}"), hint));
    }
    if reader.filled.is_empty() {
        return Err(wrong(
            format!("nothing in `{file}` can be seen"),
            "Use filled shapes or strokes with a width; groups that are hidden do not count.",
        ));
    }
    Ok(Drawing { filled: reader.filled, ..Drawing::default() })
}
