//! Layers of one art: films that are laid on each other by their crosses.

use crate::cut_lines::{Group, Ring, group, groups, inside, meet, sound};
use crate::road::{plan_in, read, settings, written};

/// A square in two films: one with a square hole, and one beneath it.
fn layers(place: &str, join: &str, more: &str) -> String {
    format!(
        "[[zone]]\nname = \"under\"\npart = \"body\"\n\
         art = {{ path = \"M0 0H24V24H0Z\", {place} }}\nvinyl = {{ colour = \"foam\"{more} }}\n\n\
         [[zone]]\nname = \"over\"\npart = \"body\"\n\
         art = {{ path = \"M0 0H24V24H0ZM8 8V16H16V8Z\", {place} }}\n\
         vinyl = {{ colour = \"reed\"{join}{more} }}\n\n"
    )
}

/// They on the small cylinder.
fn two_layers(join: &str, more: &str) -> String {
    let place = "width = \"24 mm\", along = \"46 mm\", around = \"40 deg\"";
    let seal = "[[zone]]\nname = \"seal\"";
    let text = include_str!("../pieces/reed-ring.toml");
    text.replacen(seal, &format!("{}{seal}", layers(place, join, more)), 1)
}

fn middle(ring: &Ring) -> [f64; 2] {
    let n = ring.len() as f64;
    [ring.iter().map(|p| p[0]).sum::<f64>() / n, ring.iter().map(|p| p[1]).sum::<f64>() / n]
}

/// Places of a group as seen from its three crosses: along the line between the two left ones, and
/// across it.
fn from_crosses(groups: &[Group], zone: &str) -> (Vec<[f64; 2]>, Vec<[f64; 2]>) {
    let marks = &group(groups, &format!("mark-{zone}-")).rings;
    assert_eq!(marks.len(), 3, "three crosses");
    let [a, b, c] = [0, 1, 2].map(|index| middle(&marks[index]));
    let (length, way) = {
        let way = [b[0] - a[0], b[1] - a[1]];
        let length = libm::hypot(way[0], way[1]);
        (length, [way[0] / length, way[1] / length])
    };
    let seen = |[x, y]: [f64; 2]| {
        let (x, y) = (x - a[0], y - a[1]);
        [x * way[0] + y * way[1], way[0] * y - way[1] * x]
    };
    let cut = group(groups, &format!("cut-{zone}-")).rings.iter().flatten().map(|&p| seen(p));
    (vec![[0.0, 0.0], [length, 0.0], seen(c)], cut.collect())
}

/// Both films of a plan laid on each other by their crosses: these meet, and so does what is left beneath,
/// edge to edge the square in the hole of the upper film. Checks it, and gives the groups of both.
fn met(plan: &sheets::Plan) -> [Vec<Group>; 2] {
    let folder = written(plan);
    let [under, over] =
        ["foam", "reed"].map(|colour| groups(&read(folder.path(), &format!("cut-{colour}.svg"))));
    let ((marks, inner), (others, outer)) =
        (from_crosses(&under, "under"), from_crosses(&over, "over"));
    let apart = |a: [f64; 2], b: [f64; 2]| libm::hypot(a[0] - b[0], a[1] - b[1]);
    for (one, other) in marks.iter().zip(&others) {
        assert!(apart(*one, *other) < 0.02, "{marks:?} {others:?}");
    }
    // What is left beneath, edge to edge, is the square in the hole of the upper film.
    assert!(!inner.is_empty());
    for place in &inner {
        let nearest = outer.iter().map(|other| apart(*place, *other)).fold(f64::MAX, f64::min);
        assert!(nearest < 0.02, "{place:?} lies {nearest} mm from the other film");
    }
    [under, over]
}

#[test]
fn layers_of_one_art_meet_when_their_crosses_do() {
    let plan = plan_in(&two_layers(", join = \"butt\"", ""), settings());
    let [under, over] = met(&plan);
    // Outside the art, inside the line to weed inside, clear of it all.
    for (groups, zone) in [(&under, "under"), (&over, "over")] {
        let (marks, frame) =
            (group(groups, &format!("mark-{zone}-")), group(groups, &format!("weed-{zone}-")));
        let cut = group(groups, &format!("cut-{zone}-"));
        for mark in &marks.rings {
            assert!(mark.iter().all(|&place| inside(&frame.rings, place)));
            assert!(!meet(std::slice::from_ref(mark), &cut.rings));
        }
        sound(groups);
    }
    let without = plan_in(&two_layers(", join = \"butt\"", ", registration = false"), settings());
    let folder = written(&without);
    let groups = groups(&read(folder.path(), "cut-foam.svg"));
    assert!(groups.iter().all(|group| !group.id.starts_with("mark-")));
}

/// A ball of 45 mm radius but for its ends: there each layer would have a form of its own, and the crosses
/// of one would not meet those of the other.
#[test]
fn layers_of_one_art_meet_on_a_ball_too() {
    let measure = |step: u32| {
        let along = 5.0 * f64::from(step);
        let radius = 45.0 * libm::cos((along - 55.0) / 45.0);
        format!("{{ along = \"{along} mm\", radius = \"{radius:.5} mm\", run = \"smooth\" }}")
    };
    let wall = (0..=22).map(measure).collect::<Vec<_>>().join(", ");
    let place = "width = \"24 mm\", along = \"45 mm\"";
    let text = format!(
        "cupwright = 1\ntitle = \"Ball\"\n[colours]\n\"reed\" = \"#5d7a2e\"\n\"foam\" = \"#e8eef0\"\n\
         [[part]]\nname = \"body\"\nrevolved = [ {wall} ]\n{}",
        layers(place, ", join = \"butt\"", "")
    );
    let plan = plan_in(&text, settings());
    met(&plan);
    // In the form that they have in common both strain as one film does, and no more than film bears.
    let strains: Vec<f64> = plan
        .coats
        .films
        .iter()
        .map(|film| film.lie.expect("it is strained").strain.taut())
        .collect();
    assert!(strains.iter().all(|taut| (0.001..0.05).contains(taut)), "{strains:?}");
}
