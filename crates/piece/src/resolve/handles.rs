//! Handles: windows of the wall that zones keep out of.

use super::parts::MOST_CLEARANCE_MM;
use super::{Bench, mm};
use crate::blanks::HandleSize;
use crate::file::part::HandleFile;
use crate::{FieldPath, Handle, Measure};
use std::f64::consts::{FRAC_PI_2, PI};

/// Room beside a handle that stones leave where nothing else is said, mm: enough to slide a strap on and
/// off (common practice, no source).
const CLEARANCE_MM: f64 = 1.0;

/// Reads a handle. `wall` is the readings of its part, or `None` if that is flat; `zones` are the
/// names of all zones in order.
pub(super) fn handle(
    file: &HandleFile,
    wall: Option<&[Measure]>,
    zones: &[&str],
    path: &FieldPath,
    bench: &mut Bench<'_>,
) -> Option<Handle> {
    let Some(wall) = wall else {
        bench.error_hint(path, "a flat part has no handle", "leave `handle` out");
        return None;
    };
    let (from_mm, to_mm, width_mm) = (file.from.0, file.to.0, file.width.0);
    let end_mm = wall.last().map_or(0.0, |last| last.along_mm);
    if from_mm < 0.0 {
        bench.error_hint(
            &path.key("from"),
            format!("the handle begins {} above the rim", mm(-from_mm)),
            "count from the rim down; a handle that begins at the rim has from = \"0 mm\"",
        );
    } else if to_mm <= from_mm {
        bench.error_hint(
            &path.key("to"),
            format!("the handle ends at {}, and begins at {}", mm(to_mm), mm(from_mm)),
            "`from` is its upper end, `to` the lower one; both are counted from the rim down",
        );
    } else if to_mm > end_mm && end_mm > 0.0 {
        bench.error_hint(
            &path.key("to"),
            format!("the handle ends at {}, but the wall is {} long", mm(to_mm), mm(end_mm)),
            "measure both ends of the handle along the wall from the rim",
        );
    }
    let girth_mm = 2.0 * PI * thinnest_mm(wall, from_mm, to_mm);
    if width_mm <= 0.0 {
        bench.error(
            &path.key("width"),
            format!("the handle is {} wide; it must be more than 0 mm", mm(width_mm)),
        );
    } else if width_mm >= girth_mm {
        bench.error_hint(
            &path.key("width"),
            format!(
                "the handle is {} wide, and the part only {} round there",
                mm(width_mm),
                mm(girth_mm)
            ),
            "`width` is the stretch of wall round the cup that the handle keeps",
        );
    }
    let mut beneath = Vec::new();
    for (index, name) in file.beneath.iter().enumerate() {
        beneath.extend(bench.find(&path.key("beneath").index(index), "zone", name, zones));
    }
    Some(Handle {
        along_mm: (from_mm, to_mm),
        around_rad: file.around.map_or(FRAC_PI_2, |around| around.0.to_radians()),
        width_mm,
        clearance_mm: bench.margin_mm(
            &path.key("clearance"),
            "the clearance",
            file.clearance.as_ref().map_or(CLEARANCE_MM, |clearance| clearance.0),
            MOST_CLEARANCE_MM,
        ),
        beneath,
    })
}

/// Least radius of the wall from one place to another, mm, as if it ran straight between readings.
fn thinnest_mm(wall: &[Measure], from_mm: f64, to_mm: f64) -> f64 {
    let between = wall.windows(2).flat_map(|pair| {
        let (from, to) = (&pair[0], &pair[1]);
        let (low_mm, high_mm) = (from_mm.max(from.along_mm), to_mm.min(to.along_mm));
        let radius_mm = |along_mm: f64| {
            let share = (along_mm - from.along_mm) / (to.along_mm - from.along_mm);
            from.radius_mm + share * (to.radius_mm - from.radius_mm)
        };
        (low_mm < high_mm).then(|| radius_mm(low_mm).min(radius_mm(high_mm)))
    });
    between.fold(f64::INFINITY, f64::min)
}

/// The handle of a generic blank, at the right-hand side.
pub(super) fn of_blank(size: &HandleSize) -> Handle {
    Handle {
        along_mm: size.along_mm,
        around_rad: FRAC_PI_2,
        width_mm: size.width_mm,
        clearance_mm: CLEARANCE_MM,
        beneath: Vec::new(),
    }
}
