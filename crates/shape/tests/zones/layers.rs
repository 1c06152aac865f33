//! Layers of a drawing by colour and by group, and text in SVG files.

use crate::support::*;
use piece::{Art, ArtSize, Diagnostic, Outline, PlacedArt};
use std::f64::consts::PI;
use std::fmt::Write as _;

const CAN: [(f64, f64); 2] = [(0.0, 40.0), (180.0, 40.0)];

fn plate() -> piece::Form {
    piece::Form::Flat(Outline::Circle { diameter_mm: 120.0 })
}

fn svg(inside: &str) -> String {
    format!("<svg xmlns='http://www.w3.org/2000/svg' viewBox='-50 -50 100 100'>{inside}</svg>")
}

fn layer(text: &str, layer: Option<&str>) -> PlacedArt {
    let art = svg_art(text, ArtSize::WidthMm(60.0), 0.0);
    let Art::Svg { file, text, .. } = art.art else { unreachable!("made of an SVG file") };
    PlacedArt { art: Art::Svg { file, text, layer: layer.map(str::to_owned) }, ..art }
}

fn complaint(art: PlacedArt) -> Diagnostic {
    let piece = piece_of(plate(), vec![(drawn(art), film())]);
    shape::shape(&piece, &studio()).expect_err("a fault").remove(0)
}

/// A heron before a sun, with a beak of strokes, reeds that a clip path cuts and colours written in
/// three ways.
const HERON: &str = "
    <circle cx='5' cy='-5' r='30' fill='#c9b28f'/>
    <g id='heron' stroke='#0f0' stroke-width='3'>
      <path d='M-20 10C-10-30 20-30 20 5S-5 40-20 10Z' fill='#12343B'/>
      <path d='M15-15L42-22' fill='none'/>
    </g>
    <clipPath id='pool'><rect x='-40' y='5' width='90' height='30'/></clipPath>
    <g clip-path='url(#pool)'><g id='reeds' fill='rgb(18,52,59)'>
      <path d='M-35 40L-31-20L-27 40Z'/><path d='M-5 40L-1-20L3 40Z' fill='#c9b28f'/>
    </g></g>
    <rect x='-38' y='18' width='76' height='6' fill='#fff' fill-opacity='0.5'/>";

#[test]
fn layers_of_a_drawing_make_up_all_that_is_seen() {
    let text = svg(HERON);
    let area = |name| zone(plate(), drawn(layer(&text, name))).area_mm2;
    let whole = area(None);
    let parts = ["#12343b", "#C9B28F", "#00ff00", "#fff"].map(|name| area(Some(name)));
    near(parts.iter().sum::<f64>(), whole, 0.001 * whole);
    assert!(parts.iter().all(|part| *part > 0.01 * whole), "{parts:?}");
}

#[test]
fn layers_of_many_shapes_make_up_all_that_is_seen() {
    // Discs in three colours, strewn by the linear congruence of Numerical Recipes (from memory).
    let mut state = 7_u32;
    let mut next = |range: f64| {
        state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        f64::from(state >> 8) / f64::from(1_u32 << 24) * range
    };
    let mut inside = String::new();
    for index in 0..240 {
        let (x, y, r) = (next(80.0) - 40.0, next(80.0) - 40.0, 1.0 + next(8.0));
        let colour = ["#123", "#456", "#789"][index % 3];
        write!(inside, "<circle cx='{x}' cy='{y}' r='{r}' fill='{colour}'/>").expect("a string");
    }
    let text = svg(&inside);
    let area = |name| zone(plate(), drawn(layer(&text, name))).area_mm2;
    let whole = area(None);
    let parts: f64 = ["#112233", "#456", "#778899"].map(|name| area(Some(name))).iter().sum();
    near(parts, whole, 0.001 * whole);
}

#[test]
fn a_later_shape_hides_the_lens_that_it_shares_with_an_earlier_one() {
    // Two circles of radius r, their middles r apart, share a lens of area
    // r² (2 π / 3 - sqrt 3 / 2) (plane geometry). Here r is 20 mm.
    let two = "<circle r='10' fill='#f00'/><circle cx='10' r='10' fill='#00f'/>";
    let area = |name| zone(plate(), drawn(layer(&svg(two), Some(name)))).area_mm2;
    let lens = 400.0 * (2.0 * PI / 3.0 - 3.0_f64.sqrt() / 2.0);
    near(area("#0000ff"), 400.0 * PI, 0.6);
    near(area("#ff0000"), 400.0 * PI - lens, 0.6);
}

#[test]
fn layers_keep_their_places_to_each_other() {
    let text = svg(HERON);
    let beak = zone(plate(), drawn(layer(&text, Some("#0f0"))));
    let whole = zone(plate(), drawn(layer(&text, None)));
    let (beak, whole) = (
        beak.area.extent(&beak.surface).expect("some"),
        whole.area.extent(&whole.surface).expect("some"),
    );
    // The beak reaches farthest to the right of all; the whole is 60 mm wide about the middle.
    near(beak.around.1, 30.0, 1e-3);
    near(whole.width_mm, 60.0, 1e-3);
    assert!(beak.width_mm < 0.9 * whole.width_mm);
}

#[test]
fn a_group_is_a_layer_by_its_name() {
    let text = svg(HERON);
    let area = |name| zone(plate(), drawn(layer(&text, Some(name)))).area_mm2;
    // What is seen of the heron is its strokes, and its body without the reeds and the water.
    assert!(area("heron") > area("#00ff00"));
    assert!(area("reeds") < area("heron"));
}

#[test]
fn an_unknown_layer_lists_those_that_there_are() {
    let text = svg(HERON);
    let told = complaint(layer(&text, Some("#12343c")));
    assert_eq!(told.path.0, "zone[0].art.layer");
    assert_eq!(told.message, "`reeds.svg` has no layer `#12343c`");
    let list = "It has #c9b28f, #12343b, #00ff00, #ffffff, heron, reeds.";
    assert!(told.hints.iter().any(|hint| hint == list), "{:?}", told.hints);
    let told = complaint(layer(&text, Some("herons")));
    assert!(told.hints.iter().any(|hint| hint.contains("`heron`")), "{:?}", told.hints);
}

#[test]
fn a_layer_that_others_hide_is_refused() {
    let two = "<rect width='9' height='9' fill='#f00'/><rect width='9' height='9' fill='#00f'/>";
    let told = complaint(layer(&svg(two), Some("#f00")));
    assert!(told.message.contains("nothing of this layer can be seen"), "{}", told.message);
}

#[test]
fn text_in_a_shipped_typeface_is_set_as_lettering_is() {
    for family in ["font-family='rubik-bold'", "font-family='Rubik' font-weight='bold'"] {
        let text = svg(&format!("<text {family} font-size='9'>Saltmarsh Rowing</text>"));
        let art = svg_art(&text, ArtSize::WidthMm(90.0), 80.0);
        let set = zone(revolved(&CAN), drawn(art));
        // Ink from 29 to 9004 and from -220 to 735 units: uharfbuzz 0.57.0 (HarfBuzz 15.0.0) and
        // fontTools 4.68.0, as for lettering.
        let height = 90.0 * (735.0 + 220.0) / (9004.0 - 29.0);
        near(set.area.extent(&set.surface).expect("some").height_mm, height, 0.02);
        let words = lettering("Saltmarsh Rowing", "rubik-bold", ArtSize::WidthMm(90.0), 80.0);
        near(set.area_mm2, zone(revolved(&CAN), drawn(words)).area_mm2, 0.5);
    }
}

#[test]
fn text_in_other_typefaces_is_refused() {
    for (text, why) in [
        ("<text>ebb</text>", "holds text in Times New Roman (weight 400)"),
        ("<text font-family='Rubik'>ebb</text>", "holds text in Rubik (weight 400)"),
        (
            "<text font-family='pacifico' font-style='italic'>ebb</text>",
            "holds text in pacifico (weight 400, slanted)",
        ),
        ("<text font-family='pacifico'>eb\u{6f6e}</text>", "`\u{6f6e}` (U+6F6E)"),
    ] {
        let told = complaint(svg_art(&svg(text), ArtSize::WidthMm(40.0), 0.0));
        assert!(told.message.contains(why), "{}", told.message);
        assert!(told.hints.iter().any(|hint| hint.contains("rubik-bold")), "{:?}", told.hints);
    }
    let long = format!("<text font-family='pacifico'>{}</text>", "ebb ".repeat(600));
    let told = complaint(svg_art(&svg(&long), ArtSize::WidthMm(40.0), 0.0));
    assert!(told.message.contains("more than 2000 characters"), "{}", told.message);
}
