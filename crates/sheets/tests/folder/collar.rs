//! Collars measured with a reference SVG reader (usvg) against the development of a cone: a place at
//! slant distance ρ from the apex and at angle φ round it is ρ sin φ beside the middle and
//! ρ (1 - cos φ) below its arc's crown, with φ = angle round the cup · s, and s the sine of half the
//! opening angle (handbook formula for the lateral surface of a cone).

use crate::road::{REED_FOLDER, plan, read, written};
use crate::svg::{group, near, tree};
use std::f64::consts::PI;
use std::sync::LazyLock;
use tempfile::TempDir;
use usvg::{Node, Tree};

/// CSS, values and units: 1 in is 25.4 mm and 96 px.
const MM_PER_PX: f64 = 25.4 / 96.0;
/// What the issue asks of lengths on a collar, mm.
const WITHIN_MM: f64 = 0.05;
/// Girths at rim and foot and length of wall of the tapered cup, mm.
const RIM_MM: f64 = 276.0;
const FOOT_MM: f64 = 212.0;
const WALL_MM: f64 = 168.0;

static DECALS: LazyLock<(sheets::Plan, TempDir)> = LazyLock::new(|| {
    let plan = plan(include_str!("../pieces/decals.toml"), None);
    let folder = written(&plan);
    (plan, folder)
});

/// The cone of the cup, grown by coats.
struct Cone {
    sine: f64,
    grown_mm: f64,
}

impl Cone {
    fn grown(coats_mm: f64) -> Self {
        let sine = (RIM_MM - FOOT_MM) / (2.0 * PI) / WALL_MM;
        // Outward along the normal, of which the cosine of the lean is level.
        Self { sine, grown_mm: coats_mm * libm::sqrt(1.0 - sine * sine) }
    }

    fn radius_mm(&self, along_mm: f64) -> f64 {
        RIM_MM / (2.0 * PI) - self.sine * along_mm + self.grown_mm
    }

    /// Beside the middle and below the crown of its arc, mm.
    fn place(&self, around: f64, along_mm: f64) -> (f64, f64) {
        let rho = self.radius_mm(along_mm) / self.sine;
        let phi = around * self.sine;
        (rho * libm::sin(phi), rho * (1.0 - libm::cos(phi)))
    }
}

/// Left, top, right and bottom of a node without its stroke, mm.
fn sides_mm(node: &Node) -> [f64; 4] {
    let bounds = node.abs_bounding_box();
    [bounds.left(), bounds.top(), bounds.right(), bounds.bottom()]
        .map(|px| f64::from(px) * MM_PER_PX)
}

fn child(tree: &Tree, id: &str, index: usize) -> [f64; 4] {
    sides_mm(&group(tree, id).children()[index])
}

fn body() -> Tree {
    tree(&read(DECALS.1.path(), "collar-body.svg"))
}

#[test]
fn a_collar_from_the_rim_has_its_window_where_the_decal_goes() {
    let tree = body();
    let cone = Cone::grown(0.0);
    let border = child(&tree, "collar-1-border", 0);
    let seam = child(&tree, "collar-1-border", 1);
    // The heron is drawn from 38 to 62 mm; 2 mm of room, and 12 mm of paper below.
    let end_mm = 62.0 + 2.0 + 12.0;
    let (rim, foot) = (cone.place(PI, 0.0), cone.place(PI, end_mm));
    let middle = seam[2] - rim.0;
    near(middle - border[0], rim.0, WITHIN_MM, "left half of the rim");
    near(seam[2] - seam[0], rim.0 - foot.0, WITHIN_MM, "seam across");
    let down = libm::hypot(seam[2] - seam[0], seam[3] - seam[1]);
    near(down, end_mm, WITHIN_MM, "seam along the wall");
    near(seam[1] - border[1], rim.1, WITHIN_MM, "rise of the rim");
    let window = child(&tree, "collar-1-windows", 0);
    // 40 mm wide at its middle, as an angle, and 2 mm of room where the cone is narrowest.
    let half = 20.0 / cone.radius_mm(50.0) + 2.0 / cone.radius_mm(62.0);
    near(window[1] - border[1], 36.0, WITHIN_MM, "rim to window");
    near(window[2] - middle, cone.place(half, 36.0).0, WITHIN_MM, "right of the middle");
    near(middle - window[0], cone.place(half, 36.0).0, WITHIN_MM, "left of the middle");
    let lower = 64.0 + cone.place(half, 64.0).1;
    near(window[3] - border[1], lower, WITHIN_MM, "rim to lower corners");
}

#[test]
fn strokes_stand_on_the_level_line_through_the_middle_of_the_cut_piece() {
    let tree = body();
    let cone = Cone::grown(0.0);
    let border = child(&tree, "collar-1-border", 0);
    // The piece of film reaches from the crown of its upper arc to the ends of its lower one.
    let half = 20.0 / cone.radius_mm(50.0);
    let level = (38.0 + 62.0 + cone.place(half, 62.0).1) / 2.0;
    for stroke in 0..2 {
        let [_, top, _, bottom] = child(&tree, "collar-1-marks", stroke);
        near(top - border[1], level, WITHIN_MM, "rim to level stroke");
        near(bottom - top, 0.0, 0.01, "level");
    }
    let middle =
        (child(&tree, "collar-1-windows", 0)[0] + child(&tree, "collar-1-windows", 0)[2]) / 2.0;
    for stroke in 2..4 {
        let [left, _, right, _] = child(&tree, "collar-1-marks", stroke);
        near((left + right) / 2.0, middle, WITHIN_MM, "middle stroke");
    }
}

#[test]
fn what_is_nearer_to_the_foot_is_measured_from_there() {
    let tree = body();
    let cone = Cone::grown(0.0);
    let border = child(&tree, "collar-2-border", 0);
    let seam = child(&tree, "collar-2-border", 1);
    // The otter is drawn from 135 to 145 mm; 2 mm of room, and 12 mm of paper above.
    let start_mm = 135.0 - 2.0 - 12.0;
    let (top, foot) = (cone.place(PI, start_mm), cone.place(PI, WALL_MM));
    near(libm::hypot(seam[2] - seam[0], seam[3] - seam[1]), WALL_MM - start_mm, WITHIN_MM, "wall");
    near(seam[2] - seam[0], top.0 - foot.0, WITHIN_MM, "seam across");
    // The window's crown is at 120 degrees; on the sheet it stands aside and lower.
    let window = child(&tree, "collar-2-windows", 0);
    let middle = seam[2] - top.0;
    let turn = 120_f64.to_radians();
    let centre = cone.place(turn, 140.0);
    let (across, down) = ((window[0] + window[2]) / 2.0 - middle, (window[1] + window[3]) / 2.0);
    near(across, centre.0, 0.3, "window across");
    near(down - border[1], 140.0 - start_mm + centre.1, 0.3, "window down");
}

#[test]
fn a_collar_over_coats_is_as_wide_as_the_cup_has_grown() {
    let (plan, _) = &*DECALS;
    let below_mm = plan.shape.zones.iter().map(|zone| zone.below_mm).fold(0.0, f64::max);
    // Four coats of 0.25 mm, and less than half a millimetre of film beneath them.
    assert!((1.0..1.5).contains(&below_mm), "{below_mm}");
    let tree = body();
    // The tern hides in the back: its collar closes at the front.
    let tern = &plan.shape.zones[3];
    let cone = Cone::grown(tern.below_mm);
    let seam = child(&tree, "collar-3-border", 1);
    let border = child(&tree, "collar-3-border", 0);
    near(seam[2] - border[0], 2.0 * cone.place(PI, 0.0).0, WITHIN_MM, "rim across");
    let window = child(&tree, "collar-3-windows", 0);
    near((window[0] + window[2] - border[0] - seam[2]) / 2.0, 0.0, WITHIN_MM, "in the middle");
}

#[test]
fn film_all_round_begins_along_the_edge_of_its_collar() {
    let (plan, folder) = &*DECALS;
    let svg = String::from_utf8(read(folder.path(), "collar-body.svg")).expect("UTF-8");
    assert!(!svg.contains("collar-5"), "four collars: two on steel, two over resin");
    let tree = body();
    let line = &plan.shape.zones[4];
    let cone = Cone::grown(line.below_mm);
    let seam = child(&tree, "collar-4-border", 1);
    // From its lower edge at 124 mm to the foot.
    let length = libm::hypot(seam[2] - seam[0], seam[3] - seam[1]);
    near(length, WALL_MM - 124.0, WITHIN_MM, "wall");
    near(seam[2] - seam[0], cone.place(PI, 124.0).0 - cone.place(PI, WALL_MM).0, WITHIN_MM, "seam");
    assert!(group(&tree, "collar-4-windows").children().is_empty());
}

#[test]
fn a_cylinder_has_a_straight_collar_and_a_decal_on_the_back_is_whole() {
    let tree = tree(&read(REED_FOLDER.path(), "collar-body.svg"));
    let below_mm = crate::road::REED_RING.shape.zones[2].below_mm;
    let border = child(&tree, "collar-1-border", 0);
    let seam = child(&tree, "collar-1-border", 1);
    near(seam[2] - border[0], 2.0 * PI * (35.0 + below_mm), WITHIN_MM, "girth");
    assert_eq!(group(&tree, "collar-1-windows").children().len(), 2, "one window, one shade");
    let window = child(&tree, "collar-1-windows", 0);
    let decal = child(&tree, "collar-1-windows", 1);
    let wide_mm = 30.0 * (35.0 + below_mm) / 35.0;
    near(decal[2] - decal[0], wide_mm, WITHIN_MM, "decal across");
    near(window[2] - window[0], wide_mm + 4.0, WITHIN_MM, "window across");
    // Drawn from 34 to 46 mm: 34 mm of 80 from the rim, as far from the foot.
    near(window[1] - border[1], 32.0, WITHIN_MM, "rim to window");
}
