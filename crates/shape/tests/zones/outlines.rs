//! Borders about art and lettering, and letters left bare.

use crate::support::*;
use piece::{ArtOutline, ArtSize, Outline, PlacedArt};
use proptest::prelude::*;
use std::f64::consts::PI;

const CAN: [(f64, f64); 2] = [(0.0, 40.0), (180.0, 40.0)];

/// A pentagram drawn in one stroke, circumradius 20: it crosses itself five times.
const PENTAGRAM: &str = "M0-20L11.7557 16.1803L-19.0211-6.1803L19.0211-6.1803L-11.7557 16.1803Z";
const L: &str = "M0 0H4V16H20V20H0Z";

fn plate() -> piece::Form {
    piece::Form::Flat(Outline::Circle { diameter_mm: 120.0 })
}

fn outlined(art: PlacedArt, width_mm: f64, only: bool) -> PlacedArt {
    PlacedArt { outline: Some(ArtOutline { width_mm, only }), ..art }
}

#[test]
fn a_border_is_as_large_as_another_library_grows_it() {
    // Areas grown with round corners by shapely 2.2.0 (GEOS 3.14.1), buffer with 256 pieces a quarter.
    let cases = [(PENTAGRAM, 38.0422, 1.2, 449.0280, 627.2148), (L, 20.0, 1.5, 144.0, 270.5857)];
    for (data, width, by, own, grown) in cases {
        let art = path_art(data, ArtSize::WidthMm(width), 0.0, 0.0);
        near(zone(plate(), drawn(art.clone())).area_mm2, own, 0.001 * own);
        let whole = zone(plate(), drawn(outlined(art.clone(), by, false)));
        near(whole.area_mm2, grown, 0.001 * grown);
        let ring = zone(plate(), drawn(outlined(art, by, true)));
        near(ring.area_mm2, grown - own, 0.001 * grown);
        assert_eq!(ring.area.loops.len(), 2);
    }
}

/// Font, word, area of its letters 12 mm high, and grown by 1.2 mm and 2 mm: set by uharfbuzz 0.57.0
/// (HarfBuzz 15.0.0), outlines by fontTools 4.68.0, united and grown by shapely 2.2.0 (GEOS 3.14.1).
const WORDS: [(&str, &str, f64, f64, f64); 3] = [
    ("rubik-bold", "Saltmarsh", 517.2280, 1009.9871, 1218.2782),
    ("bitter-bold", "Reed", 234.5600, 486.2697, 593.5668),
    ("pacifico", "Wren", 156.1006, 345.1692, 443.0681),
];

#[test]
fn letters_and_their_borders_have_the_areas_that_other_libraries_give() {
    for (font, word, own, grown, _) in WORDS {
        let art = lettering(word, font, ArtSize::HeightMm(12.0), 80.0);
        near(zone(revolved(&CAN), drawn(art.clone())).area_mm2, own, 0.001 * own);
        let bold = zone(revolved(&CAN), drawn(outlined(art, 1.2, false)));
        near(bold.area_mm2, grown, 0.001 * grown);
    }
}

#[test]
fn letters_left_bare_keep_their_margin() {
    for (font, word, own, _, grown) in WORDS {
        let mut ground = band(level(60.0), level(100.0));
        let whole = zone(revolved(&CAN), ground.clone()).area_mm2;
        for (margin, bare) in [(0.0, own), (2.0, grown)] {
            ground.leave_out = vec![(1, margin)];
            let name = drawn(lettering(word, font, ArtSize::HeightMm(12.0), 80.0));
            let zones = vec![(ground.clone(), film()), (name, film())];
            let shape = shaped(revolved(&CAN), zones);
            // The margin is too small at its corners by at most 0.13 %.
            near(shape.zones[0].area_mm2, whole - bare, 0.002 * bare);
        }
    }
}

#[test]
fn letters_left_bare_of_stones_are_left_bare() {
    let mut ground = band(level(60.0), level(100.0));
    ground.leave_out = vec![(1, 2.0)];
    let name = drawn(lettering("Reed", "bitter-bold", ArtSize::HeightMm(12.0), 80.0));
    let shape = shaped(revolved(&CAN), vec![(ground, stones()), (name, film())]);
    near(shape.zones[0].area_mm2, 2.0 * PI * 40.0 * 40.0 - 593.5668, 1.2);
    let clear = shape::Field::new(&shape.zones[0].surface, &shape.zones[0].area);
    assert!(!clear.contains(at(0.0, 80.0)));
}

/// Path data of any kind: degenerate, tiny, crossing itself.
fn any_path() -> impl Strategy<Value = String> {
    let number = prop_oneof![
        (-3_i32..=3).prop_map(f64::from),
        -50.0..50.0_f64,
        -1e-6..1e-6_f64,
        Just(0.0),
        Just(1e5),
    ];
    let segment = (0..6_usize, prop::array::uniform6(number)).prop_map(|(kind, n)| match kind {
        0 => format!("M{} {}", n[0], n[1]),
        1 => format!("L{} {}", n[0], n[1]),
        2 => format!("C{} {} {} {} {} {}", n[0], n[1], n[2], n[3], n[4], n[5]),
        3 => format!("Q{} {} {} {}", n[0], n[1], n[2], n[3]),
        4 => format!("A{} {} 0 1 0 {} {}", n[0].abs(), n[1].abs(), n[2], n[3]),
        _ => "Z".to_owned(),
    });
    prop::collection::vec(segment, 1..24).prop_map(|all| format!("M0 0{}", all.concat()))
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, ..ProptestConfig::default() })]

    #[test]
    fn no_drawing_makes_it_stumble(
        data in any_path(),
        width in prop_oneof![0.01..60.0_f64, Just(1e-3)],
        by in prop_oneof![1e-4..20.0_f64, Just(50.0)],
        only in any::<bool>(),
        turn_rad in -7.0..7.0_f64,
        lie in prop_oneof![
            Just(piece::Lie::Level),
            Just(piece::Lie::Straight),
            (-1.3..1.3_f64).prop_map(|rise_rad| piece::Lie::Rising { rise_rad }),
        ],
    ) {
        let plain = PlacedArt { turn_rad, lie, ..path_art(&data, ArtSize::WidthMm(width), 90.0, 3.0) };
        for form in [plate(), revolved(&CUP)] {
            let around = if matches!(form, piece::Form::Flat(_)) { 0.0 } else { 3.0 };
            let along_mm = if around == 0.0 { 0.0 } else { 90.0 };
            let plain = PlacedArt { around, along_mm, ..plain.clone() };
            let area = |art: PlacedArt| {
                let piece = piece_of(form.clone(), vec![(drawn(art), film())]);
                shape::shape(&piece, &studio()).map(|shape| shape.zones[0].area_mm2)
            };
            let (own, grown) = (area(plain.clone()), area(outlined(plain, by, only)));
            if let (Ok(own), Ok(grown), false) = (own, grown, only) {
                prop_assert!(own.is_finite() && grown + 0.01 >= own, "{own} grows to {grown}");
            }
        }
    }
}
