//! The chart, read back as a drawing.

use crate::bench::many;
use crate::fixture::{SMALL, SMALL_FOLDER, text, written};
use piece::settings::Paper;
use std::collections::BTreeSet;
use usvg::{Options, Tree};

/// Names and titles of all groups, in order.
pub fn groups(svg: &str) -> Vec<(String, String)> {
    let groups = svg.split("<g id=\"").skip(1);
    groups
        .map(|group| {
            let (id, rest) = group.split_once('"').expect("an end of the name");
            let title =
                rest.split_once("<title>").and_then(|(_, rest)| rest.split_once("</title>"));
            (id.to_owned(), title.map_or_else(String::new, |(title, _)| title.to_owned()))
        })
        .collect()
}

#[test]
fn every_sitting_has_an_element_of_its_own() {
    for (rota, orders) in [(SMALL.clone(), 2), (many(3, 3, 2), 3), (many(30, 2, 3), 30)] {
        let folder = written(&rota, Paper::Letter);
        let svg = text(folder.path(), "chart.svg");
        let groups = groups(&svg);
        let ids: BTreeSet<_> = groups.iter().map(|(id, _)| id.as_str()).collect();
        assert_eq!(ids.len(), groups.len(), "names are unique");
        for (index, sitting) in rota.sittings.iter().enumerate() {
            let id = format!("sitting-{}", index + 1);
            let (_, title) = groups.iter().find(|(found, _)| *found == id).expect(&id);
            assert!(title.contains(&sitting.step), "{title}");
            if let Some(maker) = sitting.maker {
                assert!(title.contains(&rota.makers[maker].name), "{title}");
            }
        }
        let rows = |word: &str| ids.iter().filter(|id| id.contains(word)).count();
        assert!(rows("-order-") >= orders);
        assert!(rows("-maker-1") > 0 && rows("-spindle-1") > 0);
        let tree = Tree::from_str(&svg, &Options::default()).expect("a drawing");
        // As wide as Letter paper lies, without the margins of the pages but with an edge: 279.4 - 24 +
        // 18 mm; 96 units to the inch (CSS Values 3, 5.2).
        let wide_mm = f64::from(tree.size().width()) * 25.4 / 96.0;
        assert!((wide_mm - 273.4).abs() < 0.01, "{wide_mm}");
    }
}

#[test]
fn the_picture_shows_the_whole_drawing() {
    let folder = SMALL_FOLDER.path();
    let tree = Tree::from_str(&text(folder, "chart.svg"), &Options::default()).expect("a drawing");
    let picture = image::open(folder.join("chart.png")).expect("a picture");
    let shape = f64::from(tree.size().width() / tree.size().height());
    let found = f64::from(picture.width()) / f64::from(picture.height());
    assert!((found / shape - 1.0).abs() < 0.01, "{found} {shape}");
    // The late order has a dark plate: white letters on ink beside its name.
    let inked = picture.to_rgb8().pixels().filter(|pixel| pixel.0 == [0x1d, 0x2a, 0x2c]).count();
    assert!(inked > 1000, "{inked}");
}

#[test]
fn late_orders_say_so_in_words_of_their_own() {
    let mut on_time = SMALL.clone();
    on_time.orders[1].leave_by = Some(on_time.orders[1].leaves);
    let count = |rota| {
        let folder = written(rota, Paper::A4);
        // Dark plates are rectangles of ink; nothing else is.
        text(folder.path(), "chart.svg").matches("fill=\"#1d2a2c\" fill-rule=\"evenodd\"").count()
    };
    assert!(count(&SMALL) > count(&on_time));
}
