//! Line drawings in page millimetres (y downwards), written as SVG at true size: whole for the wrap
//! and cut files, or a rectangle of one for a page of the workbook.

mod bounds;
mod ink;
mod letters;
mod trace;

pub(crate) use bounds::Bounds;
pub(crate) use ink::{ACCENT, GUIDE, INK, Ink, Srgb, WHITE};
pub(crate) use letters::{Anchor, Letters};
pub(crate) use trace::Trace;

use crate::numbers::short;
use glam::DVec2;
use std::fmt::Write;

/// A form of a mark.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Form {
    /// SVG path data.
    Path(String),
    /// A disc.
    Circle { centre: DVec2, radius_mm: f64 },
}

/// One thing drawn.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Mark {
    pub(crate) form: Form,
    pub(crate) ink: Ink,
    pub(crate) bounds: Bounds,
}

impl Mark {
    pub(crate) fn circle(centre: DVec2, radius_mm: f64, ink: Ink) -> Self {
        let bounds = Bounds::new(centre - radius_mm, centre + radius_mm);
        Self { form: Form::Circle { centre, radius_mm }, ink, bounds }
    }

    pub(crate) fn path(trace: Trace, ink: Ink) -> Self {
        let bounds = trace.bounds();
        Self { form: Form::Path(trace.into_data()), ink, bounds }
    }
}

/// A named group of marks. Marks of one layer do not lie on each other unless their order tells.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct Layer {
    /// Goes into the file as the group's id.
    pub(crate) id: String,
    /// Goes into the file as the group's title.
    pub(crate) title: String,
    /// From back to front.
    pub(crate) marks: Vec<Mark>,
    /// Its words are left out of a tile whose edge would cut them: they are whole on the next.
    pub(crate) words_whole: bool,
}

impl Layer {
    pub(crate) fn new(id: impl Into<String>, title: impl Into<String>) -> Self {
        Self { id: id.into(), title: title.into(), marks: Vec::new(), words_whole: false }
    }

    /// What its marks take up.
    pub(crate) fn bounds(&self) -> Bounds {
        self.marks.iter().fold(Bounds::EMPTY, |bounds, mark| bounds.union(mark.bounds))
    }
}

/// Layers from back to front.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct Drawing {
    pub(crate) layers: Vec<Layer>,
}

impl Drawing {
    /// What everything takes up.
    pub(crate) fn bounds(&self) -> Bounds {
        self.layers.iter().map(Layer::bounds).fold(Bounds::EMPTY, Bounds::union)
    }

    /// Corners of everything drawn in one of these inks.
    pub(crate) fn corners(&self, inks: &[Ink]) -> Vec<DVec2> {
        let marks = self.layers.iter().flat_map(|layer| &layer.marks);
        marks
            .filter(|mark| inks.contains(&mark.ink))
            .flat_map(|mark| mark.bounds.corners())
            .collect()
    }

    /// The whole drawing as an SVG file at true size: one user unit is 1 mm.
    pub(crate) fn svg(&self, title: &str, description: &str) -> String {
        let mut text = String::from("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");
        text.push_str(&svg_open(self.bounds()));
        let _ = write!(
            text,
            "<title>{}</title>\n<desc>{}</desc>\n",
            escape(title),
            escape(description)
        );
        for layer in &self.layers {
            let (id, title) = (escape(&layer.id), escape(&layer.title));
            let _ = write!(text, "<g id=\"{id}\">\n<title>{title}</title>\n");
            let mut last: Option<(Ink, String)> = None;
            for mark in &layer.marks {
                // Many marks in a row are of one ink.
                let ink = match last.take() {
                    Some(last) if last.0 == mark.ink => last.1,
                    _ => mark.ink.attributes(),
                };
                let _ = match &mark.form {
                    Form::Path(data) => writeln!(text, "<path {ink} d=\"{data}\"/>"),
                    Form::Circle { centre, radius_mm } => writeln!(
                        text,
                        "<circle {ink} cx=\"{}\" cy=\"{}\" r=\"{}\"/>",
                        short(centre.x),
                        short(centre.y),
                        short(*radius_mm)
                    ),
                };
                last = Some((mark.ink, ink));
            }
            text.push_str("</g>\n");
        }
        text.push_str("</svg>\n");
        text
    }

    /// The marks that reach into `view`, as a picture of just that rectangle at true size. Marks
    /// that follow each other in the same ink become one path, which the typesetter reads fast.
    pub(crate) fn tile(&self, view: Bounds) -> String {
        let mut text = svg_open(view);
        for layer in &self.layers {
            let mut open: Option<Ink> = None;
            let shown = |mark: &&Mark| {
                let cut = layer.words_whole && mark.ink.fill.is_some() && !view.holds(&mark.bounds);
                !cut && mark.bounds.grown(1.0).meets(&view)
            };
            for mark in layer.marks.iter().filter(shown) {
                if open != Some(mark.ink) {
                    if open.is_some() {
                        text.push_str("\"/>\n");
                    }
                    let _ = write!(text, "<path {} d=\"", mark.ink.attributes());
                    open = Some(mark.ink);
                }
                match &mark.form {
                    Form::Path(data) => text.push_str(data),
                    Form::Circle { centre, radius_mm } => {
                        text.push_str(&Trace::circle(*centre, *radius_mm).into_data());
                    }
                }
            }
            if open.is_some() {
                text.push_str("\"/>\n");
            }
        }
        text.push_str("</svg>\n");
        text
    }
}

fn svg_open(view: Bounds) -> String {
    let (size, min) = (view.size(), view.min);
    let (width, height) = (short(size.x), short(size.y));
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"{width}mm\" \
         height=\"{height}mm\" viewBox=\"{} {} {width} {height}\">\n",
        short(min.x),
        short(min.y)
    )
}

/// Text as it may stand in XML; what XML 1.0 does not allow at all is left out.
fn escape(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => escaped.push_str("&amp;"),
            '<' => escaped.push_str("&lt;"),
            '>' => escaped.push_str("&gt;"),
            '"' => escaped.push_str("&quot;"),
            '\u{fffe}' | '\u{ffff}' => {}
            letter if letter.is_control() && !matches!(letter, '\n' | '\t') => {}
            letter => escaped.push(letter),
        }
    }
    escaped
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_tile_shows_words_whole_or_not_at_all_and_lines_as_far_as_they_reach() {
        let mut layer = Layer::new("crests", "Crests");
        layer.words_whole = true;
        let square = |x: f64| {
            let corners = [(0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (0.0, 4.0)];
            Trace::outline(corners.map(|(dx, dy)| DVec2::new(x + dx, dy)))
        };
        layer.marks.push(Mark::path(square(1.0), Ink::fill(INK)));
        layer.marks.push(Mark::path(square(8.0), Ink::fill(INK)));
        layer.marks.push(Mark::path(square(8.0), Ink::line(INK, 0.3)));
        let mut drawing = Drawing { layers: vec![layer] };
        let view = Bounds::new(DVec2::new(0.0, -1.0), DVec2::new(10.0, 9.0));
        let forms = |drawing: &Drawing| {
            let tile = drawing.tile(view);
            ["fill=\"#1d2a2c\"", "stroke=\"#1d2a2c\"", "M"].map(|part| tile.matches(part).count())
        };
        assert_eq!(forms(&drawing), [1, 1, 2]);
        drawing.layers[0].words_whole = false;
        assert_eq!(forms(&drawing), [1, 1, 3]);
    }
}
