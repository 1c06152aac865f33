//! Clear epoxy, checked and brought into our units.

use crate::FieldPath;
use crate::file::settings::ResinProductFile;
use crate::resolve::bounds::Desk;
use crate::settings::ResinProduct;

pub(super) fn resin(
    file: &ResinProductFile,
    path: &FieldPath,
    on: &mut Desk<'_, '_>,
) -> ResinProduct {
    on.in_order(path, ("recoat_from", file.recoat_from), ("recoat_to", file.recoat_to));
    on.in_order(path, ("pot_life", file.pot_life), ("recoat_from", file.recoat_from));
    on.in_order(path, ("sandable", file.sandable), ("full_cure", file.full_cure));
    ResinProduct {
        name: file.name.clone(),
        ratio_by_volume: (file.ratio_by_volume[0], file.ratio_by_volume[1]),
        density_g_per_ml: (file.density_g_per_ml[0], file.density_g_per_ml[1]),
        loss: on.share(&path.key("loss"), file.loss, 0.9),
        least_loss_ml: on.within(&path.key("least_loss"), file.least_loss.0, (0.0, 1000.0), |ml| {
            format!("{ml} ml")
        }),
        pot_life_min: on.wait(&path.key("pot_life"), file.pot_life, 1.0),
        recoat_min: (
            on.wait(&path.key("recoat_from"), file.recoat_from, 0.0),
            on.wait(&path.key("recoat_to"), file.recoat_to, 0.0),
        ),
        turning_min: on.wait(&path.key("turning"), file.turning, 0.0),
        sandable_min: on.wait(&path.key("sandable"), file.sandable, 0.0),
        full_cure_min: on.wait(&path.key("full_cure"), file.full_cure, 0.0),
        kit_price: on.money(&path.key("kit_price"), &file.kit_price),
        kit_ml: on.volume(&path.key("kit"), file.kit),
    }
}
