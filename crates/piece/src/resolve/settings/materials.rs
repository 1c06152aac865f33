//! Paint, glitter and glue, checked and brought into our units.

use super::air::shares;
use crate::FieldPath;
use crate::file::scalars::Time;
use crate::file::settings::SettingsFile;
use crate::resolve::bounds::Desk;
use crate::settings::{GlitterProduct, GlueProduct, PaintProduct};

/// Density of wet paint unless said otherwise, g/ml: from 0.8 of spray to 1.3 (from memory).
const PAINT_G_PER_ML: f64 = 1.0;

/// What sanding takes off unless said otherwise, mm (a choice, no source).
const SANDING_MM: f64 = 0.05;

/// What is left over the flakes then, mm (a choice, no source).
const COVER_MM: f64 = 0.1;

pub(super) fn paint(file: &SettingsFile, path: &FieldPath, on: &mut Desk<'_, '_>) -> PaintProduct {
    let file = &file.paint;
    PaintProduct {
        ml_per_m2: file.ml_per_m2,
        film_mm: on.length(&path.key("film"), file.film, 0.0, 2.0),
        between_coats_min: on.wait(&path.key("between_coats"), file.between_coats, 0.0),
        before_resin_min: on.wait(&path.key("before_resin"), file.before_resin, 0.0),
        density_g_per_ml: file.density_g_per_ml.unwrap_or(PAINT_G_PER_ML),
        solvents: shares(&file.solvents, &path.key("solvents"), on),
        pack_price: on.money(&path.key("pack_price"), &file.pack_price),
        pack_ml: on.volume(&path.key("pack"), file.pack),
    }
}

pub(super) fn glitter(
    file: &SettingsFile,
    path: &FieldPath,
    on: &mut Desk<'_, '_>,
) -> GlitterProduct {
    let usual = file.spare_materials.0;
    let file = &file.glitter;
    GlitterProduct {
        spare: file.spare.map_or(usual, |spare| on.share(&path.key("spare"), spare, 1.0)),
        g_per_m2: file.g_per_m2,
        shaker_times: file.shaker_times,
        flake_thickness_mm: on.length(
            &path.key("flake_thickness"),
            file.flake_thickness,
            0.001,
            2.0,
        ),
        sanding_mm: file
            .sanding
            .map_or(SANDING_MM, |sanding| on.length(&path.key("sanding"), sanding, 0.0, 2.0)),
        cover_mm: file
            .cover
            .map_or(COVER_MM, |cover| on.length(&path.key("cover"), cover, 0.0, 5.0)),
        pack_price: on.money(&path.key("pack_price"), &file.pack_price),
        pack_g: on.mass(&path.key("pack"), file.pack),
    }
}

/// Least and most that a fresh stone may lean, degrees: glue that holds less takes no stone on a round
/// wall, and what leans more would lie in the rest.
const TILT_DEG: (f64, f64) = (15.0, 120.0);

/// Common practice (memory: 10 to 30 min), where the settings do not say.
const GLUE_SET_MIN: f64 = 20.0;

/// The same, degrees.
const GLUE_TILT_DEG: f64 = 60.0;

pub(super) fn glue(file: &SettingsFile, path: &FieldPath, on: &mut Desk<'_, '_>) -> GlueProduct {
    let file = &file.glue;
    let tilt_deg = file.tilt.map_or(GLUE_TILT_DEG, |tilt| tilt.0);
    GlueProduct {
        bond_mm: on.length(&path.key("bond"), file.bond, 0.001, 5.0),
        dot_share: on.share(&path.key("dot"), file.dot, 1.5),
        loss: on.share(&path.key("loss"), file.loss, 0.9),
        open_min: on.wait(&path.key("open"), file.open, 0.5),
        set_min: on.wait(&path.key("set"), file.set.unwrap_or(Time(GLUE_SET_MIN)), 0.0),
        tilt_rad: on
            .within(&path.key("tilt"), tilt_deg, TILT_DEG, |deg| format!("{deg} deg"))
            .to_radians(),
        full_min: on.wait(&path.key("full"), file.full, 0.0),
        pack_price: on.money(&path.key("pack_price"), &file.pack_price),
        pack_ml: on.volume(&path.key("pack"), file.pack),
    }
}
