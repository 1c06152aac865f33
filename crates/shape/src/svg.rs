//! Drawings from SVG path data and SVG files.
//!
//! Files come from anywhere, so nothing in them is ever followed: no file, no address, no script, no
//! picture, and entities only as far as the XML reader's own limits allow.

use crate::art::{Drawing, Filled};
use crate::path_numbers::largest_number;
use kurbo::{BezPath, Point, Shape as _};
use piece::{Diagnostic, FieldPath};
use std::rc::Rc;
use svgtypes::{SimplePathSegment, SimplifyingPathParser};
use usvg::tiny_skia_path::{Path, PathSegment, Transform};
use usvg::{Group, ImageHrefResolver, Node, Options, Tree, roxmltree};

/// Groups nested deeper than this are a trap, not a drawing.
const DEEPEST: usize = 64;

/// More paths than this are no drawing for a cutter.
const MOST_PATHS: usize = 20_000;

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
        match segment.map_err(|error| wrong(unreadable(data, &error)))? {
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
    Ok(Drawing {
        filled: vec![Filled { path, even_odd: false, clips: Vec::new() }],
        ..Drawing::default()
    })
}

fn unreadable(data: &str, error: &svgtypes::Error) -> String {
    let place = match error {
        svgtypes::Error::UnexpectedData(place)
        | svgtypes::Error::InvalidChar(_, place)
        | svgtypes::Error::InvalidString(_, place)
        | svgtypes::Error::InvalidNumber(place) => *place,
        _ => return "the path data breaks off in the middle of a command".to_owned(),
    };
    // The reader counts characters from 1.
    match data.chars().nth(place.saturating_sub(1)) {
        Some(found) => {
            format!("the path data cannot be read at character {place}, which is `{found}`")
        }
        None => format!("the path data breaks off after character {}", data.chars().count()),
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
    if let Some((line, what, hint)) = forbidden(&document) {
        return Err(wrong(format!("`{file}` {what} (line {line})"), hint));
    }
    let options = Options {
        resources_dir: None,
        image_href_resolver: ImageHrefResolver {
            resolve_data: Box::new(|_, _, _| None),
            resolve_string: Box::new(|_, _| None),
        },
        ..Options::default()
    };
    let tree = Tree::from_xmltree(&document, &options).map_err(|error| {
        wrong(format!("`{file}` cannot be read: {error}"), "Save the drawing again as plain SVG.")
    })?;
    let mut reader = Reader { filled: Vec::new(), read: 0, refused: None };
    reader.group(tree.root(), &[], 0);
    if let Some((what, hint)) = reader.refused {
        return Err(wrong(format!("`{file}` {what}"), hint));
    }
    if reader.filled.is_empty() {
        return Err(wrong(
            format!("nothing in `{file}` can be seen"),
            "Use filled shapes or strokes with a width; groups that are hidden do not count.",
        ));
    }
    Ok(Drawing { filled: reader.filled, ..Drawing::default() })
}

/// The first thing in a file that is refused: its line, what it does, and what to do.
fn forbidden(document: &roxmltree::Document) -> Option<(u32, String, &'static str)> {
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
                    "Trace it into paths first.",
                ));
            }
            "text" | "tspan" | "textPath" => {
                return Some((
                    line(),
                    "holds text".to_owned(),
                    "Turn the text into paths in the drawing program, or use `lettering`.",
                ));
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

struct Reader {
    filled: Vec<Filled>,
    /// Paths read so far, those of clip paths once for each group they clip.
    read: usize,
    /// Why the drawing cannot be used, and what to do.
    refused: Option<(&'static str, &'static str)>,
}

impl Reader {
    fn refuse(&mut self, what: &'static str, hint: &'static str) {
        self.refused.get_or_insert((what, hint));
    }

    fn group(&mut self, group: &Group, clips: &[Rc<Vec<Filled>>], depth: usize) {
        if depth > DEEPEST {
            self.refuse("nests its groups too deep", "Ungroup its shapes in a drawing program.");
        }
        if group.mask().is_some() {
            self.refuse(
                "hides parts with a mask, which film cannot do",
                "Cut the shapes themselves, or use a clip path.",
            );
        }
        if self.refused.is_some() || group.opacity().get() == 0.0 {
            return;
        }
        let mut clips = clips.to_vec();
        let mut clip = group.clip_path();
        while let Some(path) = clip {
            let mut inner = Reader { filled: Vec::new(), read: self.read, refused: None };
            inner.group(path.root(), &[], depth + 1);
            self.read = inner.read;
            self.refused = self.refused.or(inner.refused);
            // A clip path has its own transform, within the space of the group it clips.
            let transform = group.abs_transform().pre_concat(path.transform());
            for one in &mut inner.filled {
                one.path.apply_affine(affine(transform));
            }
            clips.push(Rc::new(inner.filled));
            clip = path.clip_path();
        }
        for node in group.children() {
            match node {
                Node::Group(inner) => self.group(inner, &clips, depth + 1),
                Node::Path(path) => self.path(path, &clips),
                Node::Image(_) | Node::Text(_) => {}
            }
        }
    }

    fn path(&mut self, path: &usvg::Path, clips: &[Rc<Vec<Filled>>]) {
        self.read += 1;
        if self.read > MOST_PATHS {
            self.refuse("has more than 20,000 paths", "Unite its paths in a drawing program.");
        }
        if self.refused.is_some() || !path.is_visible() {
            return;
        }
        if let Some(fill) = path.fill().filter(|fill| fill.opacity().get() > 0.0) {
            self.add(path, path.data(), fill.rule() == usvg::FillRule::EvenOdd, clips);
        }
        if let Some(stroke) = path.stroke().filter(|stroke| stroke.opacity().get() > 0.0) {
            let mut pen = stroke.to_tiny_skia();
            pen.dash = None;
            let length = bezier(path.data()).perimeter(1.0);
            let dashes: f32 = stroke.dasharray().into_iter().flatten().sum();
            if dashes > 0.0 && length > MOST_DASHES * f64::from(dashes) {
                self.refuse("has a line of more than 10,000 dashes", "Make the dashes longer.");
                return;
            }
            let dashed =
                stroke.to_tiny_skia().dash.and_then(|dash| path.data().dash(&dash, FINENESS));
            if let Some(outline) = dashed.as_ref().unwrap_or(path.data()).stroke(&pen, FINENESS) {
                self.add(path, &outline, false, clips);
            }
        }
    }

    fn add(
        &mut self,
        path: &usvg::Path,
        outline: &Path,
        even_odd: bool,
        clips: &[Rc<Vec<Filled>>],
    ) {
        let mut outline = bezier(outline);
        outline.apply_affine(affine(path.abs_transform()));
        if outline.is_finite() {
            self.filled.push(Filled { path: outline, even_odd, clips: clips.to_vec() });
        }
    }
}

/// More dashes than this in one line are a slip of the pen.
const MOST_DASHES: f64 = 10_000.0;

/// How many times finer than one unit of the drawing the curves of a stroke are approximated.
const FINENESS: f32 = 16.0;

fn affine(t: Transform) -> kurbo::Affine {
    kurbo::Affine::new([t.sx, t.ky, t.kx, t.sy, t.tx, t.ty].map(f64::from))
}

fn bezier(path: &Path) -> BezPath {
    let point = |p: usvg::tiny_skia_path::Point| Point::new(f64::from(p.x), f64::from(p.y));
    let mut bezier = BezPath::new();
    for segment in path.segments() {
        match segment {
            PathSegment::MoveTo(p) => bezier.move_to(point(p)),
            PathSegment::LineTo(p) => bezier.line_to(point(p)),
            PathSegment::QuadTo(a, p) => bezier.quad_to(point(a), point(p)),
            PathSegment::CubicTo(a, b, p) => bezier.curve_to(point(a), point(b), point(p)),
            PathSegment::Close => bezier.close_path(),
        }
    }
    bezier
}
