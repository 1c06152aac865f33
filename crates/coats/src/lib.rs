//! Coats: what is poured, sprayed and sprinkled on each part, in order.
//!
//! Takes a [`piece::Piece`], its [`shape::Shape`] and the studio's [`piece::Settings`] and gives
//! [`Coats`]: volumes, masses and thicknesses. It knows no calendar and no prices.
//! Read first: `coat.rs`.

use piece::{Diagnostic, Piece, Settings};
use shape::Shape;

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
    /// Area covered, mm².
    pub area_mm2: f64,
    /// Thickness left, mm.
    pub film_mm: f64,
    /// Girth added at the widest place by this and all layers beneath, mm.
    pub girth_added_mm: f64,
    /// What it is made of.
    pub matter: Matter,
}

/// What a coat is made of; amounts for one piece.
#[derive(Debug, Clone, PartialEq)]
pub enum Matter {
    /// Paint.
    Paint {
        /// Index into [`Piece::colours`].
        colour: usize,
        /// Wet paint, ml.
        wet_ml: f64,
    },
    /// Glitter.
    Glitter {
        /// Index into [`Piece::colours`].
        colour: usize,
        /// Flake width, mm.
        flake_mm: f64,
        /// Mass that stays on, g.
        on_cup_g: f64,
        /// Mass to have in the shaker, g.
        in_shaker_g: f64,
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

/// All coats of a piece, in order of work.
#[derive(Debug, Clone, PartialEq)]
pub struct Coats {
    /// In order of work.
    pub coats: Vec<Coat>,
    /// Film cut for each vinyl zone.
    pub films: Vec<Film>,
    /// Warnings.
    pub notes: Vec<Diagnostic>,
}

/// Adhesive film for one zone.
#[derive(Debug, Clone, PartialEq)]
pub struct Film {
    /// Index of the zone.
    pub zone: usize,
    /// Index of the part.
    pub part: usize,
    /// Index into [`Piece::colours`].
    pub colour: usize,
    /// Area of film that stays, mm².
    pub area_mm2: f64,
    /// Width and height of the rectangle to cut it from, mm.
    pub blank_mm: (f64, f64),
    /// Separate shapes to weed and place.
    pub shapes: usize,
}

/// Works out every coat.
pub fn plan_coats(piece: &Piece, shape: &Shape, settings: &Settings) -> Coats {
    let _ = (piece, shape, settings);
    todo!()
}
