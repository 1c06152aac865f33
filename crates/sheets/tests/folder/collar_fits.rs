//! Collars on walls curved both ways, on a cup with a handle, and with decals that lie close together.

use crate::cut_lines::groups;
use crate::road::{plan, read, written};
use crate::svg::{group, near, tree};
use std::f64::consts::PI;
use std::path::Path;
use usvg::{Node, Tree};

/// CSS, values and units: 1 in is 25.4 mm and 96 px.
const MM_PER_PX: f64 = 25.4 / 96.0;
/// Radius of the ball, mm; its equator lies half-way down a wall of 110 mm.
const BALL_MM: f64 = 45.0;

fn text(wall: &str, more: &str) -> String {
    format!(
        r##"cupwright = 1
title = "Fits"
[colours]
"reed" = "#5d7a2e"
"foam" = "#e8eef0"
[[part]]
name = "body"
revolved = [ {wall} ]
{more}"##
    )
}

fn ball() -> String {
    let measure = |step: u32| {
        let along = 5.0 * f64::from(step);
        let radius = BALL_MM * libm::cos((along - 55.0) / BALL_MM);
        format!("{{ along = \"{along} mm\", radius = \"{radius:.5} mm\", run = \"smooth\" }}")
    };
    (0..=22).map(measure).collect::<Vec<_>>().join(", ")
}

/// Left, top, right and bottom of a node without its stroke, mm.
fn sides_mm(tree: &Tree, id: &str, index: usize) -> [f64; 4] {
    let node: &Node = &group(tree, id).children()[index];
    let bounds = node.abs_bounding_box();
    [bounds.left(), bounds.top(), bounds.right(), bounds.bottom()]
        .map(|px| f64::from(px) * MM_PER_PX)
}

fn collars(folder: &Path) -> Tree {
    tree(&read(folder, "collar-body.svg"))
}

/// Width and height of what is cut first, mm.
fn cut_mm(folder: &Path) -> (f64, f64) {
    let groups = groups(&read(folder, "cut-reed.svg"));
    let cut = groups.iter().find(|group| group.id.starts_with("cut-")).expect("film is cut");
    let places = || cut.rings.iter().flatten();
    let span = |axis: usize| {
        let all = places().map(|place| place[axis]);
        let (low, high) = all.fold((f64::MAX, f64::MIN), |(a, b), x| (a.min(x), b.max(x)));
        high - low
    };
    (span(0), span(1))
}

#[test]
fn on_a_ball_the_shade_is_the_film_as_it_is_cut_and_the_window_holds_it() {
    let more = r#"
[[zone]]
name = "leaf"
part = "body"
art = { path = "M0 0H56V30H0Z", width = "56 mm", along = "40 mm" }
vinyl = { colour = "reed" }"#;
    let plan = plan(&text(&ball(), more), None);
    let folder = written(&plan);
    // The workbook tells where the film strains.
    let mut steps = plan.steps.steps.iter().flat_map(|step| &step.how);
    let told = steps.find(|how| how.contains("curved both ways")).expect("it is told");
    for words in ["stretches most", " from the rim at ", "would crease first", "squeezed by"] {
        assert!(told.contains(words), "{told}");
    }
    let tree = collars(folder.path());
    let [left, top, right, bottom] = sides_mm(&tree, "collar-1-windows", 1);
    let (wide, high) = cut_mm(folder.path());
    near(right - left, wide, 0.05, "across");
    near(bottom - top, high, 0.05, "down");
    let window = sides_mm(&tree, "collar-1-windows", 0);
    for (room, side) in [left - window[0], top - window[1], window[2] - right, window[3] - bottom]
        .into_iter()
        .zip(["left", "above", "right", "below"])
    {
        assert!((1.5..8.0).contains(&room), "{room} mm {side}");
    }
    // Strokes of the level line: at half the height of what is cut, where its crosses are.
    let crosses = group(&tree, "collar-1-marks").children().len();
    assert_eq!(crosses, 4, "two level, two upright");
    for stroke in 0..2 {
        let [_, from, _, to] = sides_mm(&tree, "collar-1-marks", stroke);
        near(f64::midpoint(from, to), f64::midpoint(top, bottom), 0.05, "level line");
    }
    // The collar reaches from the rim to 12 mm below its window. Its paper is the cone through the two
    // circles of the ball there, moved out by half of how far the ball stands off it (surfaces.md), so its
    // upper edge spans 2 π sine of half its opening angle.
    let border = sides_mm(&tree, "collar-1-border", 0);
    let seam = sides_mm(&tree, "collar-1-border", 1);
    let reach_mm = libm::hypot(seam[2] - seam[0], seam[3] - seam[1]);
    let radius = |along: f64| BALL_MM * libm::cos((along - 55.0) / BALL_MM);
    let slope = (radius(reach_mm) - radius(0.0)) / reach_mm;
    let off = |along: f64| radius(along) - radius(0.0) - slope * along;
    let farthest = (0..=100).map(|n| off(reach_mm * f64::from(n) / 100.0)).fold(0.0, f64::max);
    let rho = (radius(0.0) + 0.5 * farthest) / slope;
    // Below the apex half of the sector reaches π · slope to each side: past a quarter turn it is widest.
    let half = (PI * slope).min(0.5 * PI);
    let across = 2.0 * (rho + reach_mm) * libm::sin(half);
    near(border[2] - border[0], across, 14.0, "lower edge, and the tab");
    // Nearer to the wall than the sheet of the whole band is.
    let whole = plan.shape.parts[0].surface.sheet(0).error_mm();
    let stretch = plan.shape.parts[0].surface.sheet_over(0, (0.0, reach_mm)).error_mm();
    near(stretch, PI * farthest, 0.3, "stated error");
    assert!(stretch < 0.5 * whole, "{stretch} {whole}");
}

#[test]
fn a_handle_goes_through_a_slot_to_the_edge_that_slides_over_it() {
    let handle = |from: &str| {
        format!(
            r#"handle = {{ from = "{from}", to = "130 mm", width = "24 mm", around = "90 deg" }}
[[zone]]
name = "leaf"
part = "body"
art = {{ path = "M0 0H30V20H0Z", width = "30 mm", along = "50 mm" }}
vinyl = {{ colour = "reed" }}"#
        )
    };
    let can = r#"{ along = "0 mm", diameter = "80 mm" }, { along = "160 mm", diameter = "80 mm" }"#;
    let plan_of = |from: &str| plan(&text(can, &handle(from)), None);
    let folder = written(&plan_of("30 mm"));
    let tree = collars(folder.path());
    let border = sides_mm(&tree, "collar-1-border", 0);
    let seam = sides_mm(&tree, "collar-1-border", 1);
    assert_eq!(group(&tree, "collar-1-windows").children().len(), 3, "window, shade and slot");
    let slot = sides_mm(&tree, "collar-1-windows", 2);
    // The handle and 2 mm to each side; its middle a quarter of the girth from the front, which lies in
    // the middle of a collar that is closed at the back.
    near(slot[2] - slot[0], 28.0, 0.05, "slot across");
    let front = f64::midpoint(border[0], seam[0]);
    let middle = f64::midpoint(slot[0], slot[2]);
    let below = plan_of("30 mm").shape.zones[0].below_mm;
    near(middle - front, 0.5 * PI * (40.0 + below), 0.05, "slot from the front");
    near(slot[1] - border[1], 28.0, 0.05, "slot from the rim");
    near(slot[3], border[3], 0.05, "slot to the lower edge");
    // A handle that begins at the rim leaves no paper above it.
    let folder = written(&plan_of("4 mm"));
    let tree = collars(folder.path());
    let border = sides_mm(&tree, "collar-1-border", 0);
    let slot = sides_mm(&tree, "collar-1-windows", 2);
    near(slot[3] - slot[1], border[3] - border[1], 0.05, "slot all through");
}

#[test]
fn decals_that_share_a_window_are_told_in_the_order_in_which_they_go_on() {
    let can = r#"{ along = "0 mm", diameter = "80 mm" }, { along = "160 mm", diameter = "80 mm" }"#;
    let more = r#"
[[zone]]
name = "wing"
part = "body"
art = { path = "M0 0H20V20H0Z", width = "20 mm", along = "50 mm" }
vinyl = { colour = "reed" }
[[zone]]
name = "beak"
part = "body"
art = { path = "M0 0H8V8H0Z", width = "8 mm", along = "50 mm", around = "20 deg" }
vinyl = { colour = "foam" }"#;
    let folder = written(&plan(&text(can, more), None));
    let tree = collars(folder.path());
    assert_eq!(group(&tree, "collar-1-windows").children().len(), 3, "a window and two shades");
    let pages = crate::pdf::text(&folder.path().join("workbook.pdf"));
    let told = pages.join(" ").split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(told.contains("wing and beak share a window"), "{told}");
}
