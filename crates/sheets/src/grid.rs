//! A part under a grid at true size, to be printed, wrapped and read before anything is cut.

use crate::drawing::{Drawing, Letters};
use crate::unrolled::{grid_drawing, grids};
use crate::workbook::{Layout, drawn, layout, paper_mm};
use crate::{SheetError, typeset};
use piece::Settings;
use serde_json::json;
use shape::PartShape;
use std::collections::BTreeMap;

/// What every grid says of itself.
const ABOUT: &str = "True size in mm: one user unit is 1 mm. Cut out, wrap tight with the upper edge flush, and read on \
     the scale where the other end lies: that many mm are to be added to the girth there.";

/// The grid of one part.
#[derive(Debug)]
pub struct GridSheet<'a> {
    title: String,
    part: &'a str,
    shape: &'a PartShape,
    settings: &'a Settings,
}

impl<'a> GridSheet<'a> {
    /// The grid of a part of the piece with this title; `None` for a plate, which lies on paper as it
    /// is.
    pub fn new(
        title: &str,
        part: &'a str,
        shape: &'a PartShape,
        settings: &'a Settings,
    ) -> Option<Self> {
        let title = format!("{title}: test print of {part}");
        shape.surface.period().map(|_| Self { title, part, shape, settings })
    }

    /// In one piece, as a drawing at true size with its letters as outlines.
    pub fn svg(&self) -> Vec<u8> {
        let drawing = grid_drawing(self.part, &self.shape.surface, &Letters::new());
        drawing.svg(&self.title, ABOUT).into_bytes()
    }

    /// On pages of the studio's paper, to be joined.
    ///
    /// # Errors
    /// The typesetter refuses it.
    pub fn pdf(&self) -> Result<Vec<u8>, SheetError> {
        let letters = Letters::new();
        let mut files = BTreeMap::new();
        let mut entries = Vec::new();
        let grids = grids(self.part, &self.shape.surface, &letters);
        for (index, grid) in grids.into_iter().enumerate() {
            let trims = [grid.trim];
            let (turned, Layout { pages, joins, .. }) =
                layout(paper_mm(self.settings), &trims, true, &letters);
            let layers = grid.layers.into_iter().chain([joins]).collect();
            entries.push(json!({
                "name": grid.name,
                "turned": turned,
                "is_ring": grid.is_ring,
                "error_mm": crate::workbook::error(grid.error_mm),
                "pages": drawn(pages, &Drawing { layers }, &format!("grid-{index}"), &mut files),
            }));
        }
        let data = json!({
            "title": self.title,
            "studio": self.settings.studio,
            "paper": crate::workbook::paper_name(self.settings),
            "grids": entries,
        });
        files.insert("data.json".to_owned(), data.to_string().into_bytes());
        typeset::pdf("grid.pdf", "grid-sheet.typ", files)
    }
}
