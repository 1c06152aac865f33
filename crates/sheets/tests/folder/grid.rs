//! The test print: measured with a reference SVG reader, and laid on cups of other measurements than it
//! was printed for, by plain geometry of the cone, to see whether its scale tells what to correct.

use crate::pdf::text;
use crate::road::{TAPER, settings};
use crate::svg::{group, near, tree};
use sheets::GridSheet;
use std::f64::consts::PI;
use usvg::{Node, Tree};

/// CSS, values and units: 1 in is 25.4 mm and 96 px.
const MM_PER_PX: f64 = 25.4 / 96.0;
/// Girths at rim and foot and length of wall that the sheet is printed for, mm.
const RIM_MM: f64 = 276.0;
const FOOT_MM: f64 = 212.0;
const WALL_MM: f64 = 168.0;

fn sheet() -> Tree {
    let settings = settings();
    let part = &TAPER.shape.parts[0];
    let sheet = GridSheet::new("Taper", "body", part, &settings).expect("a round part");
    tree(&sheet.svg())
}

/// Corners of a path, mm.
fn corners(node: &Node) -> Vec<(f64, f64)> {
    let Node::Path(path) = node else { panic!("no path: {node:?}") };
    let mm = |px: f32| f64::from(px) * MM_PER_PX;
    let transform = path.abs_transform();
    let data = path.data().clone().transform(transform).expect("a path");
    data.points().iter().map(|point| (mm(point.x), mm(point.y))).collect()
}

/// Where the zero of the scale begins and ends, and the left end of the sheet, beside the front line and
/// below its upper end, mm.
fn ends(tree: &Tree) -> [[(f64, f64); 2]; 2] {
    let border = corners(&group(tree, "border").children()[0]);
    let zero = corners(&group(tree, "scale").children()[0]);
    let left = border[0];
    let crown = border.iter().map(|at| at.1).fold(f64::INFINITY, f64::min);
    let front = (left.0 + zero[0].0) / 2.0;
    // The left end mirrors the zero about the front.
    let from_front = |at: (f64, f64)| (at.0 - front, at.1 - crown);
    let right = [from_front(zero[0]), from_front(zero[1])];
    let left_foot = border.iter().copied().filter(|at| (at.0 - left.0).abs() < 40.0);
    let lowest = left_foot.fold(left, |low, at| if at.1 > low.1 { at } else { low });
    [[from_front(left), from_front(lowest)], right]
}

/// Reading of the scale at rim and foot of a cup with these girths, the paper wrapped tight with the
/// front line straight down and its upper edge flush there: the paper does not stretch, so in the plane
/// in which the cup's own cone is unrolled it lies as it was printed.
fn readings(rim_mm: f64, foot_mm: f64, [left, right]: [[(f64, f64); 2]; 2]) -> [f64; 2] {
    let sine = (rim_mm - foot_mm) / (2.0 * PI) / WALL_MM;
    let apex_mm = rim_mm / (2.0 * PI) / sine;
    let mut readings = [0.0; 2];
    for (k, reading) in readings.iter_mut().enumerate() {
        // Angle at the apex, from the front: measured about a point far below.
        let angle = |(across, down): (f64, f64)| libm::atan2(across, apex_mm - down);
        let free = 2.0 * PI * sine - (angle(right[k]) - angle(left[k]));
        *reading = free * libm::hypot(right[k].0, apex_mm - right[k].1);
    }
    readings
}

#[test]
fn the_sheet_is_as_wide_as_the_cone_that_it_is_printed_for() {
    let tree = sheet();
    let [left, right] = ends(&tree);
    let sine = (RIM_MM - FOOT_MM) / (2.0 * PI) / WALL_MM;
    // Chord of the arc of a cone: 2 ρ sin(π s).
    let chord = |girth_mm: f64| girth_mm / (PI * sine) * libm::sin(PI * sine);
    near(right[0].0 - left[0].0, chord(RIM_MM), 0.05, "rim");
    near(right[1].0 - left[1].0, chord(FOOT_MM), 0.05, "foot");
    let down = libm::hypot(right[0].0 - right[1].0, right[0].1 - right[1].1);
    near(down, WALL_MM, 0.05, "wall");
    // Level lines at 0, 10, … 160 mm, and lines down the wall each 15 degrees but for the cut.
    assert_eq!(group(&tree, "grid").children().len(), 17 + 23);
}

#[test]
fn what_the_scale_shows_is_what_to_add_to_the_girths() {
    let ends = ends(&sheet());
    let right_cup = readings(RIM_MM, FOOT_MM, ends);
    assert!(right_cup.iter().all(|reading| reading.abs() < 0.05), "{right_cup:?}");
    for (rim_mm, foot_mm) in [(279.0, 212.0), (276.0, 209.5), (272.0, 215.0), (280.0, 216.0)] {
        let [at_rim, at_foot] = readings(rim_mm, foot_mm, ends);
        // A tape is read to half a millimetre at best.
        near(RIM_MM + at_rim, rim_mm, 0.2, "girth at the rim");
        near(FOOT_MM + at_foot, foot_mm, 0.2, "girth at the foot");
    }
}

#[test]
fn the_upper_edge_runs_off_the_rim_where_the_taper_is_off() {
    // The handbook's formula for the back of the cup: (π r / 4 L) (a - b), with a to be added at the
    // rim and b at the foot; above the rim where it is more than 0.
    let [left, _] = ends(&sheet());
    for (rim_mm, foot_mm) in [(279.0, 212.0), (276.0, 208.0), (272.0, 215.0)] {
        let sine = (rim_mm - foot_mm) / (2.0 * PI) / WALL_MM;
        let apex_mm = rim_mm / (2.0 * PI) / sine;
        let above_mm = libm::hypot(left[0].0, apex_mm - left[0].1) - apex_mm;
        let radius_mm = RIM_MM / (2.0 * PI);
        let added = (rim_mm - RIM_MM) - (foot_mm - FOOT_MM);
        let formula_mm = PI * radius_mm / (4.0 * WALL_MM) * added;
        near(above_mm, formula_mm, 0.2, "edge at the back");
    }
}

#[test]
fn pages_fit_the_paper_and_say_how_to_read_the_scale() {
    let settings = settings();
    let part = &TAPER.shape.parts[0];
    let sheet = GridSheet::new("Taper", "body", part, &settings).expect("a round part");
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("grid.pdf");
    std::fs::write(&file, sheet.pdf().expect("pages")).expect("written");
    let pages = text(&file);
    // 276 mm and the flap are wider than the paper is: two tiles, one below the other or on two pages.
    assert!((2..=3).contains(&pages.len()), "{}", pages.len());
    assert!(pages[0].contains("Read on the scale") && pages[0].contains("Grid for body"));
    assert!(pages.iter().all(|page| page.contains("True size")));
}
