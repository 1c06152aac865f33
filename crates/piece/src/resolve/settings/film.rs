//! Adhesive film, checked and brought into our units.

use crate::FieldPath;
use crate::file::scalars::Length;
use crate::file::settings::{SettingsFile, WeedingFile};
use crate::film::Weeding;
use crate::resolve::bounds::Desk;
use crate::settings::VinylProduct;

/// Thinnest stroke of film unless said otherwise, mm (common practice among cutters of film, no source).
const LEAST_STROKE_MM: f64 = 1.0;

/// How far two layers run under each other unless said otherwise, mm (from memory: 0.2 to 0.5 mm
/// among cutters of film; printers trap by less than 0.2 mm).
const TRAP_MM: f64 = 0.3;

/// From a shape to the line to weed inside, and between two such lines, mm (common practice, no source).
const WEED_MARGIN_MM: f64 = 4.0;

const SPACING_MM: f64 = 8.0;

/// How far film may be stretched unless said otherwise: calendered film laid cold by hand; cast film bears
/// about 5 % laid so and more laid warm (common practice, from memory, no source).
const STRETCH: f64 = 0.02;

pub(super) fn vinyl(file: &SettingsFile, path: &FieldPath, on: &mut Desk<'_, '_>) -> VinylProduct {
    let file = &file.vinyl;
    let or_usual = |on: &mut Desk<'_, '_>,
                    key: &str,
                    typed: Option<Length>,
                    usual: f64,
                    (least, most): (f64, f64)| {
        typed.map_or(usual, |typed| on.length(&path.key(key), typed, least, most))
    };
    VinylProduct {
        film_mm: on.length(&path.key("film"), file.film, 0.001, 2.0),
        least_stroke_mm: file.least_stroke.map_or(LEAST_STROKE_MM, |least| {
            on.length(&path.key("least_stroke"), least, 0.05, 20.0)
        }),
        trap_mm: or_usual(on, "trap", file.trap, TRAP_MM, (0.01, 5.0)),
        weeding: match file.weeding {
            WeedingFile::Outline => Weeding::Outline,
            WeedingFile::Box => Weeding::Box,
            WeedingFile::Strips => Weeding::Strips,
            WeedingFile::None => Weeding::None,
        },
        weed_margin_mm: or_usual(on, "weed_margin", file.weed_margin, WEED_MARGIN_MM, (1.0, 15.0)),
        spacing_mm: or_usual(on, "spacing", file.spacing, SPACING_MM, (1.0, 50.0)),
        stretch: file
            .stretch
            .map_or(STRETCH, |stretch| on.share(&path.key("stretch"), stretch, 0.5)),
        sheet_width_mm: on.length(&path.key("sheet_width"), file.sheet_width, 50.0, 10_000.0),
        sheet_height_mm: on.length(&path.key("sheet_height"), file.sheet_height, 50.0, 100_000.0),
        sheet_price: on.money(&path.key("sheet_price"), &file.sheet_price),
        transfer_price: on.money(&path.key("transfer_price"), &file.transfer_price),
    }
}
