//! Plots of what a turning cup carries: as time goes on, and along the wall.

mod bands;
mod cure;
mod time;
mod wall;

pub use cure::after_a_pour;
pub use time::allowed_over_time;
pub use wall::allowed_along_wall;

use crate::SheetError;
use crate::folder::failed;
use crate::plotting::Plot;
use coats::Coats;
use piece::{Piece, Settings};
use std::fs;
use std::path::Path;

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

/// Writes the plots of a piece's pours into a folder that exists, each as SVG and PNG, and returns
/// their names: `cure`, and for the first coat of each zone `coat-N` and `wall-N`, N being its pour.
/// `room` says in what room: `in the room from 18:00 on: 22 °C`.
///
/// # Errors
/// The first plot that could not be drawn or written.
pub fn write_coat_plots(
    piece: &Piece,
    settings: &Settings,
    coats: &Coats,
    room: &str,
    folder: &Path,
) -> Result<Vec<String>, SheetError> {
    let mut names = Vec::new();
    let mut write = |name: String, plotted: &Plotted| {
        for (kind, bytes) in [("svg", &plotted.svg), ("png", &plotted.png)] {
            let file = format!("{name}.{kind}");
            fs::write(folder.join(&file), bytes).map_err(|source| failed(&file, source))?;
            names.push(file);
        }
        Ok(())
    };
    let Some(pours) = &coats.pours else { return Ok(names) };
    let title = format!("After a pour of {}", settings.resin.name);
    if let Some(plotted) = after_a_pour(&title, room, pours)? {
        write("cure".to_owned(), &plotted)?;
    }
    for (index, pour) in pours.pours.iter().enumerate() {
        let coat = &coats.coats[pour.coat];
        let Some(on_turner) = pour.on_turner.as_ref().filter(|_| coat.number == 1) else {
            continue;
        };
        let name = format!(
            "{}, {} on the {}",
            piece.title, piece.zones[coat.zone].name, piece.parts[coat.part].name
        );
        write(format!("coat-{}", index + 1), &allowed_over_time(&name, &on_turner.allowed)?)?;
        let share = settings.turner.share;
        let along = allowed_along_wall(&name, &on_turner.along, share, settings.lengths)?;
        write(format!("wall-{}", index + 1), &along)?;
    }
    Ok(names)
}
