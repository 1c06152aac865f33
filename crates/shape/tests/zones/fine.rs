//! Warnings of lettering that is too fine to make or too wide to read.

use crate::areas::warned;
use crate::support::*;
use piece::{ArtOutline, ArtSize, Lie, PlacedArt};

fn word(text: &str, font: &str, height_mm: f64) -> PlacedArt {
    lettering(text, font, ArtSize::HeightMm(height_mm), 90.0)
}

fn told(art: PlacedArt) -> Vec<String> {
    warned(revolved(&CUP), vec![(drawn(art), film())])
}

#[test]
fn letters_too_low_to_weed_are_warned_of() {
    assert_eq!(told(word("Ebb", "rubik-bold", 12.0)), Vec::<String>::new());
    assert!(told(word("Ebb", "rubik-bold", 5.0))[0].contains("capitals 5.0 mm high; below 6 mm"));
}

#[test]
fn dots_smaller_than_the_least_stroke_are_told() {
    let dots = |side: f64| {
        let data = format!(
            "M0 0H40V20H0Z M5 5H35V15H5Z M20 10h{side}v{side}h-{side}Z M10 10h{side}v{side}h-{side}Z"
        );
        let svg = format!(
            "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 40 20'><path fill-rule='evenodd' d='{data}'/></svg>"
        );
        told(svg_art(&svg, ArtSize::WidthMm(40.0), 90.0))
    };
    let found = dots(0.3);
    assert_eq!(found.len(), 1, "{found:?}");
    assert!(
        found[0].contains("2 islands of film in zone `zone-0` are smaller than 1 mm"),
        "{found:?}"
    );
    assert!(found[0].contains("the smallest is 0.3 mm across"), "{found:?}");
    assert_eq!(dots(1.1), Vec::<String>::new());
}

/// Font, letter, and its thinnest stroke where a capital is 12 mm high, mm: length of the line through
/// the bar of H, through the stem of l, by fontTools 4.68.0 and shapely 2.2.0 (GEOS 3.14.1).
const STROKES: [(&str, &str, f64); 3] =
    [("rubik-bold", "H", 2.7429), ("rubik-bold", "l", 2.8800), ("nunito-extrabold", "H", 2.1681)];

#[test]
fn the_thinnest_stroke_of_a_letter_is_found_and_named() {
    for (font, letter, stroke) in STROKES {
        // Film that holds strokes a little thinner or a little thicker than this one.
        let told = |least_stroke_mm: f64| {
            let mut studio = studio();
            studio.vinyl.least_stroke_mm = least_stroke_mm;
            let zones = vec![(drawn(word(letter, font, 12.0)), film())];
            let notes =
                shape::shape(&piece_of(revolved(&CUP), zones), &studio).expect("sound").notes;
            notes.into_iter().map(|note| note.message).find(|told| told.contains("thinnest"))
        };
        assert_eq!(told(stroke - 0.03), None, "{font} {letter}");
        let found = told(stroke + 0.03).expect("it is too thin");
        let (width, letter_told) = found
            .split_once("` is ")
            .and_then(|(_, rest)| rest.split_once(" mm wide, in the letter "))
            .expect("a width and a letter");
        let width: f64 = width.parse().expect("a number");
        // Told to a tenth, or to a hundredth where a tenth would not show that it is too thin.
        assert!((width - stroke).abs() < 0.051 && width < stroke + 0.03, "{found}");
        assert!(letter_told.starts_with(&format!("`{letter}`")), "{found}");
    }
}

#[test]
fn the_letter_with_the_thinnest_stroke_is_named() {
    // A hyphen is 2.4686 mm high where a capital is 12 mm (fontTools 4.68.0), and no part
    // of H is as thin.
    let mut studio = studio();
    studio.vinyl.least_stroke_mm = 2.6;
    let thinnest = |text: &str| {
        let zones = vec![(drawn(word(text, "rubik-bold", 12.0)), film())];
        let notes = shape::shape(&piece_of(revolved(&CUP), zones), &studio).expect("sound").notes;
        notes.into_iter().map(|note| note.message).next()
    };
    let found = thinnest("H-H").expect("a hyphen is thin");
    assert!(found.contains("2.5 mm wide, in the letter `-`"), "{found}");
    assert_eq!(thinnest("HH"), None);
}

#[test]
fn a_border_makes_thin_letters_sturdy() {
    let thin = word("wren", "pacifico", 7.0);
    assert!(told(thin.clone())[0].contains("film below 1 mm"), "{:?}", told(thin.clone()));
    let outline = Some(ArtOutline { width_mm: 0.6, only: false });
    let bold = told(PlacedArt { outline, ..thin });
    assert_eq!(bold, Vec::<String>::new());
}

#[test]
fn letters_whose_strokes_hold_no_stone_are_warned_of() {
    let told = |height| {
        let name = drawn(word("l", "rubik-bold", height));
        let mut studio = studio();
        studio.lip_mm = 0.0;
        let piece = piece_of(revolved(&CUP), vec![(name, stones())]);
        let notes = shape::shape(&piece, &studio).expect("sound").notes;
        notes.into_iter().map(|note| note.message).collect::<Vec<_>>()
    };
    // Stones of 2.8 mm; the stem of l is 2.88 mm wide where a capital is 12 mm high.
    let fits = 12.0 * 2.8 / 2.88;
    assert!(told(0.98 * fits)[0].contains("smallest stones are 2.8 mm wide"), "{:?}", told(10.0));
    assert_eq!(told(1.02 * fits), Vec::<String>::new());
}

#[test]
fn words_too_wide_to_be_read_at_once_are_told_a_height_that_fits() {
    // At 39 mm radius 75 degrees to each side of the front are 102.1 mm (length of an arc).
    let long = word("Saltmarsh Rowing Club", "rubik-bold", 12.0);
    let piece = piece_of(revolved(&CUP), vec![(drawn(long.clone()), film())]);
    let notes = shape::shape(&piece, &studio()).expect("sound").notes;
    assert!(notes[0].message.contains("about 102 mm"), "{:?}", notes[0]);
    let hint = &notes[0].hints[0];
    let height: f64 = hint
        .split('"')
        .nth(1)
        .and_then(|typed| typed.strip_suffix(" mm"))
        .and_then(|typed| typed.parse().ok())
        .expect("a height");
    let shown = |height_mm| {
        let words = PlacedArt { size: ArtSize::HeightMm(height_mm), ..long.clone() };
        let zone = zone(revolved(&CUP), drawn(words));
        zone.area.extent(&zone.surface).expect("some").around
    };
    let (from, to) = shown(height);
    assert!(to - from <= 150.0_f64.to_radians() + 1e-9);
    let (from, to) = shown(height + 0.1);
    assert!(to - from > 150.0_f64.to_radians());
    let column = PlacedArt { lie: Lie::Column, ..word("Ebb and flow", "rubik-bold", 7.0) };
    assert!(told(column).iter().all(|told| !told.contains("from one side")));
}

#[test]
fn words_as_wide_as_a_share_of_the_round_are_judged_as_any_others() {
    // 75 degrees to each side are 150 / 360 = 41.67 % of the round.
    let told = |share: f64| {
        let words = lettering("Saltmarsh", "rubik-bold", ArtSize::RoundShare(share), 90.0);
        let piece = piece_of(revolved(&CUP), vec![(drawn(words), film())]);
        shape::shape(&piece, &studio()).expect("sound").notes
    };
    assert!(told(0.41).is_empty(), "{:?}", told(0.41));
    let wide = &told(0.5)[0];
    assert!(wide.path.0.ends_with("lettering.round"), "{wide:?}");
    assert!(wide.hints[0].contains("round = \"41.6 %\""), "{wide:?}");
    // A tenth of the round, some 24 mm, for nine letters: capitals of 4 mm.
    let low = told(0.1);
    assert!(low[0].message.contains("below 6 mm"), "{low:?}");
    assert!(low[0].path.0.ends_with("lettering.round"), "{low:?}");
}
