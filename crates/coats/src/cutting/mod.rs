//! The one plan of film pieces on sheets: what is bought, told at the bench and cut.
//!
//! Read `nest.rs` for how pieces are laid by their true shape, `shelves.rs` for the plan by rectangles
//! that is kept where it takes less.

mod covered;
mod nest;
mod shelves;

use crate::{Film, FilmPiece};
use piece::FilmTurns;
use piece::settings::VinylProduct;
use std::collections::BTreeMap;

/// All film of a plan on its sheets.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Cutting {
    /// The plan of each colour, by its index.
    pub of_colour: BTreeMap<usize, CutPlan>,
    /// Transfer tape for all colours together, cut as rectangles from sheets of the same size.
    pub tape: CutPlan,
}

/// Where pieces lie on sheets of film.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct CutPlan {
    /// Sheets in the order of cutting; those that follow each other and are alike stand here once.
    pub sheets: Vec<CutSheet>,
    /// Film of all sheets that stays on the pieces, mm².
    pub film_mm2: f64,
    /// Film of all sheets that pieces take up, with what is left round them to weed by, mm².
    pub bodies_mm2: f64,
    /// Width of a sheet, mm.
    pub width_mm: f64,
    /// Height of a sheet, mm.
    pub height_mm: f64,
}

/// One layout of a sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct CutSheet {
    /// How many sheets are cut like this.
    pub times: u32,
    /// What lies on it.
    pub pieces: Vec<Laid>,
    /// How far down from its upper edge it is used, mm.
    pub length_mm: f64,
    /// Film of one such sheet that stays on the pieces, mm².
    pub film_mm2: f64,
}

/// A piece on a sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Laid {
    /// Index into the films.
    pub film: usize,
    /// Index into [`Film::pieces`].
    pub piece: usize,
    /// Upper left corner of its rectangle from that of the sheet, mm.
    pub at_mm: (f64, f64),
    /// Quarters by which it is turned clockwise, 0 to 3.
    pub quarter: u8,
}

impl Laid {
    /// Where a place of the piece, whose rectangle is of this size, lies on the sheet, mm.
    pub fn on_sheet(&self, (width, height): (f64, f64), [x, y]: [f64; 2]) -> [f64; 2] {
        let [x, y] = match self.quarter {
            0 => [x, y],
            1 => [height - y, x],
            2 => [width - x, height - y],
            _ => [y, width - x],
        };
        [self.at_mm.0 + x, self.at_mm.1 + y]
    }
}

impl CutPlan {
    /// Sheets that are cut from.
    pub fn count(&self) -> u32 {
        self.sheets.iter().map(|sheet| sheet.times).fold(0, u32::saturating_add)
    }

    /// Length that all sheets together are used down from their upper edges, mm: what they take of a
    /// roll of this width.
    pub fn length_mm(&self) -> f64 {
        self.sheets.iter().map(|sheet| f64::from(sheet.times) * sheet.length_mm).sum()
    }

    /// Area of all sheets, mm².
    pub fn sheets_mm2(&self) -> f64 {
        f64::from(self.count()) * self.width_mm * self.height_mm
    }

    /// Share that does not stay on the pieces, of one sheet as far down as it is used.
    pub fn waste_of(&self, sheet: &CutSheet) -> f64 {
        waste(sheet.film_mm2, self.width_mm * sheet.length_mm)
    }

    /// Share that does not stay on the pieces, of all sheets as far down as they are used; what is left
    /// below is kept for other work.
    pub fn waste(&self) -> f64 {
        waste(self.film_mm2, self.width_mm * self.length_mm())
    }
}

fn waste(film_mm2: f64, used_mm2: f64) -> f64 {
    if used_mm2 > 0.0 { 1.0 - film_mm2 / used_mm2 } else { 0.0 }
}

/// Lays all film for so many cups on sheets.
pub fn plan_cutting(films: &[Film], quantity: u32, vinyl: &VinylProduct) -> Cutting {
    let colours: std::collections::BTreeSet<usize> = films.iter().map(|film| film.colour).collect();
    let of_colour = colours.into_iter().map(|colour| {
        let order = Order { films, colour: Some(colour), quantity, vinyl };
        let shelves = shelves::on_shelves(&order);
        (colour, order.plan(nest::nested(&order, &shelves).unwrap_or(shelves)))
    });
    let of_colour = of_colour.collect();
    // Tape has no pattern, and is trimmed to rectangles.
    let order = Order { films, colour: None, quantity, vinyl };
    Cutting { of_colour, tape: order.plan(shelves::on_shelves(&order)) }
}

/// What is to be laid.
struct Order<'a> {
    films: &'a [Film],
    /// Film of this colour, or tape for all of them.
    colour: Option<usize>,
    quantity: u32,
    vinyl: &'a VinylProduct,
}

impl Order<'_> {
    /// The pieces of one cup.
    fn pieces(&self) -> impl Iterator<Item = (usize, usize)> {
        let of = self.films.iter().enumerate();
        of.filter(|(_, film)| self.colour.is_none_or(|colour| film.colour == colour))
            .flat_map(|(film, told)| (0..told.pieces.len()).map(move |piece| (film, piece)))
    }

    /// By how many quarters a film may be turned.
    fn quarters(&self, film: usize) -> &'static [u8] {
        match self.colour {
            Some(_) => self.films[film].turns.quarters(),
            None => FilmTurns::Quarter.quarters(),
        }
    }

    fn sheet_mm(&self) -> (f64, f64) {
        (self.vinyl.sheet_width_mm, self.vinyl.sheet_height_mm)
    }

    /// Sheets that are alike.
    fn sheets(&self, times: usize, pieces: Vec<Laid>, length_mm: f64) -> CutSheet {
        let film = |laid: &Laid| self.films[laid.film].pieces[laid.piece].shapes_mm2();
        let film_mm2 = pieces.iter().map(film).sum();
        let times = u32::try_from(times).unwrap_or(u32::MAX);
        CutSheet { times, pieces, length_mm, film_mm2 }
    }

    fn plan(&self, sheets: Vec<CutSheet>) -> CutPlan {
        let (width_mm, height_mm) = self.sheet_mm();
        let all = |area: &dyn Fn(&FilmPiece) -> f64| {
            let of_cup = self.pieces().map(|(film, piece)| area(&self.films[film].pieces[piece]));
            f64::from(self.quantity) * of_cup.sum::<f64>()
        };
        let film_mm2 = all(&FilmPiece::shapes_mm2);
        let bodies_mm2 = match self.colour {
            Some(_) => all(&FilmPiece::body_mm2),
            None => all(&|piece| piece.size_mm.0 * piece.size_mm.1),
        };
        CutPlan { sheets, film_mm2, bodies_mm2, width_mm, height_mm }
    }
}
