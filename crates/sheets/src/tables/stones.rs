//! `stones.csv` and `zones.csv`.

use super::Table;
use crate::Plan;
use crate::numbers::fixed;
use piece::Finish;

/// Columns of `stones.csv`; lengths in mm.
pub(crate) const STONE_COLUMNS: [&str; 15] = [
    "part",
    "zone",
    "patch",
    "row",
    "size",
    "diameter_mm",
    "colour",
    "x_mm",
    "y_mm",
    "z_mm",
    "nx",
    "ny",
    "nz",
    "around_mm",
    "along_mm",
];

/// Columns of `zones.csv`.
pub(crate) const ZONE_COLUMNS: [&str; 7] =
    ["part", "zone", "layout", "area_mm2", "stones", "coverage", "effective_coverage"];

/// One row a stone, in setting order. `x_mm,y_mm,z_mm` is the centre of the flat back and
/// `nx,ny,nz` the outward normal, both in the part's frame.
pub fn stones_csv(plan: &Plan) -> Vec<u8> {
    let mut table = Table::new(&STONE_COLUMNS);
    for stone in &plan.stones.stones {
        let zone = &plan.piece.zones[stone.zone];
        let size = match &zone.finish {
            Finish::Stones(finish) => finish.sizes[stone.size].name.as_str(),
            _ => "",
        };
        table.row(&[
            &plan.piece.parts[stone.part].name,
            &zone.name,
            &stone.patch.to_string(),
            &stone.row.to_string(),
            size,
            &fixed(stone.diameter_mm, 2),
            &plan.piece.colours[stone.colour].name,
            &fixed(stone.centre_mm.x, 3),
            &fixed(stone.centre_mm.y, 3),
            &fixed(stone.centre_mm.z, 3),
            &fixed(stone.normal.x, 5),
            &fixed(stone.normal.y, 5),
            &fixed(stone.normal.z, 5),
            &fixed(stone.around_mm, 3),
            &fixed(stone.at.along_mm, 3),
        ]);
    }
    table.finish()
}

/// One row for each zone of stones.
pub(crate) fn zones_csv(plan: &Plan) -> Vec<u8> {
    let mut table = Table::new(&ZONE_COLUMNS);
    for filled in &plan.stones.zones {
        let zone = &plan.piece.zones[filled.zone];
        table.row(&[
            &plan.piece.parts[zone.part].name,
            &zone.name,
            &filled.layout,
            &fixed(filled.area_mm2, 1),
            &filled.count.to_string(),
            &fixed(filled.coverage, 4),
            &fixed(filled.effective_coverage, 4),
        ]);
    }
    table.finish()
}
