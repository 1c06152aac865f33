//! What a tape said against the wall made of it: families, residuals, slips.

use crate::measures;
use piece::blanks::BLANKS;
use piece::{Form, Handle, Part, PartRole, Piece, Run, Settings};
use shape::{Family, Shape, measured, shape};
use std::f64::consts::{PI, TAU};

fn body(form: Form) -> Part {
    Part {
        name: "body".to_owned(),
        role: PartRole::Body,
        capacity_ml: None,
        walls: None,
        form,
        blank_colour: None,
        seat: None,
        handle: None,
        fit: piece::Fit::default(),
    }
}

fn shaped(part: &Part) -> Shape {
    let mut piece: Piece = "cupwright = 1\ntitle = \"Cup\"\n[[part]]\nname = \"body\"\nblank = \"straight 12 fl oz\"\n"
        .parse()
        .expect("a sound piece");
    piece.parts = vec![part.clone()];
    shape(&piece, &Settings::demo()).expect("a sound piece")
}

#[test]
fn every_generic_blank_is_of_the_family_that_it_names_and_holds_what_it_says() {
    for blank in &BLANKS {
        let mut part = body(Form::Revolved(blank.measures()));
        part.capacity_ml = Some(blank.capacity_ml());
        part.walls = Some(blank.walls);
        part.handle = blank.handle.map(|size| Handle {
            along_mm: size.along_mm,
            around_rad: 0.0,
            width_mm: size.width_mm,
            clearance_mm: 0.0,
            beneath: Vec::new(),
        });
        let shape = shaped(&part);
        // Outside of what cups with such a wall enclose, there would be a warning.
        assert!(shape.notes.is_empty(), "{}: {:?}", blank.name, shape.notes);
        let found = measured(&part, &shape.parts[0]).and_then(|found| found.family);
        let (family, why) = found.expect("a body has a family");
        assert_eq!(family.to_string(), blank.family, "{}: {why}", blank.name);
    }
}

/// A cone of 87 mm across at the mouth, 68 mm at the foot and 170 mm of wall: sine of the lean is the
/// change of radius over the slant, height is the third side (Zwillinger, CRC Standard Mathematical
/// Tables and Formulae, right circular cone).
#[test]
fn a_cone_has_the_lean_the_height_and_the_volume_of_the_handbook() {
    let part = body(Form::Revolved(measures(&[(0.0, 43.5), (170.0, 34.0)], Run::Straight)));
    let shape = shaped(&part);
    let found = measured(&part, &shape.parts[0]).expect("a revolved part");
    let height = (170.0_f64 * 170.0 - 9.5 * 9.5).sqrt();
    assert_eq!(found.bands.len(), 1);
    let band = &found.bands[0];
    assert!(band.straight && (band.height_mm - height).abs() < 1e-9);
    assert!((libm::sin(band.lean_rad) - 9.5 / 170.0).abs() < 1e-12);
    assert!((found.readings[0].z_mm - height).abs() < 1e-9 && found.readings[1].z_mm.abs() < 1e-9);
    let volume = PI * height * (43.5 * 43.5 + 43.5 * 34.0 + 34.0 * 34.0) / 3.0 / 1000.0;
    assert!((shape.parts[0].volume_ml - volume).abs() < 1e-9);
    assert_eq!(found.family.map(|(family, _)| family), Some(Family::Tapered));
}

/// A gentle belly read every 6 mm with a tape of whole millimetres: the wall lies nearer to it than a
/// curve through the readings does, and within half a step of each reading.
#[test]
fn a_smooth_wall_through_noisy_readings_is_nearer_to_the_truth_than_one_through_all_of_them() {
    let radius = |along: f64| 38.0 + 5.0 * libm::cos((along - 70.0) / 60.0);
    let step = 1.0 / TAU;
    let points: Vec<(f64, f64)> = (0..23)
        .map(|k| f64::from(k) * 6.0)
        .map(|along| (along, (radius(along) * TAU).round() / TAU))
        .collect();
    let through = body(Form::Revolved(measures(&points, Run::Smooth)));
    let mut readings = measures(&points, Run::Smooth);
    readings.iter_mut().for_each(|reading| reading.radius_step_mm = step);
    let near = body(Form::Revolved(readings));
    let off = |part: &Part| {
        let surface = &shaped(part).parts[0].surface;
        let places = (0..=660).map(|k| f64::from(k) * 0.2);
        let squares: f64 = places
            .map(|along| surface.around_scale_mm(along) - radius(along))
            .map(|off| off * off)
            .sum();
        (squares / 661.0).sqrt()
    };
    let (through_mm, near_mm) = (off(&through), off(&near));
    assert!(near_mm < 0.9 * through_mm, "{near_mm} {through_mm}");
    let found = measured(&near, &shaped(&near).parts[0]).expect("a revolved part");
    assert!(found.readings.iter().all(|reading| reading.off_mm.abs() <= step / 2.0 + 1e-9));
    assert!(found.readings.iter().any(|reading| reading.off_mm.abs() > step / 10.0));
}

#[test]
fn a_reading_that_stands_out_by_itself_is_asked_after() {
    let mut points: Vec<(f64, f64)> =
        (0..9).map(|k| f64::from(k) * 18.0).map(|along| (along, 43.0 - along * 0.05)).collect();
    let quiet = body(Form::Revolved(measures(&points, Run::Smooth)));
    assert!(shaped(&quiet).notes.is_empty());
    points[4].1 += 10.0 / TAU;
    let slip = body(Form::Revolved(measures(&points, Run::Smooth)));
    let notes = shaped(&slip).notes;
    assert_eq!(notes.len(), 1, "{notes:?}");
    assert_eq!(notes[0].path.0, "part[0].revolved[4]");
    assert!(notes[0].message.contains("10 mm of girth more"), "{}", notes[0].message);
}
