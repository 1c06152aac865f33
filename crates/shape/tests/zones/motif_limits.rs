//! Motifs that cannot be, pitches that are rounded, and what must hold for any numbers.

use crate::motifs::{CAN, LID, of_kind, one_of_each, strewn};
use crate::support::*;
use ::piece::*;
use proptest::prelude::*;
use shape::shape;
use std::f64::consts::PI;

#[track_caller]
fn told(kind: MotifKind, from_mm: f64, to_mm: f64, path: &str, words: &str) {
    let found = wrong(revolved(&CAN), of_kind(kind, from_mm, to_mm));
    let fits = |(at, message): &(String, String)| at == path && message.contains(words);
    assert!(found.iter().any(fits), "{found:?}");
}

#[test]
fn a_motif_that_does_not_fit_is_refused() {
    let drips = |count, length_mm| MotifKind::Drips {
        count,
        width_mm: (8.0, 8.0),
        length_mm: (length_mm, length_mm),
        solid_mm: 5.0,
    };
    told(drips(5, 50.0), 20.0, 60.0, "zone[0].motif.drips.length", "40.0 mm high");
    // 2 pi 40 mm = 251 mm of girth hold at most 27 drips of 8 mm with 1 mm between them.
    told(
        drips(28, 20.0),
        20.0,
        60.0,
        "zone[0].motif.drips.count",
        "do not fit side by side in 251 mm",
    );
    shaped(revolved(&CAN), vec![(of_kind(drips(27, 20.0), 20.0, 60.0), film())]);

    let reeds = |lean_rad| MotifKind::Reeds {
        count: 5,
        height_mm: (50.0, 50.0),
        width_mm: 3.0,
        lean_rad,
        heads: 0.0,
    };
    told(reeds(0.1), 20.0, 60.0, "zone[0].motif.reeds.height", "higher than the zone");
    told(reeds(1.04), 20.0, 90.0, "zone[0].motif.reeds", "to one side");

    let confetti = |size_mm: f64, count| MotifKind::Confetti {
        shapes: vec![Confetto::Disc],
        size_mm: (size_mm, size_mm),
        strewn: strewn(1.0, count),
    };
    told(confetti(50.0, None), 20.0, 60.0, "zone[0].motif.confetti", "not even one");
    told(
        confetti(10.0, Some(500)),
        20.0,
        60.0,
        "zone[0].motif.confetti.count",
        "of 500 shapes find room",
    );
    told(confetti(0.2, None), 20.0, 170.0, "zone[0].motif.confetti", "more than 8000");

    let comb =
        |round, bar_mm| MotifKind::Honeycomb { pitch: Pitch::Round(round), bar_mm, whole: false };
    told(comb(100, 2.6), 20.0, 60.0, "zone[0].motif.honeycomb.bar", "2.5 mm from one to the next");
    told(comb(400, 0.1), 20.0, 170.0, "zone[0].motif.honeycomb", "more than 8000");
    let scales = MotifKind::Scales { pitch: Pitch::Round(50), gap_mm: 2.0, whole: false };
    told(scales, 20.0, 60.0, "zone[0].motif.scales.gap", "too wide");
    let whole = MotifKind::Honeycomb { pitch: Pitch::Round(6), bar_mm: 1.0, whole: true };
    told(whole, 20.0, 25.0, "zone[0].motif.honeycomb", "makes no shape");

    let point = [(0.0, 0.0), (40.0, 38.0)];
    let stripes = MotifKind::Stripes { pitch: Pitch::Round(5), share: 0.5, twist_rad: 0.0 };
    let found = wrong(revolved(&point), of_kind(stripes, 0.0, 20.0));
    assert!(found[0].1.contains("within 0.0 mm of the axis"), "{found:?}");
}

#[test]
fn a_pitch_is_rounded_to_a_whole_number_and_that_is_told() {
    // 2 pi 40 mm / 12 mm = 20.9.
    let notes = |kind| shaped(revolved(&CAN), vec![(of_kind(kind, 30.0, 90.0), film())]).notes;
    let told = notes(MotifKind::Checks { pitch: Pitch::Mm(12.0) });
    assert_eq!(told.len(), 1, "{told:?}");
    assert_eq!(told[0].path.0, "zone[0].motif.checks.pitch");
    assert_eq!(
        told[0].message,
        "a pitch of 12 mm does not close round 251.3 mm; 20 checks are laid 12.57 mm apart"
    );
    // 21 stripes go round 11.97 mm apart: as good as asked for.
    let stripes = MotifKind::Stripes { pitch: Pitch::Mm(12.0), share: 0.5, twist_rad: 0.0 };
    assert_eq!(notes(stripes), []);
}

#[test]
fn a_flat_part_takes_every_motif_by_its_pitch() {
    let plate = || Form::Flat(Outline::Circle { diameter_mm: 90.0 });
    for kind in one_of_each() {
        let kind = match kind {
            MotifKind::Scales { gap_mm, whole, .. } => {
                MotifKind::Scales { pitch: Pitch::Mm(8.0), gap_mm, whole }
            }
            MotifKind::Checks { .. } => MotifKind::Checks { pitch: Pitch::Mm(8.0) },
            MotifKind::Stripes { share, .. } => {
                MotifKind::Stripes { pitch: Pitch::Mm(8.0), share, twist_rad: 0.0 }
            }
            MotifKind::Honeycomb { bar_mm, whole, .. } => {
                MotifKind::Honeycomb { pitch: Pitch::Mm(8.0), bar_mm, whole }
            }
            other => other,
        };
        let key = kind.key();
        let motif = Some(Motif { kind, seed: Some(3), inverse: false });
        let found = zone(plate(), Region { motif, ..everything() });
        let share = found.area_mm2 / (PI * 45.0 * 45.0);
        assert!((0.03..0.95).contains(&share), "{key} covers {share}");
        if key == "checks" {
            // The plate is the same turned by half a turn, and the board then swaps its colours.
            assert!((0.48..0.52).contains(&share), "{share}");
        }
    }
}

/// Any kind with any numbers, sensible or not.
fn any_kind() -> impl Strategy<Value = MotifKind> {
    let span = || (0.1..30.0_f64, 0.0..30.0_f64).prop_map(|(least, more)| (least, least + more));
    let any_strewn = || {
        (0.0..6.0_f64, prop::option::of(1..60_u32)).prop_map(|(apart, count)| strewn(apart, count))
    };
    let pitch = || prop_oneof![(1..60_u32).prop_map(Pitch::Round), (0.5..40.0).prop_map(Pitch::Mm)];
    let words = [Confetto::Disc, Confetto::Square, Confetto::Triangle, Confetto::Strip];
    let shapes = prop::collection::vec(prop::sample::select(words.to_vec()), 1..5);
    prop_oneof![
        (1..30_u32, span(), span(), 0.0..20.0_f64).prop_map(
            |(count, width_mm, length_mm, solid_mm)| {
                MotifKind::Drips { count, width_mm, length_mm, solid_mm }
            }
        ),
        (1..60_u32, span(), 0.1..8.0_f64, -1.0..1.0_f64, 0.0..1.0_f64).prop_map(
            |(count, height_mm, width_mm, lean_rad, heads)| MotifKind::Reeds {
                count,
                height_mm,
                width_mm,
                lean_rad,
                heads
            }
        ),
        (span(), 0.1..6.0_f64, -1.0..1.0_f64, any_strewn()).prop_map(
            |(length_mm, width_mm, slant_rad, strewn)| MotifKind::Rain {
                length_mm,
                width_mm,
                slant_rad,
                strewn
            }
        ),
        (3..24_u32, span(), 0.1..0.95_f64, -1.0..1.0_f64, any_strewn()).prop_map(
            |(points, size_mm, inner, tilt_rad, strewn)| MotifKind::Stars {
                points,
                size_mm,
                inner,
                tilt_rad,
                strewn
            }
        ),
        (3..16_u32, span(), 0.1..0.7_f64, any_strewn()).prop_map(
            |(petals, size_mm, heart, strewn)| MotifKind::Petals { petals, size_mm, heart, strewn }
        ),
        (shapes, span(), any_strewn()).prop_map(|(shapes, size_mm, strewn)| {
            MotifKind::Confetti { shapes, size_mm, strewn }
        }),
        (pitch(), 0.01..4.0_f64, any::<bool>())
            .prop_map(|(pitch, gap_mm, whole)| MotifKind::Scales { pitch, gap_mm, whole }),
        pitch().prop_map(|pitch| MotifKind::Checks { pitch }),
        (pitch(), 0.01..0.99_f64, -60.0..60.0_f64).prop_map(|(pitch, share, twist_rad)| {
            MotifKind::Stripes { pitch, share, twist_rad }
        }),
        (pitch(), 0.01..4.0_f64, any::<bool>())
            .prop_map(|(pitch, bar_mm, whole)| MotifKind::Honeycomb { pitch, bar_mm, whole }),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]
    #[test]
    fn any_motif_stays_in_its_zone_and_never_laps_over_itself(
        kind in any_kind(),
        form in 0..4_usize,
        seed in any::<u64>(),
        window in prop::option::of((-6.0..6.0_f64, 0.3..6.2_f64)),
        inverse in any::<bool>(),
        spots in prop::collection::vec((-PI..PI, 0.0..1.0_f64), 40),
    ) {
        let (from_mm, to_mm) = (1.0, 32.0);
        let motif = Some(Motif { kind, seed: Some(seed), inverse });
        let bounds = match form {
            3 => Region { motif, ..everything() },
            _ => Region {
                motif,
                window_rad: window.map(|(from, wide)| (from, from + wide)),
                ..band(level(from_mm), level(to_mm))
            },
        };
        let form = match form {
            0 => revolved(&CAN),
            1 => revolved(&CUP),
            2 => revolved(&LID),
            _ => Form::Flat(Outline::Circle { diameter_mm: 60.0 }),
        };
        let flat = matches!(form, Form::Flat(_));
        let whole = zone(form.clone(), Region { motif: None, ..bounds.clone() });
        match shape(&piece_of(form, vec![(bounds, film())]), &studio()) {
            Err(found) => prop_assert!(found.iter().all(|one| one.path.0.starts_with("zone[0].motif"))),
            Ok(shape) => {
                let found = &shape.zones[0];
                prop_assert!(found.area_mm2 > 0.0);
                prop_assert!(found.area_mm2 < whole.area_mm2 + 1e-3);
                let (nearest, farthest) = found.area.along_range_mm().expect("not empty");
                if !flat {
                    prop_assert!(nearest > from_mm - 1e-4 && farthest < to_mm + 1e-4);
                }
                let inside = shape::Field::new(&whole.surface, &whole.area);
                for one in found.area.loops.iter().flatten() {
                    prop_assert!(inside.clearance_mm(*one) > -1e-3, "{one:?}");
                }
                for (around, down) in &spots {
                    let spot = match flat {
                        true => at(around * 8.0, 60.0 * down - 30.0),
                        false => at(*around, from_mm + (to_mm - from_mm) * down),
                    };
                    let turns: i32 = found.area.loops.iter().map(|one| winding(one, spot)).sum();
                    prop_assert!(turns == 0 || turns == 1, "{turns} times over at {spot:?}");
                }
            }
        }
    }
}

/// How often a loop goes round a place, counterclockwise with `along` upwards (Sunday 2001, from
/// memory: edges that cross the level of the place to its right, up less down).
fn winding(one: &[shape::SurfacePoint], spot: shape::SurfacePoint) -> i32 {
    one.iter()
        .zip(one.iter().cycle().skip(1))
        .map(|(a, b)| {
            let left = (b.around - a.around) * (spot.along_mm - a.along_mm)
                - (spot.around - a.around) * (b.along_mm - a.along_mm);
            match (a.along_mm <= spot.along_mm, b.along_mm <= spot.along_mm) {
                (true, false) if left > 0.0 => 1,
                (false, true) if left < 0.0 => -1,
                _ => 0,
            }
        })
        .sum()
}
