//! The lines of the cut files, as an independent reader of SVG sees them and another draws them.

use crate::road::{EXAMPLES, plan_in, read, settings, written};
use piece::film::Weeding;
use resvg::tiny_skia;
use std::collections::BTreeSet;
use usvg::tiny_skia_path::PathSegment;
use usvg::{Node, Options, Tree};

/// CSS, values and units: 1 in is 25.4 mm and 96 px.
const MM_PER_PX: f64 = 25.4 / 96.0;

/// A closed line, mm.
pub type Ring = Vec<[f64; 2]>;

/// A group of a cut file.
pub struct Group {
    pub id: String,
    pub rings: Vec<Ring>,
}

/// The groups of a cut file with their lines. Fails on a line that is not closed.
pub fn groups(svg: &[u8]) -> Vec<Group> {
    let tree = Tree::from_data(svg, &Options::default()).expect("an SVG");
    let mut group = tree.root();
    // The reader wraps the groups in one that holds the transform to pixels.
    while let [Node::Group(inner)] = group.children()
        && inner.id().is_empty()
    {
        group = inner;
    }
    group
        .children()
        .iter()
        .map(|node| {
            let Node::Group(inner) = node else { panic!("{} is no group", node.id()) };
            let mut rings = Vec::new();
            for child in inner.children() {
                let Node::Path(path) = child else { panic!("{} holds no path", node.id()) };
                let data = path.data().clone().transform(path.abs_transform()).expect("a path");
                rings.extend(rings_of(&data, node.id()));
            }
            Group { id: node.id().to_owned(), rings }
        })
        .collect()
}

fn rings_of(data: &usvg::tiny_skia_path::Path, id: &str) -> Vec<Ring> {
    let mm =
        |p: usvg::tiny_skia_path::Point| [f64::from(p.x), f64::from(p.y)].map(|px| px * MM_PER_PX);
    let (mut rings, mut open): (Vec<Ring>, Option<Ring>) = (Vec::new(), None);
    for segment in data.segments() {
        match segment {
            PathSegment::MoveTo(to) => {
                assert!(open.is_none(), "{id}: a line is left open");
                open = Some(vec![mm(to)]);
            }
            PathSegment::LineTo(to)
            | PathSegment::QuadTo(_, to)
            | PathSegment::CubicTo(_, _, to) => {
                open.as_mut().expect("a beginning").push(mm(to));
            }
            PathSegment::Close => rings.extend(open.take()),
        }
    }
    assert!(open.is_none(), "{id}: a line is left open");
    rings
}

/// Whether a place lies inside lines, even-odd.
pub fn inside(rings: &[Ring], [x, y]: [f64; 2]) -> bool {
    let mut inside = false;
    for ring in rings {
        for (a, b) in ring.iter().zip(ring.iter().cycle().skip(1)) {
            if (a[1] > y) != (b[1] > y) && x < a[0] + (b[0] - a[0]) * (y - a[1]) / (b[1] - a[1]) {
                inside = !inside;
            }
        }
    }
    inside
}

/// Whether two sets of lines cross or one lies in the other.
pub fn meet(one: &[Ring], other: &[Ring]) -> bool {
    let bounds = |rings: &[Ring]| {
        rings.iter().flatten().fold([f64::MAX, f64::MAX, f64::MIN, f64::MIN], |b, p| {
            [b[0].min(p[0]), b[1].min(p[1]), b[2].max(p[0]), b[3].max(p[1])]
        })
    };
    let (a, b) = (bounds(one), bounds(other));
    if a[2] < b[0] || b[2] < a[0] || a[3] < b[1] || b[3] < a[1] {
        return false;
    }
    let edges = |rings: &[Ring]| -> Vec<([f64; 2], [f64; 2])> {
        let of = |ring: &Ring| -> Vec<_> {
            ring.iter().copied().zip(ring.iter().copied().cycle().skip(1)).collect()
        };
        rings.iter().flat_map(of).collect()
    };
    let side = |a: [f64; 2], b: [f64; 2], p: [f64; 2]| {
        (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])
    };
    let theirs = edges(other);
    let cross = edges(one).iter().any(|&(a, b)| {
        theirs.iter().any(|&(c, d)| {
            (side(a, b, c) > 0.0) != (side(a, b, d) > 0.0)
                && (side(c, d, a) > 0.0) != (side(c, d, b) > 0.0)
        })
    });
    cross || inside(other, one[0][0]) || inside(one, other[0][0])
}

/// No step of no length, nothing cut twice.
pub fn sound(groups: &[Group]) {
    let mut cut = BTreeSet::new();
    let steps = |[x, y]: [f64; 2]| ((x * 1000.0).round() as i64, (y * 1000.0).round() as i64);
    let knife = ["cut-", "weed-", "level-", "mark-"];
    for group in groups.iter().filter(|group| knife.iter().any(|word| group.id.starts_with(word))) {
        for ring in &group.rings {
            assert!(ring.len() > 2, "{}", group.id);
            for (a, b) in ring.iter().zip(ring.iter().cycle().skip(1)) {
                let (a, b) = (steps(*a), steps(*b));
                assert_ne!(a, b, "{}: a step of no length", group.id);
                assert!(cut.insert((a.min(b), a.max(b))), "{}: {a:?} to {b:?} twice", group.id);
            }
        }
    }
}

/// Area of the cut shapes as a renderer fills them, mm².
fn filled_mm2(svg: &[u8]) -> f64 {
    let text = std::str::from_utf8(svg).expect("UTF-8");
    // Only the cut groups, filled.
    let (mut kept, mut keeps) = (String::new(), true);
    for line in text.lines() {
        if line.starts_with("<g id=\"") {
            keeps = line.starts_with("<g id=\"cut-");
        }
        let part_of_group = line.starts_with("<path") || line.starts_with("<g ") || line == "</g>";
        if keeps || !part_of_group {
            let filled = "fill=\"#000000\" fill-rule=\"evenodd\" stroke=\"none\"";
            kept.push_str(
                &line.replace("fill=\"none\" stroke=\"#1d2a2c\" stroke-width=\"0.1\"", filled),
            );
            kept.push('\n');
        }
        if line == "</g>" {
            keeps = true;
        }
    }
    let tree = Tree::from_data(kept.as_bytes(), &Options::default()).expect("an SVG");
    let scale = 3.0_f32;
    let (width, height) = (tree.size().width() * scale, tree.size().height() * scale);
    let mut canvas =
        tiny_skia::Pixmap::new(width.ceil() as u32, height.ceil() as u32).expect("room");
    resvg::render(&tree, tiny_skia::Transform::from_scale(scale, scale), &mut canvas.as_mut());
    let covered: f64 = canvas.pixels().iter().map(|pixel| f64::from(pixel.alpha()) / 255.0).sum();
    covered * (MM_PER_PX / f64::from(scale)) * (MM_PER_PX / f64::from(scale))
}

#[test]
fn every_line_of_the_examples_is_closed_and_cut_once() {
    let mut files = 0;
    for (plan, folder) in EXAMPLES.iter() {
        for (colour, name) in piece::file_name::cut_files(&plan.piece) {
            let svg = read(folder.path(), &name);
            let groups = groups(&svg);
            sound(&groups);
            files += 1;
            // Sheets that are alike are drawn once.
            let cutting = &plan.coats.cutting.of_colour[&colour];
            let shown: f64 = cutting.sheets.iter().map(|sheet| sheet.film_mm2).sum();
            let filled = filled_mm2(&svg);
            assert!((filled / shown - 1.0).abs() < 0.01, "{name}: {filled} drawn, {shown} told");
        }
    }
    assert!(files >= 5, "{files}");
}

pub fn group<'a>(groups: &'a [Group], id: &str) -> &'a Group {
    let ids: Vec<&str> = groups.iter().map(|group| group.id.as_str()).collect();
    let found = groups.iter().find(|group| group.id.starts_with(id));
    found.unwrap_or_else(|| panic!("no {id} among {ids:?}"))
}

#[test]
fn film_cut_from_its_back_is_mirrored_and_says_so() {
    let notch = "art = { path = \"M0 0H30V12H20V6H0Z\"";
    let text = |more: &str| {
        include_str!("../pieces/reed-ring.toml")
            .replace("art = { path = \"M0 0H30V12H0Z\"", notch)
            .replace(
                "vinyl = { colour = \"reed\" }",
                &format!("vinyl = {{ colour = \"reed\"{more} }}"),
            )
    };
    let file = |more: &str| {
        let folder = written(&plan_in(&text(more), settings()));
        groups(&read(folder.path(), "cut-reed.svg"))
    };
    let (plain, mirrored) =
        (file(", turns = \"none\""), file(", turns = \"none\", mirrored = true"));
    let shape = |groups: &[Group]| group(groups, "cut-tile-").rings[0].clone();
    let (left, right) =
        shape(&plain).iter().fold((f64::MAX, f64::MIN), |b, p| (b.0.min(p[0]), b.1.max(p[0])));
    for place in shape(&mirrored) {
        let back = [left + right - place[0], place[1]];
        let near = |p: &[f64; 2]| (p[0] - back[0]).abs() < 0.002 && (p[1] - back[1]).abs() < 0.002;
        assert!(shape(&plain).iter().any(near), "{place:?}");
    }
    assert!(shape(&plain).iter().all(|place| {
        let there =
            |p: &[f64; 2]| (p[0] - place[0]).abs() < 0.002 && (p[1] - place[1]).abs() < 0.002;
        shape(&plain).iter().any(there)
    }));
    // The words above the sheet are longer by those that say it.
    let letters = |groups: &[Group]| group(groups, "note-1").rings.len();
    assert!(letters(&mirrored) > letters(&plain) + 30);
    let step = plan_in(&text(", mirrored = true"), settings()).steps.steps;
    assert!(step.iter().any(|step| step.how.join(" ").contains("mirrored already")));
}

#[test]
fn lines_to_weed_inside_are_as_the_studio_wants_them() {
    let text = include_str!("../pieces/reed-ring.toml").replace(
        "art = { path = \"M0 0H30V12H0Z\"",
        "art = { path = \"M0 0H30V3H0ZM5 11H12V14H5Z\"",
    );
    let lines = |weeding: Weeding| {
        let mut settings = settings();
        settings.vinyl.weeding = weeding;
        let folder = written(&plan_in(&text, settings));
        let groups = groups(&read(folder.path(), "cut-reed.svg"));
        sound(&groups);
        let cut = group(&groups, "cut-tile-");
        let frames: Vec<&Group> =
            groups.iter().filter(|group| group.id.starts_with("weed-")).collect();
        for frame in &frames {
            let held = |ring: &Ring| {
                frame
                    .rings
                    .iter()
                    .any(|line| ring.iter().all(|&p| inside(std::slice::from_ref(line), p)))
            };
            assert!(cut.rings.iter().all(held), "each shape lies whole in one of the lines");
        }
        frames.first().map_or(0, |frame| frame.rings.len())
    };
    assert_eq!(lines(Weeding::Outline), 1);
    assert_eq!(lines(Weeding::Box), 1);
    // Between the bar and the square below lie 8 mm without film.
    assert_eq!(lines(Weeding::Strips), 2);
    assert_eq!(lines(Weeding::None), 0);
}
