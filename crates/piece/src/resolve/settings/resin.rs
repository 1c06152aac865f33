//! Clear epoxy, checked and brought into our units.
//!
//! What a sheet leaves out is taken from a usual slow decorative resin; such keys are listed.

use super::ratio::parts;
use crate::FieldPath;
use crate::file::settings::{ResinProductFile, ScaleFile};
use crate::resolve::bounds::Desk;
use crate::settings::{ResinProduct, Scale};

/// Mass that a pot life is told for, g (common practice).
const POT_LIFE_MASS_G: f64 = 100.0;
/// Room that the times of a sheet are told for, °C (from memory: 70 to 77 °F).
const SHEET_AT_C: f64 = 24.0;
/// Below it cure drags and amines bloom, °C (common practice).
const LOWEST_C: f64 = 18.0;
/// Just mixed, Pa s (from memory: 0.3 to 4).
const VISCOSITY_PA_S: f64 = 1.0;
/// Epoxies, mN/m (from memory: 30 to 45).
const SURFACE_TENSION: f64 = 35.0;
/// Volume lost in curing, as a share (from memory: 0.03 to 0.07).
const SHRINKAGE: f64 = 0.03;
/// Heat of the whole cure, J/g: 100 kJ for each mole of epoxide (from memory: 98 to 110) over the
/// 250 to 300 g of resin and hardener that hold it.
const HEAT_J_PER_G: f64 = 350.0;
/// Epoxy with aliphatic amines, kJ/mol: 53.2 by gel times (J. Appl. Polym. Sci. 83, 78, 2002), 58.5
/// (ibid. 92, 1190, 2004), 67.2 (Macan et al., J. Therm. Anal. Calorim. 81, 369, 2005, as quoted).
const ACTIVATION_KJ_PER_MOL: (f64, f64, f64) = (58.0, 53.0, 67.0);
/// Solvent-free resin, g/l (common practice, no source: sheets say below 50).
const VOC_G_PER_L: f64 = 50.0;
/// Common scales for resin show 0.1 g (common practice).
const READABILITY_G: f64 = 0.1;

pub(super) fn resin(
    file: &ResinProductFile,
    path: &FieldPath,
    on: &mut Desk<'_, '_>,
) -> ResinProduct {
    on.in_order(path, ("recoat_from", file.recoat_from), ("recoat_to", file.recoat_to));
    on.in_order(path, ("pot_life", file.pot_life), ("recoat_from", file.recoat_from));
    let recoat_from = ("recoat_from", file.recoat_from);
    let gel = file.tack_free.map_or(recoat_from, |time| ("tack_free", time));
    if file.tack_free.is_some() {
        on.in_order(path, ("pot_life", file.pot_life), gel);
        on.in_order(path, gel, ("recoat_to", file.recoat_to));
    }
    on.in_order(path, gel, ("sandable", file.sandable));
    on.in_order(path, ("sandable", file.sandable), ("full_cure", file.full_cure));
    let (ratio_by_volume, density_g_per_ml) = parts(file, path, on);
    let sheet_at_c = file
        .sheet_at
        .map_or(SHEET_AT_C, |at| on.temperature(&path.key("sheet_at"), at, (5.0, 45.0)));
    let lowest_c = file.lowest.map_or(LOWEST_C.min(sheet_at_c), |at| {
        on.temperature(&path.key("lowest"), at, (0.0, sheet_at_c))
    });
    let mut product = ResinProduct {
        name: file.name.clone(),
        ratio_by_volume,
        density_g_per_ml,
        loss: on.share(&path.key("loss"), file.loss, 0.9),
        least_loss_ml: on.within(&path.key("least_loss"), file.least_loss.0, (0.0, 1000.0), |ml| {
            format!("{ml} ml")
        }),
        pot_life_min: on.wait(&path.key("pot_life"), file.pot_life, 1.0),
        pot_life_mass_g: file.pot_life_mass.map_or(POT_LIFE_MASS_G, |mass| {
            on.within(&path.key("pot_life_mass"), mass.0, (5.0, 5000.0), |g| format!("{g} g"))
        }),
        tack_free_min: file
            .tack_free
            .map_or(file.recoat_from.0, |time| on.wait(&path.key("tack_free"), time, 1.0)),
        recoat_min: (
            on.wait(&path.key("recoat_from"), file.recoat_from, 0.0),
            on.wait(&path.key("recoat_to"), file.recoat_to, 0.0),
        ),
        turning_min: on.wait(&path.key("turning"), file.turning, 0.0),
        sandable_min: on.wait(&path.key("sandable"), file.sandable, 0.0),
        full_cure_min: on.wait(&path.key("full_cure"), file.full_cure, 0.0),
        sheet_at_c,
        lowest_c,
        softens_c: file
            .softens
            .map(|at| on.temperature(&path.key("softens"), at, (sheet_at_c, 200.0))),
        viscosity_pa_s: file.viscosity.map_or(VISCOSITY_PA_S, |viscosity| {
            on.within(&path.key("viscosity"), viscosity.0, (0.01, 100.0), |pa_s| {
                format!("{pa_s} Pa s")
            })
        }),
        viscosity_at_c: file
            .viscosity_at
            .map_or(sheet_at_c, |at| on.temperature(&path.key("viscosity_at"), at, (5.0, 45.0))),
        surface_tension_mn_per_m: file.surface_tension_mn_per_m.unwrap_or(SURFACE_TENSION),
        density_cured_g_per_ml: 0.0,
        heat_j_per_g: file.heat_j_per_g.unwrap_or(HEAT_J_PER_G),
        activation_kj_per_mol: file
            .activation_kj_per_mol
            .map_or(ACTIVATION_KJ_PER_MOL, |energy| (energy, energy, energy)),
        voc_g_per_l: file.voc_g_per_l.unwrap_or(VOC_G_PER_L),
        usual: left_out(file),
        kit_price: on.money(&path.key("kit_price"), &file.kit_price),
        kit_ml: on.volume(&path.key("kit"), file.kit),
    };
    let mixed = product.density_mixed_g_per_ml();
    product.density_cured_g_per_ml =
        file.density_cured_g_per_ml.unwrap_or(mixed / (1.0 - SHRINKAGE));
    if file.density_g_per_ml.is_some() && product.density_cured_g_per_ml < mixed {
        let message = format!(
            "cured resin of {} g/ml is lighter than its mix of {mixed:.3} g/ml; it shrinks in curing",
            product.density_cured_g_per_ml
        );
        on.bench.error(&path.key("density_cured_g_per_ml"), message);
    }
    product
}

/// Keys of the cure that are not in the file.
fn left_out(file: &ResinProductFile) -> Vec<&'static str> {
    let keys = [
        ("pot_life_mass", file.pot_life_mass.is_none()),
        ("tack_free", file.tack_free.is_none()),
        ("sheet_at", file.sheet_at.is_none()),
        ("lowest", file.lowest.is_none()),
        ("softens", file.softens.is_none()),
        ("viscosity", file.viscosity.is_none()),
        ("viscosity_at", file.viscosity_at.is_none()),
        ("surface_tension_mn_per_m", file.surface_tension_mn_per_m.is_none()),
        ("density_cured_g_per_ml", file.density_cured_g_per_ml.is_none()),
        ("heat_j_per_g", file.heat_j_per_g.is_none()),
        ("activation_kj_per_mol", file.activation_kj_per_mol.is_none()),
        ("voc_g_per_l", file.voc_g_per_l.is_none()),
    ];
    keys.into_iter().filter(|(_, left_out)| *left_out).map(|(key, _)| key).collect()
}

pub(super) fn scale(file: Option<&ScaleFile>, path: &FieldPath, on: &mut Desk<'_, '_>) -> Scale {
    let readability_g = file.map_or(READABILITY_G, |file| {
        on.within(&path.key("readability"), file.readability.0, (0.001, 50.0), |g| format!("{g} g"))
    });
    Scale { readability_g }
}
