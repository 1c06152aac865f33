//! Where the cut at the back lies makes no difference, up to the 0.003 mm by which the polylines of
//! these waves lie off their curves.

use crate::support::*;
use piece::{ArtSize, PlacedArt, Region, Wave};
use proptest::prelude::*;
use shape::{Field, ZoneShape};

/// A heron's head, roughly: curves, a sharp beak and a hole.
const HERON: &str = "M0 30C0 10 10 0 25 0C32 0 38 4 40 8L70 14L40 16C36 24 20 22 14 40C12 46 2 44 0 30ZM24 6A3 3 0 1 1 24 12A3 3 0 1 1 24 6Z";

fn turned(
    by: f64,
    waves: (Wave, f64, u32),
    window: Option<(f64, f64)>,
    art: bool,
) -> Option<ZoneShape> {
    let (shape, amplitude, count) = waves;
    let heron = PlacedArt {
        turn_rad: 0.4,
        repeat: 2,
        ..path_art(HERON, ArtSize::WidthMm(60.0), 92.0, 0.9 + by)
    };
    let region = Region {
        window_rad: window.map(|(from, width)| (from + by, from + width + by)),
        art: art.then_some(heron),
        ..band(wave(90.0, shape, amplitude, count, 0.2 + by), level(150.0))
    };
    // A window may miss the art: then the zone is empty, which is a fault.
    shape::shape(&piece_of(revolved(&CUP), vec![(region, film())]), &studio())
        .ok()
        .map(|mut shape| shape.zones.remove(0))
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn turning_a_region_changes_neither_area_nor_edges_nor_distances(
        by in -3.1_f64..3.1,
        amplitude in 1.0_f64..12.0,
        count in 1_u32..9,
        kind in 0..3,
        window in proptest::option::of((-3.0_f64..3.0, 0.3_f64..6.0)),
        art in proptest::bool::ANY,
        places in proptest::collection::vec((-3.1_f64..3.1, 1.0_f64..179.0), 40),
    ) {
        let waves = ([Wave::Sine, Wave::Zigzag, Wave::Scallop][kind as usize], amplitude, count);
        let (still, moved) = (turned(0.0, waves, window, art), turned(by, waves, window, art));
        prop_assume!(still.is_some() && moved.is_some());
        let (still, moved) = (still.expect("drawn"), moved.expect("drawn"));
        prop_assert!((still.area_mm2 - moved.area_mm2).abs() < 0.05, "{} and {}", still.area_mm2, moved.area_mm2);
        let length = |zone: &ZoneShape| zone.area.edge_length_mm(&zone.surface);
        prop_assert!((length(&still) - length(&moved)).abs() < 0.05, "{} and {}", length(&still), length(&moved));
        let fields = [Field::new(&still.surface, &still.area), Field::new(&moved.surface, &moved.area)];
        for (around, along) in places {
            let before = fields[0].clearance_mm(at(around, along));
            let after = fields[1].clearance_mm(at(around + by, along));
            prop_assert!((before - after).abs() < 6e-3, "{before} and {after} at {around}, {along}");
        }
    }
}
