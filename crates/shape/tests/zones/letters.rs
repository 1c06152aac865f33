//! Lettering against another shaper.

use crate::support::*;
use piece::{Art, ArtSize, Font, PlacedArt};
use std::f64::consts::PI;

const CAN: [(f64, f64); 2] = [(0.0, 40.0), (180.0, 40.0)];

/// Font, text, left, right, top and bottom of the ink in font units above the baseline, and top of a
/// capital H; all fonts have 1000 units to the em. Computed from the shipped files with uharfbuzz
/// 0.57.0 (HarfBuzz 15.0.0) for shaping and fontTools 4.68.0 for outlines.
const REFERENCE: [(&str, &str, [f64; 4], f64); 9] = [
    ("rubik-bold", "Saltmarsh Rowing", [29.0, 9004.0, 735.0, -220.0], 700.0),
    ("rubik-bold", "AVATAR To", [9.0, 5213.0, 700.0, -10.0], 700.0),
    ("rubik-bold", "Zoë & Günther", [38.0, 7168.0, 744.0, -10.0], 700.0),
    ("rubik-bold", "שלום", [61.0, 2169.0, 710.0, -12.75], 700.0),
    ("bitter-bold", "Saltmarsh Rowing", [56.0, 8691.0, 780.0, -242.0], 704.0),
    ("bitter-bold", "AVATAR To", [3.0, 5079.0, 706.0, -12.0], 704.0),
    ("nunito-extrabold", "Saltmarsh Rowing", [45.95652173913044, 8678.0, 732.0, -191.0], 714.0),
    ("pacifico", "Saltmarsh Rowing", [34.0, 7944.0, 940.0, -455.0], 877.0),
    ("pacifico", "Zoë & Günther", [15.0, 6575.0, 940.0, -455.0], 877.0),
];

#[test]
fn letters_are_as_wide_and_high_as_another_shaper_sets_them() {
    for (font, text, [left, right, top, bottom], capital) in REFERENCE {
        let height = 12.0;
        let scale = height / capital;
        let zone =
            zone(revolved(&CAN), drawn(lettering(text, font, ArtSize::HeightMm(height), 80.0)));
        let extent = zone.area.extent(&zone.surface).expect("not empty");
        near(extent.width_mm, (right - left) * scale, 0.02);
        // The middle of a capital H lies on the level, whatever hangs below the baseline.
        near(extent.along_mm.0, 80.0 - (top - 0.5 * capital) * scale, 0.02);
        near(extent.along_mm.1, 80.0 + (0.5 * capital - bottom) * scale, 0.02);
        near(0.5 * (extent.around.0 + extent.around.1), 0.0, 1e-5);
    }
}

/// Where the shapes of lettering begin and end round the part, from left to right, mm from the first.
fn spans(text: &str) -> Vec<(f64, f64)> {
    let placed = lettering(text, "rubik-bold", ArtSize::HeightMm(12.0), 80.0);
    let zone = zone(revolved(&CAN), drawn(placed));
    let span = |one: &Vec<shape::SurfacePoint>| {
        let across = || one.iter().map(|place| 40.0 * place.around);
        (across().fold(f64::INFINITY, f64::min), across().fold(f64::NEG_INFINITY, f64::max))
    };
    let mut spans: Vec<(f64, f64)> = zone.area.loops.iter().map(span).collect();
    spans.sort_by(|a, b| a.0.total_cmp(&b.0));
    let first = spans.first().map_or(0.0, |span| span.0);
    spans.iter().map(|(from, to)| (from - first, to - first)).collect()
}

fn begins_with(whole: &[(f64, f64)], part: &[(f64, f64)]) {
    assert!(whole.len() > part.len(), "{whole:?} {part:?}");
    for (one, other) in whole.iter().zip(part) {
        near(one.0, other.0, 0.01);
        near(one.1, other.1, 0.01);
    }
}

#[test]
fn words_of_both_directions_stand_as_they_are_read() {
    // Unicode Standard Annex 9: digits and words from left to right keep their own way in a line from
    // right to left, and stand on its left when they come last.
    begins_with(&spans("נועה 2027"), &spans("2027"));
    begins_with(&spans("Noa נועה"), &spans("Noa"));
    begins_with(&spans("نور 15"), &spans("15"));
    // The word from right to left is set as it is alone, at the right end.
    for (text, alone) in [("נועה 2027", "נועה"), ("Noa נועה", "נועה"), ("نور 15", "نور")]
    {
        let (whole, alone) = (spans(text), spans(alone));
        let tail = &whole[whole.len() - alone.len()..];
        for (one, other) in tail.iter().zip(&alone) {
            near(one.1 - one.0, other.1 - other.0, 0.01);
            near(one.0 - tail[0].0, other.0, 0.01);
        }
    }
}

#[test]
fn brackets_open_to_the_word_that_they_hold_in_a_line_from_right_to_left() {
    let placed = lettering("נועה (Noa)", "rubik-bold", ArtSize::HeightMm(12.0), 80.0);
    let zone = zone(revolved(&CAN), drawn(placed));
    let least = |one: &&Vec<shape::SurfacePoint>| {
        one.iter().map(|place| place.around).fold(f64::INFINITY, f64::min)
    };
    let mut loops: Vec<&Vec<shape::SurfacePoint>> = zone.area.loops.iter().collect();
    loops.sort_by(|a, b| least(a).total_cmp(&least(b)));
    // An opening bracket reaches farthest left at its middle, a closing one at its ends.
    let along = || loops[0].iter().map(|place| place.along_mm);
    let (top, end) =
        (along().fold(f64::INFINITY, f64::min), along().fold(f64::NEG_INFINITY, f64::max));
    let left = loops[0].iter().min_by(|a, b| a.around.total_cmp(&b.around)).expect("a place");
    assert!((left.along_mm - f64::midpoint(top, end)).abs() < 0.2 * (end - top), "{left:?}");
    // The letters between, with their holes.
    let (whole, inner) = (spans("נועה (Noa)"), spans("Noa"));
    for (one, other) in whole[1..].iter().zip(&inner) {
        near(one.0 - whole[1].0, other.0, 0.01);
        near(one.1 - whole[1].0, other.1, 0.01);
    }
}

#[test]
fn lettering_can_be_sized_by_its_width() {
    let zone = zone(
        revolved(&CAN),
        drawn(lettering("AVATAR To", "rubik-bold", ArtSize::WidthMm(100.0), 80.0)),
    );
    near(zone.area.extent(&zone.surface).expect("not empty").width_mm, 100.0, 0.01);
}

#[test]
fn a_capital_h_has_the_height_that_was_asked_for() {
    let zone =
        zone(revolved(&CAN), drawn(lettering("H", "bitter-bold", ArtSize::HeightMm(20.0), 80.0)));
    let extent = zone.area.extent(&zone.surface).expect("not empty");
    near(extent.height_mm, 20.0, 0.01);
}

#[test]
fn separate_shapes_are_counted_for_weeding() {
    let shapes = |text: &str, font: &str| {
        let zone =
            zone(revolved(&CAN), drawn(lettering(text, font, ArtSize::HeightMm(12.0), 80.0)));
        zone.area.shapes(&zone.surface)
    };
    assert_eq!(shapes("Ii", "rubik-bold"), 3);
    assert_eq!(shapes("Ooö", "rubik-bold"), 5);
    // A connected script: overlapping letters become one shape.
    assert_eq!(shapes("wren", "pacifico"), 1);
}

#[test]
fn text_over_the_back_is_not_cut_by_it() {
    let front = lettering("Saltmarsh", "rubik-bold", ArtSize::HeightMm(12.0), 80.0);
    let back = PlacedArt { around: PI, ..front.clone() };
    let (front, back) = (zone(revolved(&CAN), drawn(front)), zone(revolved(&CAN), drawn(back)));
    assert_eq!(front.area.shapes(&front.surface), back.area.shapes(&back.surface));
    assert_eq!(front.area.edges.len(), back.area.edges.len());
    near(front.area_mm2, back.area_mm2, 0.01);
}

#[test]
fn a_font_file_of_the_makers_own_is_read_like_a_shipped_one() {
    let shipped =
        shape::shipped_fonts().iter().find(|font| font.name == "pacifico").expect("shipped");
    let font = Font::Own { file: "hand.ttf".into(), bytes: shipped.bytes.into() };
    let own = PlacedArt {
        art: Art::Lettering { text: "Reed".into(), font },
        ..lettering("Reed", "pacifico", ArtSize::HeightMm(12.0), 80.0)
    };
    let theirs =
        zone(revolved(&CAN), drawn(lettering("Reed", "pacifico", ArtSize::HeightMm(12.0), 80.0)));
    let own = zone(revolved(&CAN), drawn(own));
    assert_eq!(own.area_mm2, theirs.area_mm2);
}

#[test]
fn every_shipped_font_sets_latin_with_accents() {
    let text = "ÀÁÂÃÄÅÆÇÈÉÊËÌÍÎÏÑÒÓÔÕÖØÙÚÛÜÝßàáâãäåæçèéêëìíîïñòóôõöøùúûüýÿŁłŒœŠšŽžĂăĚěŐő";
    let wide = [(0.0, 400.0), (180.0, 400.0)];
    for font in shape::shipped_fonts() {
        let zone =
            zone(revolved(&wide), drawn(lettering(text, font.name, ArtSize::HeightMm(10.0), 80.0)));
        assert!(zone.area_mm2 > 100.0);
    }
}

#[test]
fn a_drawing_of_film_with_a_thin_line_is_told_with_its_place() {
    use crate::areas::warned;
    // A block of 40 by 20 mm with a bar of 0.5 mm that hangs from its lower left corner, 10 mm long.
    let art = |width_mm: f64| {
        let path = "M0 0H40V20H0.5V30H0Z";
        drawn(path_art(path, ArtSize::WidthMm(width_mm), 80.0, 0.0))
    };
    let told = warned(revolved(&CAN), vec![(art(40.0), film())]);
    assert_eq!(told.len(), 1, "{told:?}");
    // Its middle lies 20 - 0.25 mm left of and about 10 mm below that of the 40 by 30 mm.
    let words = "the drawing of zone `zone-0` is 0.5 mm wide, 20 mm left of and";
    assert!(told[0].contains(words) && told[0].contains("below the middle"), "{told:?}");
    assert_eq!(warned(revolved(&CAN), vec![(art(100.0), film())]), Vec::<String>::new());
    // Stones do not ask, since a drawing set with stones is filled as far as they fit.
    assert_eq!(warned(revolved(&CAN), vec![(art(40.0), stones())]), Vec::<String>::new());
}
