//! What all plots share: the plotter's sheet with our letters and inks, as a drawing and as a picture.

use crate::SheetError;
use crate::drawing::{Anchor, INK, Letters, Srgb};
use crate::pixels::drawn;
use crate::typeset;
use glam::DVec2;
use plotters::coord::Shift;
use plotters::prelude::*;
use resvg::tiny_skia::{Pixmap, Transform};
use resvg::usvg::{self, Tree};
use std::sync::Arc;

/// Pixels of the picture for one of the drawing, which has 96 to the inch.
const PNG_SCALE: f32 = 2.0;
/// Where the words above a field begin, pixels.
pub(crate) const LEFT: i32 = 22;
/// Size of the title as the plotter counts, and the height of its capitals, pixels.
const TITLE: (f64, f64) = (28.0, 0.65 * 28.0 / 1.24);
/// Size of names and of numbers on the axes, as the plotter counts: 1.24 times that of the letters.
pub(crate) const NAME: f64 = 17.0;
/// Height of a line of that size, pixels.
pub(crate) const LINE: f64 = 15.0;
/// Height of its capitals, pixels.
pub(crate) const CAPITAL: f64 = 0.637 * NAME / 1.24;
/// The family of the sheets' typefaces, and of the title.
pub(crate) const SANS: &str = "Alegreya Sans";
const SERIF: &str = "Alegreya";

pub(crate) type Area<'a> = DrawingArea<SVGBackend<'a>, Shift>;
pub(crate) type Failure<'a> = DrawingAreaErrorKind<<SVGBackend<'a> as DrawingBackend>::ErrorType>;

/// A plot with its letters turned into outlines, so that it looks the same everywhere.
pub(crate) struct Plot {
    file: &'static str,
    tree: Tree,
}

impl Plot {
    /// A white sheet of so many pixels with what `draw` puts on it; `file` is named where it fails. The
    /// plotter knows whole steps only, `fine` of which make a pixel.
    pub(crate) fn new(
        file: &'static str,
        (width, height): (u32, u32),
        fine: u32,
        draw: impl for<'a> FnOnce(&Area<'a>) -> Result<(), Failure<'a>>,
    ) -> Result<Self, SheetError> {
        let mut text = String::new();
        let steps = (width * fine, height * fine);
        let area = SVGBackend::with_string(&mut text, steps).into_drawing_area();
        let whole = || {
            area.fill(&WHITE)?;
            draw(&area)?;
            area.present()
        };
        whole().map_err(|error| refused(file, &error))?;
        drop(area);
        // Its view box stays in steps.
        let size = |(width, height): (u32, u32)| format!("width=\"{width}\" height=\"{height}\"");
        let text = text.replacen(&size(steps), &size((width, height)), 1);
        let mut options = usvg::Options::default();
        let typefaces = Arc::make_mut(&mut options.fontdb);
        for data in typeset::typefaces() {
            typefaces.load_font_data(data.to_vec());
        }
        options.font_family = SANS.to_owned();
        let tree = Tree::from_str(&text, &options).map_err(|error| refused(file, &error))?;
        Ok(Self { file, tree })
    }

    /// As a drawing.
    pub(crate) fn svg(&self) -> Vec<u8> {
        self.tree.to_string(&usvg::WriteOptions::default()).into_bytes()
    }

    /// As a picture.
    pub(crate) fn png(&self) -> Result<Vec<u8>, SheetError> {
        let size = self.tree.size();
        let (width, height) =
            ((size.width() * PNG_SCALE) as u32, (size.height() * PNG_SCALE) as u32);
        let mut pixels =
            Pixmap::new(width, height).ok_or_else(|| refused(self.file, &"no room"))?;
        let scale = Transform::from_scale(PNG_SCALE, PNG_SCALE);
        resvg::render(&self.tree, scale, &mut pixels.as_mut());
        // The ground is white all over, so that every pixel is opaque.
        drawn(&pixels).map_err(|error| refused(self.file, &error))
    }
}

fn refused(file: &str, reason: &dyn std::fmt::Display) -> SheetError {
    SheetError::Typeset { file: file.to_owned(), reason: reason.to_string() }
}

pub(crate) fn colour([r, g, b]: Srgb) -> RGBColor {
    RGBColor(r, g, b)
}

/// Width of a line of words in the size of names, pixels. The bold face of the outlines is a little
/// wider than the plain one.
pub(crate) fn width(letters: &Letters, words: &str) -> f64 {
    letters.write(words, CAPITAL, Anchor::Start, DVec2::ZERO, 0.0).bounds().size().x
}

/// Writes the title, smaller where it would reach beyond `right`; all in steps, `fine` to a pixel.
pub(crate) fn title<'a>(
    area: &Area<'a>,
    letters: &Letters,
    words: &str,
    right: i32,
    fine: i32,
) -> Result<(), Failure<'a>> {
    let wide = letters.write(words, TITLE.1, Anchor::Start, DVec2::ZERO, 0.0);
    let room = f64::from(right / fine - LEFT) / wide.bounds().size().x.max(1.0);
    let size = TITLE.0 * room.min(1.0) * f64::from(fine);
    let style = (SERIF, size).into_font().color(&colour(INK));
    area.draw_text(words, &style, (LEFT * fine, 16 * fine))
}
