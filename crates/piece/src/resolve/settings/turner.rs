//! The turner, checked and brought into our units.

use crate::FieldPath;
use crate::file::settings::TurnerFile;
use crate::resolve::bounds::Desk;
use crate::settings::Turner;

/// Turns a minute unless said otherwise: cup makers run 2 to 6, some 10, rod makers 6 until it is dry
/// (common practice, no source).
const RPM: f64 = 6.0;

/// Out of level unless said otherwise, degrees: a spirit level of a workshop shows 0.1 to 0.3 (from
/// memory, no source).
const OUT_OF_LEVEL_DEG: f64 = 0.2;

/// Most that is taken for a slip of levelling, degrees; beyond, the cup hangs.
const MOST_OUT_OF_LEVEL_DEG: f64 = 10.0;

/// Safe share unless said otherwise: up to it the film stays within 7 % of its mean (own simulation of
/// the film on a turning cylinder).
const SHARE: f64 = 0.6;

pub(super) fn turner(file: Option<&TurnerFile>, path: &FieldPath, on: &mut Desk<'_, '_>) -> Turner {
    let rpm = file.and_then(|file| file.rpm).unwrap_or(RPM);
    let out_of_level_deg =
        file.and_then(|file| file.out_of_level.as_ref()).map_or(OUT_OF_LEVEL_DEG, |angle| angle.0);
    let share = file.and_then(|file| file.share.as_ref()).map_or(SHARE, |share| share.0);
    Turner {
        rpm,
        out_of_level_rad: on
            .within(
                &path.key("out_of_level"),
                out_of_level_deg,
                (0.0, MOST_OUT_OF_LEVEL_DEG),
                |deg| format!("{deg} deg"),
            )
            .to_radians(),
        share: on.within(&path.key("share"), share, (0.05, 1.0), |share| {
            format!("{} %", (share * 1e6).round() / 1e4)
        }),
    }
}
