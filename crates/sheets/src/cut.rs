//! `cut-COLOUR.svg`: every shape of one film colour at true size, on the surface as it has grown,
//! laid out on sheets as the bill counts them.
//!
//! Only plain closed paths, so that any cutter's program or a knife can follow them. What lies where
//! is the one cutting plan of the coats; here it is only drawn.

mod knife;
mod note;

use crate::Plan;
use crate::drawing::{Bounds, Drawing, GUIDE, INK, Ink, Layer, Letters, Mark, Trace};
use coats::registration::{ARM_WIDTH_MM, REACH_MM};
use coats::{CutPlan, FilmPiece, Laid, weeding};
use glam::DVec2;
use note::Note;

/// Between two sheets in one file, mm.
const APART_MM: f64 = 20.0;
/// Half the width of the arms of a cross that is only a cut, mm: every path here is closed.
const CUT_HALF_MM: f64 = 0.05;

/// One file for each film colour: its name and text, in order of name.
pub(crate) fn cut_files(plan: &Plan) -> Vec<(String, String)> {
    let mut names = piece::file_name::cut_files(&plan.piece);
    let mut files = Vec::new();
    for (index, colour) in plan.piece.colours.iter().enumerate() {
        let Some(cutting) = plan.coats.cutting.of_colour.get(&index) else { continue };
        if cutting.count() == 0 {
            continue;
        }
        let Some(name) = names.remove(&index) else { continue };
        let drawing = drawing_of(plan, cutting);
        let title = format!("{}: film in {}", plan.piece.title, colour.name);
        let text = drawing.svg(
            &title,
            "True size in mm. Groups whose id begins with sheet or note are the edges of a sheet and \
             words about it, and are not cut; those whose id begins with cut are cut lines; those \
             whose id begins with weed are lines to weed inside; those whose id begins with level \
             are crosses on the level line through the middle of a piece; those whose id begins \
             with mark are crosses of film by which the layers of one art are laid on each other.",
        );
        files.push((name, text));
    }
    files.sort();
    files
}

/// Sheets one below the other, those that are alike drawn once.
fn drawing_of(plan: &Plan, cutting: &CutPlan) -> Drawing {
    let films = &plan.coats.films;
    let letters = Letters::new();
    let size = DVec2::new(cutting.width_mm, cutting.height_mm);
    let mut drawing = Drawing::default();
    let (mut corner, mut sheets, mut pieces) = (DVec2::ZERO, 0, 0);
    for sheet in &cutting.sheets {
        let note = Note { plan, cutting, sheet, first: sheets + 1 };
        drawing.layers.push(edge(sheets + 1, sheets + sheet.times, corner, size));
        drawing.layers.push(note.layer(&letters, corner));
        sheets += sheet.times;
        for laid in &sheet.pieces {
            pieces += 1;
            let film = &films[laid.film];
            let name = &plan.piece.zones[film.zone].name;
            let on = On { piece: &film.pieces[laid.piece], laid, corner };
            let arm_mm = weeding::level_arm_mm(&plan.settings.vinyl);
            drawing.layers.extend(on.layers(name, pieces, arm_mm));
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
    fn page(&self, place: [f64; 2]) -> DVec2 {
        self.corner + DVec2::from(self.laid.on_sheet(self.piece.size_mm, place))
    }

    /// Closed lines of the piece as one path.
    fn path<'a>(&self, outlines: impl IntoIterator<Item = &'a Vec<[f64; 2]>>) -> Option<Mark> {
        let mut trace = Trace::new();
        for outline in outlines {
            let places = knife::clean(outline.iter().map(|&place| self.page(place)));
            places.into_iter().for_each(|places| trace.append(&Trace::outline(places)));
        }
        (!trace.is_empty()).then(|| Mark::path(trace, Ink::line(INK, 0.1)))
    }

    /// Its groups, those that hold nothing left out.
    fn layers(&self, zone: &str, number: usize, arm_mm: f64) -> impl Iterator<Item = Layer> {
        let name = format!("{zone}-{number}");
        let mut cut = Layer::new(format!("cut-{name}"), format!("{zone}: cut lines"));
        cut.marks.extend(self.piece.shapes.iter().filter_map(|shape| self.path(shape)));

        let mut frame = Layer::new(format!("weed-{name}"), format!("{zone}: lines to weed inside"));
        frame.marks.extend(self.piece.frame.iter().filter_map(|line| self.path([line])));

        let mut level =
            Layer::new(format!("level-{name}"), format!("{zone}: level through its middle"));
        let crosses = self.piece.level.iter();
        level.marks.extend(crosses.filter_map(|&at| self.path([&cross(at, arm_mm, CUT_HALF_MM)])));

        let title = format!("{zone}: crosses to lay its layers on each other by");
        let mut marks = Layer::new(format!("mark-{name}"), title);
        let crosses = self.piece.registration.iter();
        let half = 0.5 * ARM_WIDTH_MM;
        marks.marks.extend(crosses.filter_map(|&at| self.path([&cross(at, REACH_MM, half)])));

        [cut, frame, level, marks].into_iter().filter(|layer| !layer.marks.is_empty())
    }
}

/// A cross as a closed outline: half the length of its arms and half their width.
fn cross([x, y]: [f64; 2], long: f64, thin: f64) -> Vec<[f64; 2]> {
    [
        (-long, -thin),
        (-thin, -thin),
        (-thin, -long),
        (thin, -long),
        (thin, -thin),
        (long, -thin),
        (long, thin),
        (thin, thin),
        (thin, long),
        (-thin, long),
        (-thin, thin),
        (-long, thin),
    ]
    .map(|(right, down)| [x + right, y + down])
    .to_vec()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_turned_piece_is_turned_and_not_mirrored() {
        let piece = FilmPiece::rectangle(100.0, 40.0);
        let laid = |quarter| Laid { film: 0, piece: 0, at_mm: (10.0, 20.0), quarter };
        let corners = |quarter| {
            let laid = laid(quarter);
            let on = On { piece: &piece, laid: &laid, corner: DVec2::ZERO };
            [[0.0, 0.0], [100.0, 0.0], [0.0, 40.0]].map(|place| on.page(place).to_array())
        };
        // Clockwise: the upper left corner becomes the upper right one, the upper right the lower right.
        assert_eq!(corners(1), [[50.0, 20.0], [50.0, 120.0], [10.0, 20.0]]);
        assert_eq!(corners(2), [[110.0, 60.0], [10.0, 60.0], [110.0, 20.0]]);
        assert_eq!(corners(3), [[10.0, 120.0], [10.0, 20.0], [50.0, 120.0]]);
    }
}
