//! Wraps and cut files measured with a reference SVG reader (usvg), in mm, to 0.1 mm or better.

use crate::road::{REED_FOLDER, REED_RING, TAPER, read, written};
use std::f64::consts::PI;
use usvg::{Group, Node, Options, Tree};

/// CSS, values and units: 1 in is 25.4 mm and 96 px.
const MM_PER_PX: f64 = 25.4 / 96.0;

pub fn tree(bytes: &[u8]) -> Tree {
    Tree::from_data(bytes, &Options::default()).expect("an SVG")
}

pub fn group<'a>(tree: &'a Tree, id: &str) -> &'a Group {
    match tree.node_by_id(id) {
        Some(Node::Group(group)) => group,
        other => panic!("no group {id}: {other:?}"),
    }
}

/// Width and height of a node without its stroke, mm.
fn size_mm(node: &Node) -> (f64, f64) {
    let bounds = node.abs_bounding_box();
    (f64::from(bounds.width()) * MM_PER_PX, f64::from(bounds.height()) * MM_PER_PX)
}

pub fn near(found: f64, expected: f64, within: f64, what: &str) {
    assert!((found - expected).abs() <= within, "{what}: {found} mm, not {expected} mm");
}

#[test]
fn a_cylinder_unrolls_to_its_girth_and_its_wall() {
    let tree = tree(&read(REED_FOLDER.path(), "wrap-body.svg"));
    let border = size_mm(&group(&tree, "band").children()[0]);
    // Girth of a circle of 35 mm radius.
    near(border.0, 2.0 * PI * 35.0, 0.02, "girth");
    let cut = size_mm(&group(&tree, "band").children()[2]);
    near(cut.1, 80.0, 0.02, "wall");
}

#[test]
fn a_zone_is_as_wide_as_the_cup_has_grown() {
    let tree = tree(&read(REED_FOLDER.path(), "wrap-body.svg"));
    let zone = REED_RING.shape.zones.last().expect("the ring of stones");
    // Two coats of resin of 0.2 mm and the paint beneath.
    assert!(zone.below_mm > 0.4, "{}", zone.below_mm);
    let bounds = group(&tree, "zone-ring").abs_bounding_box();
    let width = f64::from(bounds.width()) * MM_PER_PX;
    let height = f64::from(bounds.height()) * MM_PER_PX;
    near(width, 2.0 * PI * (35.0 + zone.below_mm), 0.05, "grown girth");
    near(height, 15.0, 0.02, "band from 50 to 65 mm");
}

#[test]
fn stones_are_circles_of_their_diameter_inside_their_zone() {
    let tree = tree(&read(REED_FOLDER.path(), "wrap-body.svg"));
    let circles = group(&tree, "ring-stones").children();
    assert_eq!(circles.len(), REED_RING.stones.stones.len());
    for circle in circles {
        let (width, height) = size_mm(circle);
        // SS16: 3.9 mm, sellers' size charts.
        near(width, 3.9, 0.01, "stone");
        near(height, 3.9, 0.01, "stone");
    }
    let letters = group(&tree, "ring-letters").children();
    assert_eq!(letters.len(), circles.len(), "every stone of 3.9 mm carries its letter");
}

#[test]
fn a_cone_unrolls_to_the_sector_of_its_closed_form() {
    let folder = written(&TAPER);
    let tree = tree(&read(folder.path(), "wrap-body.svg"));
    // A cone of slant distance rho from the apex and sine s of half its opening angle unrolls to a
    // sector of radius rho and angle 2 pi s (handbook formula for the lateral surface of a cone), so
    // its rim, over less than half a turn, is 2 rho sin(pi s) wide and rho (1 - cos(pi s)) high.
    let (rim, foot, wall) = (276.0 / (2.0 * PI), 212.0 / (2.0 * PI), 168.0);
    let s = (rim - foot) / wall;
    let children = group(&tree, "band").children();
    for (node, radius) in children[..2].iter().zip([rim, foot]) {
        let (width, height) = size_mm(node);
        let rho = radius / s;
        near(width, 2.0 * rho * libm::sin(PI * s), 0.05, "parallel across");
        near(height, rho * (1.0 - libm::cos(PI * s)), 0.05, "parallel's rise");
    }
    let (across, down) = size_mm(&children[2]);
    near(libm::hypot(across, down), wall, 0.02, "generator");
}

#[test]
fn the_check_ruler_is_50_mm_and_2_in_long() {
    let tree = tree(&read(REED_FOLDER.path(), "wrap-body.svg"));
    let ruler = group(&tree, "check-ruler").children();
    near(size_mm(&ruler[0]).0, 50.0, 0.01, "50 mm");
    near(size_mm(&ruler[2]).0, 50.8, 0.01, "2 in");
}

#[test]
fn film_across_the_back_is_cut_in_one_piece_on_the_grown_cup() {
    let text = read(REED_FOLDER.path(), "cut-reed.svg");
    let tree = tree(&text);
    let cut = group(&tree, "cut-tile-1");
    assert_eq!(cut.children().len(), 1, "one shape");
    let (width, height) = size_mm(&cut.children()[0]);
    // Drawn 30 mm wide on the bare cup of 35 mm radius; by then the girth has grown in proportion.
    let below_mm = REED_RING.shape.zones[2].below_mm;
    near(width, 30.0 * (35.0 + below_mm) / 35.0, 0.05, "film across");
    near(height, 12.0, 0.05, "film down");
    let frame = size_mm(&group(&tree, "weed-tile-1").children()[0]);
    near(frame.0, width + 8.0, 0.02, "frame across");
    let text = String::from_utf8(text).expect("UTF-8");
    assert!(!text.contains("<circle") && !text.contains("transform") && !text.contains("<text"));
    let paths = text.lines().filter(|line| line.starts_with("<path"));
    for path in paths {
        assert!(path.contains("Z\"/>"), "closed: {path}");
    }
}
