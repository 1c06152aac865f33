//! Plots of coats on the turner: read back as pixels.

use coats::turner::{Allowed, Liquid, TurnedCoat, Turning, allowed, allowed_along};
use piece::settings::LengthUnit;
use piece::{Measure, Run};
use shape::Surface;
use sheets::{Plotted, allowed_along_wall, allowed_over_time};
use std::fs;
use std::path::Path;

/// A clear epoxy (from memory).
const CLEAR: Liquid = Liquid { density_g_per_ml: 1.1, surface_tension_n_per_m: 0.035 };
/// The accent of the sheets, which only the planned coat is drawn in.
const ACCENT: [u8; 3] = [0x4d, 0x63, 0x1f];

fn shell(film_mm: f64) -> Allowed {
    let viscosity = |min: f64| libm::exp(min / 69.0);
    let coat = TurnedCoat {
        rpm: 6.0,
        safe_share: 0.6,
        liquid: CLEAR,
        viscosity: &viscosity,
        radius_mm: 33.5,
        film_mm,
        area_mm2: 42_000.0,
    };
    allowed(&coat, 240.0)
}

/// The pixels, after keeping the picture to be looked at.
fn pixels(plotted: &Plotted, name: &str) -> image::RgbImage {
    fs::write(Path::new(env!("CARGO_TARGET_TMPDIR")).join(name), &plotted.png).unwrap();
    image::load_from_memory(&plotted.png).unwrap().into_rgb8()
}

/// Rows of pixels (or columns, if `across`) in which the accent runs over most of the field.
fn accent_lines(picture: &image::RgbImage, across: bool) -> Vec<u32> {
    let (width, height) = picture.dimensions();
    let (lines, long) = if across { (width, height) } else { (height, width) };
    (0..lines)
        .filter(|&line| {
            let pixel = |at| if across { (line, at) } else { (at, line) };
            let hits = (0..long).filter(|&at| {
                let (x, y) = pixel(at);
                picture.get_pixel(x, y).0 == ACCENT
            });
            2 * hits.count() > long as usize
        })
        .collect()
}

#[test]
fn the_planned_coat_lies_where_its_thickness_says() {
    // The field of the picture runs from 272 to 980 px; its top is 1.15 times the greater of the
    // planned coat and 2.2 times what stays on at the pour.
    for film_mm in [0.3, 0.9] {
        let allowed = shell(film_mm);
        let plotted = allowed_over_time("Moon tide, shell, coat 1 of 2", &allowed).unwrap();
        let picture = pixels(&plotted, &format!("coat-{film_mm}.png"));
        assert_eq!(picture.dimensions(), (1800, 1120));
        let rows = accent_lines(&picture, false);
        let top_mm = 1.15 * 2.2 * allowed.tightest.most_mm;
        let expected = 980.0 - 708.0 * film_mm / top_mm;
        assert!(!rows.is_empty() && rows.len() <= 7, "{rows:?}");
        let middle = rows.iter().sum::<u32>() as f64 / rows.len() as f64;
        // The middle of a line some pixels wide.
        assert!((middle - expected).abs() < 1.5, "{middle} {expected}");
        // The same coat gives the same bytes, as drawing and as picture.
        let again = allowed_over_time("Moon tide, shell, coat 1 of 2", &allowed).unwrap();
        assert_eq!(again, plotted);
        let drawing = String::from_utf8(plotted.svg).unwrap();
        assert!(drawing.starts_with("<svg") && !drawing.contains("<text"), "letters are outlines");
    }
}

#[test]
fn the_wall_is_drawn_from_the_rim_down_and_its_fullest_place_marked() {
    let measure = |along_mm, radius_mm| Measure {
        along_mm,
        radius_mm,
        run: Run::Straight,
        crease: false,
        radius_step_mm: 0.0,
    };
    let taper = Surface::revolved(&[measure(0.0, 44.0), measure(172.0, 33.5)]).unwrap();
    let turning = Turning { rpm: 6.0, liquid: CLEAR, viscosity_pa_s: 1.0 };
    let along = allowed_along(&taper, &turning, &|_| 0.3).unwrap();
    for (lengths, name) in
        [(LengthUnit::Millimetres, "wall-mm.png"), (LengthUnit::Inches, "wall-in.png")]
    {
        let plotted =
            allowed_along_wall("Moon tide, shell, coat 1 of 2", &along, 0.6, lengths).unwrap();
        let picture = pixels(&plotted, name);
        let columns = accent_lines(&picture, true);
        // The field runs from 156 to 1744 px, over 1.12 times what stays on at the rim.
        let widest = turning.most_film_mm(44.0);
        let expected = 156.0 + 1588.0 * 0.3 / (1.12 * widest);
        assert!(!columns.is_empty() && columns.len() <= 7, "{columns:?}");
        let middle = columns.iter().sum::<u32>() as f64 / columns.len() as f64;
        assert!((middle - expected).abs() < 1.5, "{middle} {expected}");
        // The mark of the fullest place, at the foot, is wider than the line.
        let marked =
            (0..picture.width()).filter(|&x| picture.get_pixel(x, 1260).0 == ACCENT).count();
        assert!(marked > 15, "{marked}");
    }
}

#[test]
fn what_is_left_out_of_the_turner_is_left_out_of_the_plot() {
    let measure = |along_mm, radius_mm| Measure {
        along_mm,
        radius_mm,
        run: Run::Straight,
        crease: true,
        radius_step_mm: 0.0,
    };
    let stepped =
        [measure(0.0, 45.0), measure(80.0, 45.0), measure(95.0, 31.0), measure(190.0, 31.0)];
    let surface = Surface::revolved(&stepped).unwrap();
    let turning = Turning { rpm: 6.0, liquid: CLEAR, viscosity_pa_s: 0.5 };
    let stripe = |along_mm: f64| if along_mm > 120.0 && along_mm < 150.0 { 0.7 } else { 0.25 };
    let along = allowed_along(&surface, &turning, &stripe).unwrap();
    assert!(along.places.iter().all(|place| !(80.1..94.9).contains(&place.along_mm)));
    let plotted = allowed_along_wall("Step", &along, 0.6, LengthUnit::Millimetres).unwrap();
    let picture = pixels(&plotted, "wall-step.png");
    // Half-way down the shoulder (87.5 of 190 mm; the field runs from 272 to 1264 px) nothing is drawn.
    let row = 272 + (992.0 * 87.5 / 190.0) as u32;
    assert!((160..1700).all(|x| picture.get_pixel(x, row).0 != ACCENT));
}
