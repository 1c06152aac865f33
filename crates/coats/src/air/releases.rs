//! From settings and amounts to what gets into the air.

use super::Release;
use piece::settings::{PaintProduct, SolventStep, SolventUse};

/// The solvents in `wet_ml` of paint, sprayed or brushed from `at_min` on and dry `lasts_min` later: all
/// of them get into the air.
pub fn paint_releases(
    wet_ml: f64,
    paint: &PaintProduct,
    at_min: f64,
    lasts_min: f64,
) -> Vec<Release> {
    let wet_g = wet_ml * paint.density_g_per_ml;
    let one = |&(solvent, share): &(_, f64)| Release {
        solvent: Some(solvent),
        mass_g: wet_g * share,
        at_min,
        lasts_min,
    };
    paint.solvents.iter().map(one).collect()
}

/// The solvents that one step of this kind uses up, from `at_min` on.
pub fn step_releases(solvents: &[SolventUse], step: SolventStep, at_min: f64) -> Vec<Release> {
    let of_step = solvents.iter().filter(|one| one.step == step);
    of_step
        .map(|one| Release {
            solvent: Some(one.solvent),
            mass_g: one.mass_g,
            at_min,
            lasts_min: one.lasts_min,
        })
        .collect()
}

/// The vapour of a mix of resin whose data sheet states `voc_g_per_l`, until it has gelled.
pub fn resin_release(mixed_ml: f64, voc_g_per_l: f64, at_min: f64, gel_min: f64) -> Release {
    Release {
        solvent: None,
        mass_g: mixed_ml / 1000.0 * voc_g_per_l,
        at_min,
        lasts_min: gel_min.max(0.0),
    }
}
