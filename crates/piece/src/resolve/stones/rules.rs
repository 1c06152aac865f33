//! Rules on which sizes may lie where.

use crate::file::stones::StoneRulesFile;
use crate::resolve::{Bench, mm};
use crate::{Diagnostic, FieldPath, StoneRules, StoneSize};

/// Thickest bond line that any glue for stones fills, mm.
const THICKEST_MM: f64 = 5.0;
/// Farthest from the end of a part that stones wear off, mm.
const FARTHEST_MM: f64 = 500.0;

/// The rules for a zone with these sizes.
pub(crate) fn rules(
    file: &StoneRulesFile,
    sizes: &[StoneSize],
    path: &FieldPath,
    bench: &mut Bench<'_>,
) -> StoneRules {
    let wear = file.wear.as_ref().map(|wear| {
        let path = path.key("wear");
        let within_mm = bench.size_mm(
            &path.key("within"),
            "the distance from the ends",
            wear.within.0,
            FARTHEST_MM,
        );
        let least = &wear.least.0;
        if let Some(largest) = sizes.first()
            && largest.diameter_mm < least.diameter_mm
        {
            let message = format!(
                "no stone of this zone is as large as {}, so that it stays bare within {} of the ends of the part",
                least.name,
                mm(within_mm)
            );
            let hint = format!("its largest size is {}; add a larger one", largest.name);
            bench
                .diagnostics
                .push(Diagnostic::warning(path.key("least"), message).hint(hint));
        }
        (within_mm, least.diameter_mm)
    });
    let bond_line_mm = file
        .bond_line
        .map(|bond| bench.size_mm(&path.key("bond_line"), "the bond line", bond.0, THICKEST_MM));
    StoneRules { wear, bond_line_mm, from_drawer: file.from_drawer, straddle: file.straddle }
}
