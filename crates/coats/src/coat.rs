//! What is told of a coat.

use crate::air::PieceAir;
use crate::bury::{BuriedEdge, BuryPlan};
use crate::pours::{Pour, Pours, Waits};
use crate::{Cutting, FilmLie, FilmPiece, Fits, Unrolled};
use piece::{Diagnostic, FilmTurns};

/// One layer put on in one go.
#[derive(Debug, Clone, PartialEq)]
pub struct Coat {
    /// Index of the zone it belongs to.
    pub zone: usize,
    /// Index of the part.
    pub part: usize,
    /// Which coat of this zone, from 1.
    pub number: u32,
    /// How many coats the zone gets.
    pub of: u32,
    /// Area covered, on the surface as it has grown by the coats beneath, mm².
    pub area_mm2: f64,
    /// Thickness left, mm.
    pub film_mm: f64,
    /// Girth added over the bare part by this and all layers beneath, mm, as a tape laid round at
    /// [`Coat::girth_at_mm`] reads it; 0 on a flat part.
    pub girth_added_mm: f64,
    /// Where that girth is measured, mm along the wall from the start: half-way between the ends of
    /// the zone, at the nearest whole mm or quarter inch.
    pub girth_at_mm: f64,
    /// What it is made of.
    pub matter: Matter,
}

/// What a coat is made of; amounts for one piece.
#[derive(Debug, Clone, PartialEq)]
pub enum Matter {
    /// Paint.
    Paint {
        /// Index into [`piece::Piece::colours`].
        colour: usize,
        /// Wet paint, ml.
        wet_ml: f64,
    },
    /// Glitter.
    Glitter {
        /// Index into [`piece::Piece::colours`].
        colour: usize,
        /// Flake width, mm.
        flake_mm: f64,
        /// Mass that stays on, g.
        on_cup_g: f64,
        /// Mass to have in the shaker, g.
        in_shaker_g: f64,
        /// Resin that its bare flakes drink from the first coat over them, ml.
        drinks_ml: f64,
    },
    /// Resin.
    Resin(Mix),
}

/// One mix of resin.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mix {
    /// Volume that ends on the cup, ml.
    pub on_cup_ml: f64,
    /// Volume lost in cup, brush and glove, ml.
    pub loss_ml: f64,
    /// Part A, ml.
    pub a_ml: f64,
    /// Part B, ml.
    pub b_ml: f64,
    /// Part A, g.
    pub a_g: f64,
    /// Part B, g.
    pub b_g: f64,
}

impl Mix {
    /// Everything mixed, ml.
    pub fn mixed_ml(&self) -> f64 {
        self.on_cup_ml + self.loss_ml
    }

    /// Everything mixed, g.
    pub fn mixed_g(&self) -> f64 {
        self.a_g + self.b_g
    }
}

/// All coats of a piece, in order of work.
#[derive(Debug, Clone, PartialEq)]
pub struct Coats {
    /// In order of work.
    pub coats: Vec<Coat>,
    /// Film cut for each vinyl zone.
    pub films: Vec<Film>,
    /// How that film lies on sheets, for the whole quantity.
    pub cutting: Cutting,
    /// How long resin must be left in this studio's room.
    pub waits: Waits,
    /// What becomes of each pour; `None` if nothing is poured.
    pub pours: Option<Pours>,
    /// How each zone of glitter is buried until it can be sanded, with the zone's index.
    pub buried: Vec<(usize, BuryPlan)>,
    /// How the edges of film and paint beneath clear resin are buried.
    pub edges: Vec<BuriedEdge>,
    /// What gets into the air of the room.
    pub air: PieceAir,
    /// What still fits when all is on, and where to mask.
    pub fits: Fits,
    /// Warnings and cautions about the stack and its use.
    pub notes: Vec<Diagnostic>,
}

impl Coats {
    /// What becomes of a pour, by the index of its coat.
    pub fn pour(&self, coat: usize) -> Option<&Pour> {
        self.pours.as_ref()?.pours.iter().find(|pour| pour.coat == coat)
    }
}

/// Adhesive film for one zone.
#[derive(Debug, Clone, PartialEq)]
pub struct Film {
    /// Index of the zone.
    pub zone: usize,
    /// Index of the part.
    pub part: usize,
    /// Index into [`piece::Piece::colours`].
    pub colour: usize,
    /// How its pieces may be turned on the sheet.
    pub turns: FilmTurns,
    /// It is cut from its back: its pieces are mirrored.
    pub mirrored: bool,
    /// Area of film that stays, all copies, mm².
    pub area_mm2: f64,
    /// What is cut and placed one by one, for one cup: each copy of repeated art, and the strips of
    /// what is too large for a sheet.
    pub pieces: Vec<FilmPiece>,
    /// Its copies band by band, as they lie on the part.
    pub copies: Vec<Unrolled>,
    /// How it lies where the wall is curved both ways; `None` where it lies flat by itself.
    pub lie: Option<FilmLie>,
    /// Separate shapes to weed and place, all copies.
    pub shapes: usize,
}
