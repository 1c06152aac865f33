//! Paths of an SVG file, with what clips them and what marks them for a layer.

use super::refused::sets;
use crate::art::{Filled, Spine};
use crate::layers::Mark;
use kurbo::{BezPath, Point, Shape as _};
use std::rc::Rc;
use usvg::tiny_skia_path::{Path, PathSegment, Transform};
use usvg::{Group, Node, Paint, PaintOrder, roxmltree};

/// Groups nested deeper than this are a trap, not a drawing.
pub(super) const DEEPEST: usize = 64;

/// More paths than this are no drawing for a cutter.
const MOST_PATHS: usize = 20_000;

pub(super) struct Reader {
    pub(super) filled: Vec<Filled>,
    /// Names of the groups that hold what is read now, outermost first.
    names: Vec<Rc<str>>,
    /// Paths read so far, those of clip paths once for each group they clip.
    read: usize,
    /// Why the drawing cannot be used.
    pub(super) refused: Option<Refusal>,
}

/// Why a drawing cannot be used.
#[derive(Clone, Copy)]
pub(super) struct Refusal {
    pub(super) what: &'static str,
    /// What to do.
    pub(super) hint: &'static str,
    /// Which elements of the file do it.
    pub(super) sign: fn(&roxmltree::Node) -> bool,
}

impl Reader {
    fn refuse(
        &mut self,
        what: &'static str,
        hint: &'static str,
        sign: fn(&roxmltree::Node) -> bool,
    ) {
        self.refused.get_or_insert(Refusal { what, hint, sign });
    }

    pub(super) fn new(read: usize) -> Self {
        Self { filled: Vec::new(), names: Vec::new(), read, refused: None }
    }

    pub(super) fn group(&mut self, group: &Group, clips: &[Rc<Vec<Filled>>], depth: usize) {
        if depth > DEEPEST {
            // Groups that stand in each other are refused before; these come about by copies of copies.
            self.refuse(
                "nests its groups too deep",
                "Ungroup its shapes in a drawing program.",
                |node| node.tag_name().name() == "use",
            );
        }
        if group.mask().is_some() {
            self.refuse(
                "hides parts with a mask, which film cannot do",
                "Cut the shapes themselves, or use a clip path.",
                masked,
            );
        }
        if self.refused.is_some() || group.opacity().get() == 0.0 {
            return;
        }
        let mut clips = clips.to_vec();
        let mut clip = group.clip_path();
        while let Some(path) = clip {
            let mut inner = Reader::new(self.read);
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
        let outside = self.names.len();
        self.name(group.id());
        for node in group.children() {
            match node {
                Node::Group(inner) => self.group(inner, &clips, depth + 1),
                Node::Path(path) => self.path(path, &clips),
                Node::Text(text) => {
                    let before = self.names.len();
                    self.name(text.id());
                    self.group(text.flattened(), &clips, depth + 1);
                    self.names.truncate(before);
                }
                Node::Image(_) => {}
            }
        }
        self.names.truncate(outside);
    }

    fn name(&mut self, id: &str) {
        if !id.is_empty() {
            self.names.push(id.into());
        }
    }

    fn path(&mut self, path: &usvg::Path, clips: &[Rc<Vec<Filled>>]) {
        self.read += 1;
        if self.read > MOST_PATHS {
            self.refuse(
                "has more than 20,000 paths",
                "Unite its paths in a drawing program.",
                |_| false,
            );
        }
        if self.refused.is_some() || !path.is_visible() {
            return;
        }
        let before = self.names.len();
        self.name(path.id());
        if path.paint_order() == PaintOrder::FillAndStroke {
            self.fill(path, clips);
            self.stroke(path, clips);
        } else {
            self.stroke(path, clips);
            self.fill(path, clips);
        }
        self.names.truncate(before);
    }

    fn fill(&mut self, path: &usvg::Path, clips: &[Rc<Vec<Filled>>]) {
        if let Some(fill) = path.fill().filter(|fill| fill.opacity().get() > 0.0) {
            let even_odd = fill.rule() == usvg::FillRule::EvenOdd;
            let stroked = path.stroke().is_some_and(|stroke| stroke.opacity().get() > 0.0);
            let spine = if stroked { Spine::Nothing } else { Spine::Middle };
            self.add(path, path.data(), even_odd, fill.paint(), clips, spine);
        }
    }

    fn stroke(&mut self, path: &usvg::Path, clips: &[Rc<Vec<Filled>>]) {
        if let Some(stroke) = path.stroke().filter(|stroke| stroke.opacity().get() > 0.0) {
            let mut pen = stroke.to_tiny_skia();
            pen.dash = None;
            let length = bezier(path.data()).perimeter(1.0);
            let dashes: f32 = stroke.dasharray().into_iter().flatten().sum();
            if dashes > 0.0 && length > MOST_DASHES * f64::from(dashes) {
                self.refuse(
                    "has a line of more than 10,000 dashes",
                    "Make the dashes longer.",
                    |node| sets(node, "stroke-dasharray", |value| value != "none"),
                );
                return;
            }
            let dashed =
                stroke.to_tiny_skia().dash.and_then(|dash| path.data().dash(&dash, FINENESS));
            // What is dashed or clipped is not followed from end to end.
            let whole = dashed.is_none() && clips.is_empty();
            let mut line = bezier(path.data());
            line.apply_affine(affine(path.abs_transform()));
            let spine = if whole { Spine::Path(line) } else { Spine::Middle };
            if let Some(outline) = dashed.as_ref().unwrap_or(path.data()).stroke(&pen, FINENESS) {
                self.add(path, &outline, false, stroke.paint(), clips, spine);
            }
        }
    }

    fn add(
        &mut self,
        path: &usvg::Path,
        outline: &Path,
        even_odd: bool,
        paint: &Paint,
        clips: &[Rc<Vec<Filled>>],
        spine: Spine,
    ) {
        let mut outline = bezier(outline);
        outline.apply_affine(affine(path.abs_transform()));
        if outline.is_finite() {
            let srgb = match paint {
                Paint::Color(colour) => Some([colour.red, colour.green, colour.blue]),
                _ => None,
            };
            let mark = Mark { srgb, names: self.names.clone() };
            self.filled.push(Filled {
                path: outline,
                even_odd,
                clips: clips.to_vec(),
                mark,
                spine,
            });
        }
    }
}

fn masked(node: &roxmltree::Node) -> bool {
    sets(node, "mask", |value| value.contains("url("))
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
