//! What cannot be done is told clearly, with its place.

use crate::support::*;
use piece::{Art, ArtSize, Font, Form, Outline, PlacedArt, Region, Wave};
use shape::shape;

const WIDTH: ArtSize = ArtSize::WidthMm(40.0);

fn plate() -> Form {
    Form::Flat(Outline::Rectangle { width_mm: 50.0, height_mm: 30.0, corner_mm: 5.0 })
}

#[track_caller]
fn told(found: &[(String, String)], path: &str, words: &str) {
    assert!(
        found.iter().any(|(at, message)| at == path && message.contains(words)),
        "expected {path}: {words}\nfound {found:#?}"
    );
}

#[test]
fn edges_outside_the_part_are_told_with_how_far() {
    let region = band(wave(3.0, Wave::Sine, 7.0, 5, 0.0), level(190.5));
    let found = wrong(revolved(&CUP), region);
    told(&found, "zone[0].band.from", "4.0 mm above the rim");
    told(&found, "zone[0].band.to", "10.5 mm past the end");
}

#[test]
fn edges_that_cross_are_refused() {
    let found = wrong(revolved(&CUP), band(wave(60.0, Wave::Sine, 7.0, 5, 0.0), level(62.0)));
    told(&found, "zone[0].band", "5.0 mm below `to`");
    told(&wrong(revolved(&CUP), band(level(90.0), level(60.0))), "zone[0].band", "30.0 mm below");
}

#[test]
fn a_band_of_no_height_is_empty() {
    told(&wrong(revolved(&CUP), band(level(60.0), level(60.0))), "zone[0]", "is empty");
}

#[test]
fn too_many_waves_are_refused_at_once() {
    let found =
        wrong(revolved(&CUP), band(wave(60.0, Wave::Zigzag, 7.0, u32::MAX, 0.0), level(90.0)));
    told(&found, "zone[0].band.from.count", "too many");
}

#[test]
fn bands_and_windows_do_not_belong_on_plates() {
    let region = Region { window_rad: Some((0.0, 1.0)), ..band(level(1.0), level(2.0)) };
    let found = wrong(plate(), region);
    told(&found, "zone[0].band", "flat");
    told(&found, "zone[0].window", "flat");
    let copies = PlacedArt { repeat: 3, ..path_art("M0 0H4V4Z", ArtSize::WidthMm(4.0), 0.0, 0.0) };
    told(&wrong(plate(), drawn(copies)), "zone[0].art.repeat", "flat");
}

#[test]
fn an_inset_that_leaves_nothing_is_refused() {
    let inset = |inset_mm| Region { inset_mm, ..everything() };
    told(&wrong(plate(), inset(15.5)), "zone[0].inset", "leaves nothing");
    told(&wrong(revolved(&CUP), inset(90.0)), "zone[0].inset", "leaves nothing");
    // 50 x 30 with corners of 5, 3 inside: 44 x 24 with corners of 2.
    let zone = zone(plate(), inset(3.0));
    near(zone.area_mm2, 44.0 * 24.0 - (4.0 - std::f64::consts::PI) * 4.0, 0.2);
}

#[test]
fn art_outside_its_part_is_told_with_how_far() {
    let square = "M0 0H10V10H0Z";
    let found = wrong(revolved(&CUP), drawn(path_art(square, WIDTH, 15.0, 0.0)));
    told(&found, "zone[0].art.along", "5.0 mm above the rim");
    let found = wrong(revolved(&CUP), drawn(path_art(square, WIDTH, 170.0, 0.0)));
    told(&found, "zone[0].art.along", "10.0 mm past the end");
    let found = wrong(plate(), drawn(path_art(square, ArtSize::WidthMm(20.0), 0.0, 17.5)));
    told(&found, "zone[0].art", "2.5 mm past the outline");
    let found =
        wrong(revolved(&CUP), drawn(path_art("M0 0H40V5H0Z", ArtSize::WidthMm(260.0), 90.0, 0.0)));
    told(&found, "zone[0].art", "260.0 mm wide, but the part is only 245.0 mm round");
}

#[test]
fn art_without_area_is_refused() {
    for data in ["M0 0L10 10", "M0 0H10", "M5 5Z", "M0 0L5 5L10 10Z"] {
        told(
            &wrong(revolved(&CUP), drawn(path_art(data, WIDTH, 90.0, 0.0))),
            "zone[0].art",
            "no area",
        );
    }
}

#[test]
fn path_data_that_cannot_be_read_is_told_with_its_place() {
    let found = |data: &str| wrong(revolved(&CUP), drawn(path_art(data, WIDTH, 90.0, 0.0)));
    told(&found("M 0 0 L 10 x Z"), "zone[0].art.path", "character 12, which is `x`");
    told(&found("L 10 10"), "zone[0].art.path", "character 1, which is `L`");
    told(&found("M 0 0 L 10"), "zone[0].art.path", "breaks off");
    told(&found("  "), "zone[0].art.path", "no path data");
    told(&found("M0 0L1e400 5Z"), "zone[0].art.path", "");
    told(&found("M0 0A1e300 1e300 0 1 1 5 5Z"), "zone[0].art.path", "holds the number");
}

#[test]
fn svg_files_that_reach_out_or_run_scripts_are_refused() {
    let found = |text: &str| wrong(revolved(&CUP), drawn(svg_art(text, WIDTH, 90.0)));
    let refused = |inner: &str, words: &str| {
        let text = format!(
            "<svg xmlns='http://www.w3.org/2000/svg' xmlns:xlink='http://www.w3.org/1999/xlink' viewBox='0 0 9 9'>\n<rect width='9' height='9'/>{inner}</svg>"
        );
        told(&found(&text), "zone[0].art.file", words);
    };
    refused("<script>alert(1)</script>", "holds a script (line 2)");
    refused("<rect onclick='run()' width='4' height='4'/>", "holds a script in `onclick`");
    refused("<image href='file:///etc/passwd' width='4' height='4'/>", "picture made of dots");
    refused(
        "<use xlink:href='http://reeds.example/a.svg#b'/>",
        "refers to something outside itself, `http://reeds.example/a.svg#b`",
    );
    refused(
        "<rect width='4' height='4' fill='url(http://reeds.example/g.svg#a)'/>",
        "outside itself",
    );
    refused("<style>@import 'http://reeds.example/a.css';</style>", "style sheet that refers");
    refused("<text>Reeds</text>", "holds text");
    refused("<path d='M0 0A1e30 1e30 0 1 1 5 5Z'/>", "numbers over a million");
    refused("<foreignObject/>", "foreignObject");
    refused(
        "<mask id='m'><rect width='4' height='4' fill='white'/></mask><rect width='4' height='4' mask='url(#m)'/>",
        "mask",
    );
    told(&found("reeds"), "zone[0].art.file", "not a readable SVG file");
    told(&found("<html><body/></html>"), "zone[0].art.file", "begins with <html>");
    told(
        &found("<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 9 9'/>"),
        "zone[0].art.file",
        "can be seen",
    );
    let hidden = "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 9 9'><rect width='4' height='4' display='none'/></svg>";
    told(&found(hidden), "zone[0].art.file", "can be seen");
}

#[test]
fn what_is_refused_in_a_file_is_told_with_its_line() {
    let head = "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 9 9'>\n<rect width='9' height='9'/>\n";
    let found = |inside: &str| {
        let text = format!("{head}{inside}</svg>");
        wrong(revolved(&CUP), drawn(svg_art(&text, WIDTH, 90.0)))
    };
    let deep = format!("{}<rect width='4' height='4'/>{}", "<g>\n".repeat(70), "</g>".repeat(70));
    for (inside, what) in [
        ("<text font-family='Reeds'>Ebb</text>", "holds text in Reeds (weight 400) (line 3)"),
        ("<text font-family='Rubik' font-weight='700'>潮</text>", "(line 3)"),
        (
            "<mask id='m'><path d='M0 0H4V4Z'/></mask>\n<rect width='4' height='4' mask='url(#m)'/>",
            "with a mask, which film cannot do (line 4)",
        ),
        (
            "<path d='M0 0 L9 0 L9 9Z M2 4 L4 4 X 9 Z'/>",
            "cannot be read at character 27, which is `X` (line 3)",
        ),
        ("<path d='M0 0 L9'/>", "has a path that breaks off"),
        (&deep, "nests its groups more than 64 deep (line 67)"),
    ] {
        told(&found(inside), "zone[0].art.file", what);
    }
    let nested = "<!DOCTYPE svg [\n<!ENTITY a 'reed'>\n<!ENTITY b '&a;&a;'>]><svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 9 9'><title>&b;</title><rect width='9' height='9'/></svg>";
    let wrong = wrong(revolved(&CUP), drawn(svg_art(nested, WIDTH, 90.0)));
    told(&wrong, "zone[0].art.file", "entities into entities (line 3)");
}

#[test]
fn what_nothing_uses_in_a_file_does_no_harm() {
    for unused in [
        "<defs><marker id='m'><rect width='1' height='1'/></marker></defs>",
        "<mask id='m'><rect width='4' height='4' fill='white'/></mask>",
        "<style>.reed{marker:none}</style>",
        "<path d='none'/><path d=''/>",
    ] {
        let text = format!(
            "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 9 9'>{unused}<rect width='9' height='9'/></svg>"
        );
        let zone = zone(revolved(&CUP), drawn(svg_art(&text, WIDTH, 90.0)));
        assert!(zone.area_mm2 > 0.0);
    }
    for used in [
        "<g marker-start='url(#m)'><path d='M0 0H9V9Z'/></g>",
        "<path style='marker-end: url(#m)' d='M0 0H9V9Z'/>",
        "<style>path { marker : url(#m) }</style><path d='M0 0H9V9Z'/>",
    ] {
        let text = format!(
            "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 9 9'><marker id='m'><rect width='1' height='1'/></marker>{used}</svg>"
        );
        told(
            &wrong(revolved(&CUP), drawn(svg_art(&text, WIDTH, 90.0))),
            "zone[0].art.file",
            "markers",
        );
    }
}

#[test]
fn bombs_end_at_once() {
    let mut text = String::from("<!DOCTYPE svg [<!ENTITY a0 'lol'>");
    for level in 1..12 {
        let again = format!("&a{};", level - 1).repeat(10);
        text += &format!("<!ENTITY a{level} '{again}'>");
    }
    text += "]><svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 9 9'><desc>&a11;</desc><rect width='9' height='9'/></svg>";
    told(
        &wrong(revolved(&CUP), drawn(svg_art(&text, WIDTH, 90.0))),
        "zone[0].art.file",
        "entities",
    );

    let mut text = String::from(
        "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 9 9'><defs><rect id='u0' width='9' height='9'/>",
    );
    for level in 1..12 {
        let again = format!("<use href='#u{}'/>", level - 1).repeat(10);
        text += &format!("<g id='u{level}'>{again}</g>");
    }
    text += "</defs><use href='#u11'/></svg>";
    told(&wrong(revolved(&CUP), drawn(svg_art(&text, WIDTH, 90.0))), "zone[0].art.file", "");
    for (open, close) in [
        ("<g>".repeat(200_000), "</g>".repeat(200_000)),
        ("<g transform='scale(1)'>".repeat(700), "</g>".repeat(700)),
    ] {
        let text = format!(
            "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 9 9'>{open}<rect width='9' height='9'/>{close}</svg>"
        );
        told(&wrong(revolved(&CUP), drawn(svg_art(&text, WIDTH, 90.0))), "zone[0].art.file", "");
    }
    let text = "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 9 9'><path d='M0 0H900000' stroke='black' stroke-dasharray='0.001'/></svg>";
    told(&wrong(revolved(&CUP), drawn(svg_art(text, WIDTH, 90.0))), "zone[0].art.file", "dashes");
}

#[test]
fn drawings_that_draw_themselves_over_and_over_are_refused() {
    let line = "9 9L0 0L".repeat(20_000);
    let markers = format!(
        "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 9 9'><marker id='m'><rect width='1' height='1'/></marker><path marker-mid='url(#m)' d='M0 0L{line}9 9'/></svg>"
    );
    let clip = "<rect width='1' height='1'/>".repeat(4000);
    let groups = "<g clip-path='url(#c)'><rect width='9' height='9'/></g>".repeat(4000);
    let clips = format!(
        "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 9 9'><clipPath id='c'>{clip}</clipPath>{groups}</svg>"
    );
    for (text, what) in [(markers, "markers"), (clips, "20,000 paths")] {
        let found = wrong(revolved(&CUP), drawn(svg_art(&text, WIDTH, 90.0)));
        told(&found, "zone[0].art.file", what);
    }
}

#[test]
fn letters_that_a_font_lacks_are_named() {
    let text = lettering("Reed שג", "pacifico", WIDTH, 90.0);
    let found = wrong(revolved(&CUP), drawn(text));
    told(&found, "zone[0].lettering.text", "`ג` (U+05D2), `ש` (U+05E9)");
}

#[test]
fn lettering_needs_one_line_of_letters_in_a_known_font() {
    let found =
        |text: &str, font: &str| wrong(revolved(&CUP), drawn(lettering(text, font, WIDTH, 90.0)));
    told(&found(" \u{a0} ", "rubik-bold"), "zone[0].lettering.text", "no letters");
    told(&found("two\nlines", "rubik-bold"), "zone[0].lettering.text", "one line");
    told(&found("two\u{2029}lines", "rubik-bold"), "zone[0].lettering.text", "one line");
    told(&found("\u{200b}", "rubik-bold"), "zone[0].lettering.text", "without width");
    told(&found("Reed", "rubic-bold"), "zone[0].lettering.font", "no typeface `rubic-bold`");
    let piece = piece_of(
        revolved(&CUP),
        vec![(drawn(lettering("Reed", "Rubic Bold", WIDTH, 90.0)), film())],
    );
    let found = shape(&piece, &studio()).expect_err("unknown font");
    assert_eq!(found[0].hints[0], "Did you mean `rubik-bold`?");
    assert!(shape::shipped_fonts().iter().any(|font| font.name == Font::DEFAULT));
    let own = Font::Own { file: "hand.ttf".into(), bytes: b"no font"[..].into() };
    let art = PlacedArt {
        art: Art::Lettering { text: "Reed".into(), font: own },
        ..lettering("", "", WIDTH, 90.0)
    };
    told(&wrong(revolved(&CUP), drawn(art)), "zone[0].lettering.font", "not a readable font file");
}

#[test]
fn all_that_is_wrong_is_told_at_once() {
    let piece = piece_of(
        revolved(&CUP),
        vec![
            (band(level(90.0), level(60.0)), film()),
            (band(level(60.0), level(90.0)), film()),
            (drawn(path_art("M", WIDTH, 90.0, 0.0)), film()),
        ],
    );
    let found = shape(&piece, &studio()).expect_err("two faults");
    let paths: Vec<&str> = found.iter().map(|one| one.path.0.as_str()).collect();
    assert_eq!(paths, ["zone[0].band", "zone[2].art.path"]);
}

#[test]
fn zones_that_leave_nothing_of_another_are_told() {
    let ground = Region { leave_out: vec![(1, 2.0)], ..band(level(30.0), level(60.0)) };
    let piece =
        piece_of(revolved(&CUP), vec![(ground, film()), (band(level(28.5), level(61.5)), film())]);
    let found = shape(&piece, &studio()).expect_err("nothing left");
    assert_eq!(found[0].path.0, "zone[0]");
    assert!(found[0].message.contains("nothing is left of zone `zone-0`"));
    let own = Region { leave_out: vec![(0, 1.0)], ..everything() };
    told(&wrong(revolved(&CUP), own), "zone[0].leave_out[0]", "leaves out itself");
}
