//! Plots of what a turning cup carries: as time goes on, and along the wall.

mod bands;
mod time;
mod wall;

pub use time::allowed_over_time;
pub use wall::allowed_along_wall;

use crate::SheetError;
use crate::plotting::Plot;

/// A plot in both forms.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Plotted {
    /// As a drawing with its letters as outlines.
    pub svg: Vec<u8>,
    /// As a picture.
    pub png: Vec<u8>,
}

impl Plotted {
    fn of(plot: &Plot) -> Result<Self, SheetError> {
        Ok(Self { svg: plot.svg(), png: plot.png()? })
    }
}
