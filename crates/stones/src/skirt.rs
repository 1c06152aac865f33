//! Stones in the way of a part that sits on another: under a lid's skirt, or on a plug that goes in.

use crate::Stone;
use piece::{Diagnostic, FieldPath, Piece};
use shape::{Shape, Surface};
use std::collections::BTreeMap;

/// How high a flat-backed stone stands, as a share of its diameter (common practice, no source).
const HEIGHT: f64 = 0.4;

/// Warns of stones where a seated part and the one beneath lie beside each other: on the part beneath
/// if the seated one goes over it, on the seated one if it goes in.
pub fn in_the_way(piece: &Piece, shape: &Shape, stones: &[Stone]) -> Vec<Diagnostic> {
    let mut out = Vec::new();
    for (upper, part) in piece.parts.iter().enumerate() {
        let Some(seat) = part.seat.as_ref().filter(|seat| seat.sink_mm > 0.0) else { continue };
        let lower = seat.on_part;
        let (Surface::Revolved(over), Surface::Revolved(under)) =
            (&shape.parts[upper].surface, &shape.parts[lower].surface)
        else {
            continue;
        };
        // The widest that the seated part is where it hangs beside the rim, against the rim itself.
        let goes_over =
            over.radius_mm(over.along_range_mm().1) >= under.radius_mm(under.along_range_mm().0);
        let bearing = if goes_over { lower } else { upper };
        let foot = shape.parts[upper].piece_from_part.translation.z;
        let between_mm = (foot, foot + seat.sink_mm);
        let pose = &shape.parts[bearing].piece_from_part;
        let mut by_zone: BTreeMap<usize, usize> = BTreeMap::new();
        for stone in stones.iter().filter(|stone| stone.part == bearing) {
            let z_mm = pose.transform_point3(stone.centre_mm).z;
            // A disc reaches up and down by its radius where it stands upright, and not at all where it lies.
            let lies = pose.transform_vector3(stone.normal).z;
            let half_mm = stone.diameter_mm / 2.0 * (1.0 - lies * lies).max(0.0).sqrt();
            let beside = z_mm + half_mm > between_mm.0 && z_mm - half_mm < between_mm.1;
            let stands_up = seat.clearance_mm.is_none_or(|mm| HEIGHT * stone.diameter_mm > mm);
            if beside && stands_up {
                *by_zone.entry(stone.zone).or_default() += 1;
            }
        }
        for (zone, count) in by_zone {
            let (name, sinks) =
                (&piece.zones[zone].name, format!("{} mm", (10.0 * seat.sink_mm).round() / 10.0));
            let (upper, lower) = (&part.name, &piece.parts[lower].name);
            let (stones, lie, they) = match count {
                1 => ("1 stone".to_owned(), "lies", "it"),
                _ => (format!("{count} stones"), "lie", "they"),
            };
            let where_they_lie = if goes_over {
                format!(
                    "{stones} of zone \"{name}\" {lie} where \"{upper}\" goes {sinks} over \"{lower}\""
                )
            } else {
                format!("{stones} of zone \"{name}\" {lie} on what goes {sinks} into \"{lower}\"")
            };
            let path = FieldPath::root().key("zone").index(zone).key("stones");
            out.push(
                Diagnostic::warning(
                    path,
                    format!("{where_they_lie}: {they} would keep the part from seating"),
                )
                .hint(seat.clearance_mm.map_or_else(
                    || {
                        "End the zone before it, or measure how much room the blank leaves between \
                         both and write that as clearance in sits_on"
                            .to_owned()
                    },
                    |mm| {
                        format!(
                            "A stone stands about {:.0} % of its diameter high, and the clearance is \
                             {mm} mm: end the zone before it, or choose stones up to {:.1} mm",
                            100.0 * HEIGHT,
                            (10.0 * mm / HEIGHT).floor() / 10.0
                        )
                    },
                )),
            );
        }
    }
    out
}
