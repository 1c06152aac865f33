//! The profile of every part with its dimensions, at true size: to hold the cup against.

mod draw;
mod labels;

use crate::SheetError;
use crate::drawing::Drawing;
use crate::pixels::drawn;
use crate::typeset;
use piece::Piece;
use piece::settings::LengthUnit;
use resvg::tiny_skia::{Color, Pixmap, Transform};
use resvg::usvg::{self, Tree};
use serde_json::json;
use shape::Shape;
use std::collections::BTreeMap;

/// White round everything, mm.
const MARGIN_MM: f64 = 8.0;
/// Pixels of the picture for each of the 96 to the inch that SVG counts in.
const PNG_SCALE: f32 = 2.0;
/// Most pixels to a side of the picture.
const MOST_PIXELS: f32 = 12_000.0;

/// The profiles of a piece, drawn.
#[derive(Debug)]
pub struct ProfileSheet {
    title: String,
    drawing: Drawing,
}

impl ProfileSheet {
    /// Draws every part side by side on one level, with dimensions in `unit`.
    pub fn new(piece: &Piece, shape: &Shape, unit: LengthUnit) -> Self {
        let drawing = draw::parts(piece, shape, unit);
        Self { title: format!("{}: profiles", piece.title), drawing }
    }

    /// As a drawing at true size, with its letters as outlines.
    pub fn svg(&self) -> Vec<u8> {
        let view = self.drawing.bounds().grown(MARGIN_MM);
        self.drawing.tile(view).into_bytes()
    }

    /// As a picture of 192 pixels to the inch, or fewer where it would be very large.
    ///
    /// # Errors
    /// It cannot be drawn.
    pub fn png(&self) -> Result<Vec<u8>, SheetError> {
        let refused = |reason: &dyn std::fmt::Display| SheetError::Typeset {
            file: "profile.png".to_owned(),
            reason: reason.to_string(),
        };
        let tree = Tree::from_data(&self.svg(), &usvg::Options::default());
        let tree = tree.map_err(|error| refused(&error))?;
        let size = tree.size();
        let scale = PNG_SCALE.min(MOST_PIXELS / size.width().max(size.height()));
        let pixels = |length: f32| (length * scale).ceil().max(1.0) as u32;
        let (width, height) = (pixels(size.width()), pixels(size.height()));
        let mut canvas = Pixmap::new(width, height).ok_or_else(|| refused(&"no room"))?;
        canvas.fill(Color::WHITE);
        resvg::render(&tree, Transform::from_scale(scale, scale), &mut canvas.as_mut());
        drawn(&canvas).map_err(|error| refused(&error))
    }

    /// On one page of its own size.
    ///
    /// # Errors
    /// The typesetter refuses it.
    pub fn pdf(&self) -> Result<Vec<u8>, SheetError> {
        let view = self.drawing.bounds().grown(MARGIN_MM);
        let data = json!({
            "title": self.title,
            "width_mm": view.size().x,
            "height_mm": view.size().y,
        });
        let files = BTreeMap::from([
            ("data.json".to_owned(), data.to_string().into_bytes()),
            ("profile.svg".to_owned(), self.drawing.tile(view).into_bytes()),
        ]);
        typeset::pdf("profile.pdf", "profile-sheet.typ", files)
    }
}
