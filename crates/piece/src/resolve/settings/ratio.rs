//! The parts of a resin by volume and by weight, and the densities that tie them together.

use crate::FieldPath;
use crate::file::settings::ResinProductFile;
use crate::resolve::bounds::Desk;

/// How far the two ratios of a sheet may be apart (our choice: below what a kitchen scale tells).
const AGREE: f64 = 0.02;

/// Parts by volume and densities in g/ml; what is missing is complained about.
pub(super) fn parts(
    file: &ResinProductFile,
    path: &FieldPath,
    on: &mut Desk<'_, '_>,
) -> ((f64, f64), (f64, f64)) {
    let density = match file.density_g_per_ml {
        Some([a, b]) => (a, b),
        None => {
            on.bench.error_hint(
                &path.key("density_g_per_ml"),
                "`resin` has no `density_g_per_ml`, without which ml cannot be turned into g",
                "take both densities from the data sheet, or measure them: set an empty 10 ml \
                 syringe on the scale and zero it, draw part A to the 10 ml mark without bubbles, \
                 weigh it, and divide the grams by 10; the same with a fresh syringe for part B; \
                 then write density_g_per_ml = [1.13, 0.97] with your two figures",
            );
            (1.0, 1.0)
        }
    };
    let by_volume = match (file.ratio_by_volume, file.ratio_by_weight) {
        (Some([a, b]), None) => (a, b),
        (None, Some([a, b])) => (a / density.0, b / density.1),
        (Some([a, b]), Some([a_weight, b_weight])) => {
            // Without densities there is nothing to compare, and that is said already.
            let apart = (b * density.1 / (a * density.0)) / (b_weight / a_weight) - 1.0;
            if file.density_g_per_ml.is_some() && apart.abs() > AGREE {
                let message = format!(
                    "the ratio by weight is 100 : {:.1}, but the ratio by volume and the densities \
                     give 100 : {:.1}, which is {:.1} % {}",
                    100.0 * b_weight / a_weight,
                    100.0 * b * density.1 / (a * density.0),
                    100.0 * apart.abs(),
                    if apart > 0.0 { "more" } else { "less" },
                );
                on.bench.error_hint(
                    &path.key("ratio_by_weight"),
                    message,
                    "compare all three with the data sheet, or leave one of the two ratios out",
                );
            }
            (a, b)
        }
        (None, None) => {
            on.bench.error_hint(
                &path.key("ratio_by_volume"),
                "`resin` has neither `ratio_by_volume` nor `ratio_by_weight`",
                "take the ratio from the data sheet, such as ratio_by_volume = [1, 1]",
            );
            (1.0, 1.0)
        }
    };
    (by_volume, density)
}
