//! Pictures of pixels traced to shapes.

use crate::support::*;
use ::piece::read::Pixels;
use piece::{Art, ArtSize, Diagnostic, Outline, PlacedArt, Tracing};
use proptest::prelude::*;
use std::f64::consts::PI;

fn plate() -> piece::Form {
    piece::Form::Flat(Outline::Circle { diameter_mm: 120.0 })
}

/// A picture of grey tones from 0 (black) to 1 (white).
fn picture(size: (usize, usize), tone: impl Fn(usize, usize) -> f64) -> Pixels {
    let grey = |x, y| [(tone(x, y) * 255.0).round() as u8; 3];
    let srgb = (0..size.1).flat_map(|y| (0..size.0).map(move |x| (x, y)));
    Pixels { size, srgb: srgb.map(|(x, y)| grey(x, y)).collect() }
}

fn traced(pixels: Pixels, width_mm: f64) -> PlacedArt {
    let tracing = Tracing {
        file: "wave.png".into(),
        pixels: pixels.into(),
        threshold: 0.5,
        darker: true,
        least_mm: 0.5,
    };
    PlacedArt::new(Art::Traced(tracing), ArtSize::WidthMm(width_mm), 0.0, 0.0)
}

fn with(art: PlacedArt, change: impl Fn(&mut Tracing)) -> PlacedArt {
    let Art::Traced(mut tracing) = art.art else { unreachable!("a picture") };
    change(&mut tracing);
    PlacedArt { art: Art::Traced(tracing), ..art }
}

fn complaint(art: PlacedArt) -> Diagnostic {
    let piece = piece_of(plate(), vec![(drawn(art), film())]);
    shape::shape(&piece, &studio()).expect_err("a fault").remove(0)
}

/// A disc about the middle of a picture; `soft` shades each pixel by the share of it that is covered,
/// taken at 8 by 8 places.
fn disc(side: usize, radius: f64, soft: bool) -> Pixels {
    let middle = 0.5 * side as f64;
    let holds = |x: f64, y: f64| (x - middle).hypot(y - middle) < radius;
    picture((side, side), |x, y| {
        let places = if soft { 8 } else { 1 };
        let at =
            |pixel: usize, place: u32| pixel as f64 + (f64::from(place) + 0.5) / f64::from(places);
        let inside = (0..places * places)
            .filter(|place| holds(at(x, place % places), at(y, place / places)))
            .count();
        1.0 - inside as f64 / f64::from(places * places)
    })
}

#[test]
fn a_traced_disc_and_square_have_their_true_areas() {
    // A disc of 60 pixels radius in a picture whose width becomes that of the disc: pi r².
    for (radius, soft) in [(60.0, true), (60.0, false), (200.0, true), (200.0, false)] {
        let side = 2 * radius as usize + 40;
        let round = zone(plate(), drawn(traced(disc(side, radius, soft), 40.0)));
        near(round.area_mm2, PI * 400.0, 0.01 * PI * 400.0);
        assert_eq!(round.area.loops.len(), 1);
    }
    let inside = |x: usize, y: usize| (20..80).contains(&x) && (30..60).contains(&y);
    let square = picture((100, 100), |x, y| if inside(x, y) { 0.0 } else { 1.0 });
    let zone = zone(plate(), drawn(traced(square, 40.0)));
    near(zone.area_mm2, 40.0 * 20.0, 0.01 * 800.0);
}

#[test]
fn what_is_lighter_is_the_rest_and_what_reaches_the_edge_ends_there() {
    // A disc of 30 pixels radius bare in a square of 100: 100² - pi 30² of 100².
    let hole = with(traced(disc(100, 30.0, true), 50.0), |tracing| tracing.darker = false);
    let zone = zone(plate(), drawn(hole));
    near(zone.area_mm2, 2500.0 - PI * 225.0, 0.005 * 2500.0);
    near(zone.area.extent(&zone.surface).expect("some").height_mm, 50.0, 0.01);
    assert_eq!(zone.area.loops.len(), 2);
}

#[test]
fn the_border_lies_where_the_tone_passes_the_threshold() {
    // Tones that grow evenly from black at the left to white at the right of 100 pixels, and as many
    // rows: the middle of pixel x has x / 99, so that a border at 25 % lies at 24.75 + 0.5 pixels.
    let wedge = picture((100, 100), |x, _| x as f64 / 99.0);
    let quarter = with(traced(wedge, 25.25), |tracing| tracing.threshold = 0.25);
    let zone = zone(plate(), drawn(quarter));
    near(zone.area.extent(&zone.surface).expect("some").height_mm, 100.0, 0.6);
}

#[test]
fn coloured_pixels_count_by_their_luma() {
    // Red 0.2126, green 0.7152, blue 0.0722 (ITU-R BT.709, section 3): green is light, the others dark.
    let srgb = [[255, 0, 0], [0, 255, 0], [0, 0, 255]].repeat(20);
    let stripes = Pixels { size: (60, 1), srgb };
    let dark = with(traced(stripes, 60.0), |tracing| tracing.least_mm = 0.0);
    let zone = zone(plate(), drawn(dark));
    // 20 stripes of green lie between the others: 21 islands, of one pixel and of two.
    assert_eq!(zone.area.shapes(&zone.surface), 21);
}

#[test]
fn specks_and_pinholes_are_left_out() {
    let speck =
        |x: usize, y: usize| (x, y) == (5, 5) || (90..94).contains(&x) && (5..9).contains(&y);
    let hole = |x: usize, y: usize| (50..53).contains(&x) && (50..53).contains(&y);
    let inside = |x: usize, y: usize| (20..80).contains(&x) && (20..80).contains(&y);
    let spotted =
        picture(
            (100, 100),
            |x, y| {
                if speck(x, y) || inside(x, y) && !hole(x, y) { 0.0 } else { 1.0 }
            },
        );
    // A pixel becomes about half a millimetre; the largest speck is 2 mm wide.
    for (least, loops) in [(0.0, 4), (1.0, 3), (2.0, 2), (3.0, 1)] {
        let art = with(traced(spotted.clone(), 44.5), |tracing| tracing.least_mm = least);
        assert_eq!(zone(plate(), drawn(art)).area.loops.len(), loops, "{least}");
    }
    let art = with(traced(spotted, 40.0), |tracing| tracing.least_mm = 4.0);
    near(zone(plate(), drawn(art)).area_mm2, 1600.0, 8.0);
}

#[test]
fn a_picture_of_one_tone_or_of_grain_is_refused() {
    let told = complaint(traced(picture((30, 20), |_, _| 0.75), 30.0));
    assert_eq!(told.path.0, "zone[0].art.threshold");
    assert_eq!(
        told.message,
        "nothing of `wave.png` is darker than 50 %: its tones run from 74.9 % to 74.9 %"
    );
    assert!(told.hints[0].contains("one tone"), "{:?}", told.hints);
    let told = complaint(traced(picture((30, 20), |x, _| 0.6 + 0.01 * x as f64), 30.0));
    assert!(told.hints[0].contains("between those"), "{:?}", told.hints);
    let told = complaint(traced(picture((2000, 1200), |x, _| (x % 2) as f64), 30.0));
    assert!(told.message.contains("2398800 times"), "{}", told.message);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 100, ..ProptestConfig::default() })]

    #[test]
    fn no_picture_makes_it_stumble(
        size in (1..24_usize, 1..24_usize),
        tones in prop::collection::vec(prop_oneof![Just(0_u8), Just(255), any::<u8>()], 576),
        threshold in 0.001..0.999_f64,
        darker in any::<bool>(),
        least in prop_oneof![Just(0.0), 0.0..5.0_f64],
    ) {
        let srgb = tones[..size.0 * size.1].iter().map(|tone| [*tone; 3]).collect();
        let art = with(traced(Pixels { size, srgb }, 30.0), |tracing| {
            (tracing.threshold, tracing.darker, tracing.least_mm) = (threshold, darker, least);
        });
        let piece = piece_of(plate(), vec![(drawn(art), film())]);
        if let Ok(shape) = shape::shape(&piece, &studio()) {
            prop_assert!(shape.zones[0].area_mm2 > 0.0);
        }
    }
}
