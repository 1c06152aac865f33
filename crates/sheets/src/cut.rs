//! `cut-COLOUR.svg`: every shape of one film colour at true size, on the surface as it has grown,
//! laid out on sheets as the bill counts them.
//!
//! Only plain closed paths, so that any cutter's program or a knife can follow them. What lies where
//! is the one cutting plan of the coats; here it is only drawn.

use crate::Plan;
use crate::drawing::{Bounds, Drawing, GUIDE, INK, Ink, Layer, Mark, Trace};
use coats::film::WEEDING_MARGIN_MM;
use coats::{CutPlan, Film, FilmPiece, Laid, plan_cutting};
use glam::DVec2;
use piece::Piece;

/// Between the shapes and the frame to weed inside, mm; the rest of the margin lies outside it.
const FRAME_MM: f64 = WEEDING_MARGIN_MM / 2.0;
/// Between two sheets in one file, mm.
const APART_MM: f64 = 20.0;
/// Arm of a registration cross, mm.
const CROSS_MM: f64 = 1.5;

/// One file for each film colour: its name and text, in order of name.
pub(crate) fn cut_files(plan: &Plan) -> Vec<(String, String)> {
    let mut names = piece::file_name::cut_files(&plan.piece);
    let vinyl = &plan.settings.vinyl;
    let size = DVec2::new(vinyl.sheet_width_mm, vinyl.sheet_height_mm);
    let mut files = Vec::new();
    for (index, colour) in plan.piece.colours.iter().enumerate() {
        let films = &plan.coats.films;
        let cutting = plan_cutting(films, Some(index), plan.piece.quantity, vinyl);
        if cutting.count() == 0 {
            continue;
        }
        let Some(name) = names.remove(&index) else { continue };
        let drawing = drawing_of(&plan.piece, films, &cutting, size);
        let title = format!("{}: film in {}", plan.piece.title, colour.name);
        let text = drawing.svg(
            &title,
            "True size in mm. Groups whose id begins with sheet are the edges of a sheet and are not \
             cut; those whose id begins with cut are cut lines; those whose id begins with weed are \
             frames to weed inside; those whose id begins with level are crosses on the level line \
             through the middle of a piece.",
        );
        files.push((name, text));
    }
    files.sort();
    files
}

/// Sheets one below the other, those that are alike drawn once.
fn drawing_of(piece: &Piece, films: &[Film], cutting: &CutPlan, size: DVec2) -> Drawing {
    let mut drawing = Drawing::default();
    let (mut corner, mut sheets, mut pieces) = (DVec2::ZERO, 0, 0);
    for sheet in &cutting.sheets {
        drawing.layers.push(edge(sheets + 1, sheets + sheet.times, corner, size));
        sheets += sheet.times;
        for laid in &sheet.pieces {
            pieces += 1;
            let film = &films[laid.film];
            let name = &piece.zones[film.zone].name;
            let on = On { piece: &film.pieces[laid.piece], laid, corner };
            drawing.layers.extend(on.layers(name, pieces));
        }
        corner.y += size.y + APART_MM;
    }
    drawing
}

/// The edge of a sheet, named by its number or by the numbers of all that are alike.
fn edge(first: u32, last: u32, corner: DVec2, size: DVec2) -> Layer {
    let (id, title) = if first == last {
        (format!("sheet-{first}"), format!("Edge of sheet {first}"))
    } else {
        let times = last - first + 1;
        (
            format!("sheet-{first}-to-{last}"),
            format!("Edge of sheets {first} to {last}, all alike: cut {times} times"),
        )
    };
    let mut layer = Layer::new(id, title);
    let bounds = Bounds::new(corner, corner + size);
    layer.marks.push(Mark::path(Trace::rectangle(bounds), Ink::line(GUIDE, 0.1)));
    layer
}

/// A piece on its sheet.
struct On<'a> {
    piece: &'a FilmPiece,
    laid: &'a Laid,
    /// Upper left corner of the sheet.
    corner: DVec2,
}

impl On<'_> {
    /// A place of the piece on the page.
    fn page(&self, place: DVec2) -> DVec2 {
        let turned = if self.laid.turned {
            DVec2::new(self.piece.size_mm.1 - place.y, place.x)
        } else {
            place
        };
        self.corner + DVec2::from(self.laid.at_mm) + turned
    }

    fn layers(&self, zone: &str, number: usize) -> [Layer; 3] {
        let name = format!("{zone}-{number}");
        let line = Ink::line(INK, 0.1);

        let mut cut = Layer::new(format!("cut-{name}"), format!("{zone}: cut lines"));
        for shape in &self.piece.shapes {
            let mut trace = Trace::new();
            for outline in shape {
                let points = outline.iter().map(|&point| self.page(DVec2::from(point)));
                trace.append(&Trace::outline(points));
            }
            cut.marks.push(Mark::path(trace, line));
        }

        let mut frame = Layer::new(format!("weed-{name}"), format!("{zone}: frame to weed inside"));
        let inset = WEEDING_MARGIN_MM - FRAME_MM;
        let size = DVec2::from(self.piece.size_mm);
        let (a, b) = (self.page(DVec2::splat(inset)), self.page(size - inset));
        frame.marks.push(Mark::path(Trace::rectangle(Bounds::new(a.min(b), a.max(b))), line));

        let mut level =
            Layer::new(format!("level-{name}"), format!("{zone}: level through its middle"));
        let inside = WEEDING_MARGIN_MM - FRAME_MM / 2.0;
        for x in [inside, size.x - inside] {
            let at = self.page(DVec2::new(x, size.y / 2.0));
            level.marks.push(Mark::path(cross(at), line));
        }
        [cut, frame, level]
    }
}

/// A cross as a closed outline of no width worth the name, since every path here is closed.
fn cross(at: DVec2) -> Trace {
    let (long, thin) = (CROSS_MM, 0.05);
    Trace::outline([
        at + DVec2::new(-long, -thin),
        at + DVec2::new(-thin, -thin),
        at + DVec2::new(-thin, -long),
        at + DVec2::new(thin, -long),
        at + DVec2::new(thin, -thin),
        at + DVec2::new(long, -thin),
        at + DVec2::new(long, thin),
        at + DVec2::new(thin, thin),
        at + DVec2::new(thin, long),
        at + DVec2::new(-thin, long),
        at + DVec2::new(-thin, thin),
        at + DVec2::new(-long, thin),
    ])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_turned_piece_is_turned_and_not_mirrored() {
        let piece = FilmPiece { size_mm: (100.0, 40.0), shapes: Vec::new(), strip: false };
        let laid = Laid { film: 0, piece: 0, at_mm: (10.0, 20.0), turned: true };
        let on = On { piece: &piece, laid: &laid, corner: DVec2::ZERO };
        // Clockwise: the upper left corner becomes the upper right one, the upper right the lower right.
        assert_eq!(on.page(DVec2::ZERO), DVec2::new(50.0, 20.0));
        assert_eq!(on.page(DVec2::new(100.0, 0.0)), DVec2::new(50.0, 120.0));
        assert_eq!(on.page(DVec2::new(0.0, 40.0)), DVec2::new(10.0, 20.0));
    }
}
