//! How art lies on a taper: level, straight as a sticker, climbing, or in a column.

use crate::support::*;
use piece::{ArtSize, Form, Lie, PlacedArt};
use std::f64::consts::PI;

const CAN: [(f64, f64); 2] = [(0.0, 40.0), (180.0, 40.0)];

/// A bar of this width and height about the middle.
fn bar(width: f64, height: f64, along_mm: f64, lie: Lie) -> PlacedArt {
    let data = format!("M0 0H{width}V{height}H0Z");
    PlacedArt { lie, ..path_art(&data, ArtSize::WidthMm(width), along_mm, 0.0) }
}

/// A cup by its diameters and its height, mm, and the length of its wall.
fn taper(top: f64, bottom: f64, height: f64) -> (Form, f64) {
    let wall = height.hypot(0.5 * (top - bottom));
    (revolved(&[(0.0, 0.5 * top), (wall, 0.5 * bottom)]), wall)
}

#[test]
fn the_ends_of_a_straight_sticker_climb_as_the_cone_unrolled_says() {
    // Diameters and height, radius of the unrolled arc at half height, and how far ends of text 75, 100
    // and 150 mm wide climb, mm: reckoned by hand from the cone unrolled and rounded to 0.1 mm (the
    // arc radius to 10 mm). A straight line of half width h that touches an arc of radius R lies
    // sqrt(R² + h²) - R beyond it at its ends (Pythagoras).
    let cups = [
        ((76.0, 67.0, 210.0), 1670.0, [0.4, 0.7, 1.7]),
        ((88.0, 67.0, 172.0), 640.0, [1.1, 2.0, 4.4]),
        ((103.0, 72.0, 200.0), 570.0, [1.2, 2.2, 5.0]),
    ];
    for ((top, bottom, height), arc, climbs) in cups {
        let (form, wall) = taper(top, bottom, height);
        let radius = 0.25 * (top + bottom) * wall / (0.5 * (top - bottom));
        near(radius, arc, 6.0);
        for (width, climb) in [75.0, 100.0, 150.0].into_iter().zip(climbs) {
            let sticker = zone(form.clone(), drawn(bar(width, 1.0, 0.5 * wall, Lie::Straight)));
            let (start, end) = sticker.area.along_range_mm().expect("not empty");
            let (upper, lower) = (radius + 0.5, radius - 0.5);
            near(0.5 * wall - 0.5 - start, upper.hypot(0.5 * width) - upper, 1e-3);
            near(0.5 * wall - 0.5 - start, climb, 0.06);
            // Its lower edge touches the arc in the middle.
            near(end, 0.5 * wall + radius - lower, 1e-3);
            let level = zone(form.clone(), drawn(bar(width, 1.0, 0.5 * wall, Lie::Level)));
            let (start, end) = level.area.along_range_mm().expect("not empty");
            near(end - start, 1.0, 1e-5);
        }
    }
}

#[test]
fn a_straight_sticker_keeps_its_size_on_the_unrolled_wall() {
    let (form, wall) = taper(88.0, 67.0, 172.0);
    let art = PlacedArt { turn_rad: 0.4, ..bar(100.0, 20.0, 0.5 * wall, Lie::Straight) };
    let sticker = zone(form, drawn(art));
    near(sticker.area_mm2, 2000.0, 0.5);
    let sheet = sticker.surface.sheet(0);
    let on_sheet: Vec<_> =
        sticker.area.loops[0].iter().map(|at| sheet.sheet_from_surface(*at)).collect();
    // The farthest two places of a rectangle are its opposite corners.
    let apart = |a: &glam::DVec2| on_sheet.iter().map(|b| (*a - *b).length()).fold(0.0, f64::max);
    near(on_sheet.iter().map(apart).fold(0.0, f64::max), 100.0_f64.hypot(20.0), 0.01);
}

#[test]
fn on_a_cylinder_level_and_straight_are_the_same() {
    let level = zone(revolved(&CAN), drawn(bar(90.0, 12.0, 80.0, Lie::Level)));
    let straight = zone(revolved(&CAN), drawn(bar(90.0, 12.0, 80.0, Lie::Straight)));
    near(level.area_mm2, straight.area_mm2, 1e-3);
    let (a, b) = (
        level.area.extent(&level.surface).expect("some"),
        straight.area.extent(&straight.surface).expect("some"),
    );
    near(a.width_mm, b.width_mm, 1e-4);
    near(a.height_mm, b.height_mm, 1e-4);
}

#[test]
fn climbing_art_follows_a_helix_on_a_can_and_a_loxodrome_on_a_cone() {
    for degrees in [12.0_f64, -35.0] {
        let rise_rad = degrees.to_radians();
        let (sin, cos) = (rise_rad.sin(), rise_rad.cos());
        let thin = |along| bar(100.0, 0.04, along, Lie::Rising { rise_rad });
        // A helix: d around = cos(rise) / radius · d length, d along = -sin(rise) · d length.
        let helix = zone(revolved(&CAN), drawn(thin(90.0)));
        let extent = helix.area.extent(&helix.surface).expect("not empty");
        near((extent.around.1 - extent.around.0) * 40.0, 100.0 * cos, 0.05);
        near(extent.along_mm.1 - extent.along_mm.0, 100.0 * sin.abs(), 0.05);
        // On a cone the radius changes along the way by k = -sin(rise) · slope, so that the turn to
        // its end is cos(rise) / k · ln(radius at the end / radius in the middle) (the integral of
        // 1 / (r + k x)).
        let (middle, slope) = (39.0, -12.0 / 180.0);
        let rate = -sin * slope;
        let turn = |length: f64| cos / rate * ((middle + rate * length) / middle).ln();
        let climbing = zone(revolved(&CUP), drawn(thin(90.0)));
        let extent = climbing.area.extent(&climbing.surface).expect("not empty");
        near(extent.around.1 * 39.0, turn(50.0) * 39.0, 0.03);
        near(extent.around.0 * 39.0, turn(-50.0) * 39.0, 0.03);
        // It climbs to the right.
        let right = climbing.area.loops[0]
            .iter()
            .max_by(|a, b| a.around.total_cmp(&b.around))
            .expect("some");
        near(right.along_mm, 90.0 - 50.0 * sin, 0.05);
    }
}

#[test]
fn climbing_at_no_angle_is_level() {
    let rising = Lie::Rising { rise_rad: 0.0 };
    for art in ["AVATAR To", "Reed"] {
        let word = lettering(art, "rubik-bold", ArtSize::HeightMm(12.0), 80.0);
        let level = zone(revolved(&CUP), drawn(word.clone()));
        let rising = zone(revolved(&CUP), drawn(PlacedArt { lie: rising, ..word }));
        near(level.area_mm2, rising.area_mm2, 0.01);
        let (a, b) = (
            level.area.extent(&level.surface).expect("some"),
            rising.area.extent(&rising.surface).expect("some"),
        );
        near(a.width_mm, b.width_mm, 0.005);
        near(a.along_mm.0, b.along_mm.0, 0.005);
    }
}

#[test]
fn letters_of_a_column_stand_below_each_other() {
    let column = |text: &str| PlacedArt {
        lie: Lie::Column,
        ..lettering(text, "rubik-bold", ArtSize::HeightMm(12.0), 80.0)
    };
    // Two capitals of 12 mm and three tenths of one between them (common practice, no source).
    let two = zone(revolved(&CAN), drawn(column("HH")));
    let extent = two.area.extent(&two.surface).expect("not empty");
    near(extent.height_mm, 2.3 * 12.0, 0.01);
    near(0.5 * (extent.along_mm.0 + extent.along_mm.1), 80.0, 0.005);
    near(0.5 * (extent.around.0 + extent.around.1), 0.0, 1e-5);
    let one = zone(revolved(&CAN), drawn(column("H")));
    near(extent.width_mm, one.area.extent(&one.surface).expect("not empty").width_mm, 0.01);
    near(two.area_mm2, 2.0 * one.area_mm2, 0.01);
    // An accent stays with its letter, and no two letters touch: Z, o, e with its two dots.
    let name = zone(revolved(&CAN), drawn(column("Zoë")));
    assert_eq!(name.area.shapes(&name.surface), 5);
    let spaced = zone(revolved(&CAN), drawn(column("H H")));
    near(spaced.area.extent(&spaced.surface).expect("some").height_mm, 2.8 * 12.0, 0.01);
}

#[test]
fn a_column_of_a_script_from_the_right_is_refused() {
    let art = PlacedArt {
        lie: Lie::Column,
        ..lettering("שלום", "rubik-bold", ArtSize::HeightMm(9.0), 80.0)
    };
    let (path, message) = wrong(revolved(&CAN), drawn(art)).remove(0);
    assert_eq!(path, "zone[0].lettering.lie");
    assert!(message.contains("from right to left"), "{message}");
}

#[test]
fn a_straight_sticker_that_climbs_over_the_rim_is_refused() {
    // Level it would stay 0.5 mm below the rim.
    let (form, _) = taper(88.0, 67.0, 172.0);
    let sticker = bar(150.0, 10.0, 5.5, Lie::Straight);
    let level = PlacedArt { lie: Lie::Level, ..sticker.clone() };
    let (path, message) = wrong(form.clone(), drawn(sticker)).remove(0);
    assert_eq!(path, "zone[0].art.along");
    assert!(message.contains("above the rim"), "{message}");
    assert!(zone(form, drawn(level)).area_mm2 > 1000.0);
}

#[test]
fn climbing_and_straight_art_over_the_back_is_not_cut_by_it() {
    let word = lettering("Saltmarsh", "rubik-bold", ArtSize::HeightMm(12.0), 80.0);
    for lie in [Lie::Straight, Lie::Rising { rise_rad: 0.2 }] {
        let front = PlacedArt { lie, ..word.clone() };
        let back = PlacedArt { around: PI, ..front.clone() };
        let (front, back) = (zone(revolved(&CUP), drawn(front)), zone(revolved(&CUP), drawn(back)));
        near(front.area_mm2, back.area_mm2, 0.01);
        assert_eq!(front.area.shapes(&front.surface), back.area.shapes(&back.surface));
    }
}
