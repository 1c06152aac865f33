//! Adhesive film, as it is bought and cut.

use crate::Money;
use crate::film::Weeding;

/// Adhesive film as it is bought.
#[derive(Debug, Clone, PartialEq)]
pub struct VinylProduct {
    /// Thickness, mm.
    pub film_mm: f64,
    /// Thinnest stroke that is cut and weeded with ease, mm.
    pub least_stroke_mm: f64,
    /// How far film of two layers runs under each other where a piece does not say, mm.
    pub trap_mm: f64,
    /// What is cut round a piece to weed inside.
    pub weeding: Weeding,
    /// From a shape to the frame round it, mm.
    pub weed_margin_mm: f64,
    /// Between the frames of two pieces, mm; half of it is left at the edge of a sheet.
    pub spacing_mm: f64,
    /// Greatest share by which it may be stretched as it is laid.
    pub stretch: f64,
    /// Width of a sheet, mm.
    pub sheet_width_mm: f64,
    /// Height of a sheet, mm.
    pub sheet_height_mm: f64,
    /// Price of a sheet.
    pub sheet_price: Money,
    /// Transfer tape, price per sheet of the same size.
    pub transfer_price: Money,
}

impl VinylProduct {
    /// Film left on each side of what is cut, mm.
    pub fn margin_mm(&self) -> f64 {
        self.weed_margin_mm + 0.5 * self.spacing_mm
    }
}
