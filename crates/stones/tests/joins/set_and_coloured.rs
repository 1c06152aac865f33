//! Patches and colours of joined zones.

use crate::support::{body, lay, rows};
use crate::{CUP, blend, check_gaps, check_joined, of_zone, straddling, two};
use std::f64::consts::{PI, TAU};
use stones::Stone;

#[test]
fn patches_of_joined_zones_are_set_in_order() {
    let laid = lay(&body(&CUP, &straddling(&two("sine", 5.0, &blend))));
    let stones = &laid.stones.stones;
    let mut number = 0;
    for patch in stones.chunk_by(|a, b| a.patch == b.patch) {
        number += 1;
        assert_eq!(patch[0].patch, number);
        assert!(patch.iter().all(|stone| stone.zone == patch[0].zone));
        let turn = |a: &Stone, b: &Stone| {
            let turn = (a.at.around - b.at.around).rem_euclid(TAU);
            turn.min(TAU - turn)
        };
        let widest = patch.iter().flat_map(|a| patch.iter().map(move |b| turn(a, b)));
        assert!(widest.fold(0.0, f64::max) <= PI / 2.0 + 1e-9);
    }
    // A stone of the lower zone that touches one of the upper is set after it; but for a few that lie
    // diagonally, which a patch does not wait for.
    let (mut across, mut later) = (0, 0);
    for a in stones.iter().filter(|stone| stone.zone == 0) {
        for b in stones.iter().filter(|stone| stone.zone == 1) {
            let clear = a.centre_mm.distance(b.centre_mm) - (a.diameter_mm + b.diameter_mm) / 2.0;
            if clear < 0.3 {
                across += 1;
                later += usize::from(b.patch > a.patch);
            }
        }
    }
    assert!(across > 50 && 100 * later >= 97 * across, "{later} of {across}");
}

#[test]
fn joined_zones_are_coloured_each_in_its_own_way() {
    let text = two("scallop", 5.0, &|name, region| {
        let mingled = rows(name, region, "level", "SS10", 0.1);
        if name == "upper" {
            return mingled;
        }
        let colours = mingled.find("colours = ").expect("has colours");
        mingled[..colours].to_owned()
            + "colours = [ \"ebb\", \"foam\" ], gradient = { wall = [\"42 mm\", \"70 mm\"] } }\n"
    });
    let laid = lay(&body(&CUP, &straddling(&text)));
    check_gaps(&laid);
    check_joined(&laid);
    let ebb = laid.piece.colours.iter().position(|colour| colour.name == "ebb").expect("is used");
    let upper = of_zone(&laid, 0);
    let share = upper.iter().filter(|stone| stone.colour == ebb).count();
    assert!((share as f64 - 0.6 * upper.len() as f64).abs() <= 0.5, "{share} of {}", upper.len());
    // Rows of every zone count from 1.
    for zone in [0, 1] {
        let rows: Vec<u32> = of_zone(&laid, zone).iter().map(|stone| stone.row).collect();
        assert_eq!(rows.iter().min(), Some(&1), "zone {zone}");
    }
    assert!(laid.stones.zones[0].quality.mingling.is_some_and(|mingling| mingling < 1.0));
    assert_eq!(laid.stones.zones[1].quality.mingling, None);
}
