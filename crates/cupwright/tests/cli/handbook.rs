//! The handbook says what the program does.

use crate::room::{Room, arg, example, names};
use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

fn page(name: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs/handbook").join(name);
    fs::read_to_string(path).expect("a page of the handbook")
}

#[test]
fn every_file_and_every_column_of_a_plan_is_explained() {
    let room = Room::new();
    room.run(&["plan", arg(&example("heron-low-tide.toml")), "--out", "out"]).ended(0, &[]);
    let page = page("output-files.md");
    for name in names(&room.path("out")) {
        let heading = match name.as_str() {
            wrap if wrap.starts_with("wrap-") && wrap.ends_with(".pdf") => {
                "wrap-PART.pdf".to_owned()
            }
            wrap if wrap.starts_with("wrap-") => "wrap-PART.svg".to_owned(),
            collar if collar.starts_with("collar-") && collar.ends_with(".pdf") => {
                "collar-PART.pdf".to_owned()
            }
            collar if collar.starts_with("collar-") => "collar-PART.svg".to_owned(),
            cut if cut.starts_with("cut-") => "cut-COLOUR.svg".to_owned(),
            _ => name.clone(),
        };
        let section =
            page.split("\n## ").find(|section| section.starts_with(&format!("{heading}\n")));
        let section = section.unwrap_or_else(|| panic!("no section on {name}"));
        if name.ends_with(".csv") {
            let table = fs::read_to_string(room.path("out").join(&name)).expect("table");
            for column in table.lines().next().expect("a header").split(',') {
                assert!(section.contains(&format!("`{column}`")), "{name}: {column}");
            }
        }
    }
}

#[test]
fn every_key_of_a_piece_file_is_explained() {
    let ran = Room::new().run(&["schema", "piece"]);
    let schema = serde_json::from_str(&ran.stdout).expect("JSON");
    let mut keys = BTreeSet::new();
    gather(&schema, &mut keys);
    assert!(keys.len() > 40, "{keys:?}");
    // The numbers of motifs stand where motifs are told of.
    let page = page("piece-file.md") + &page("art-and-lettering.md");
    for key in keys {
        let explained = [format!("`{key}`"), format!("{key} = "), format!("`{key} =")];
        assert!(
            explained.iter().any(|form| page.contains(form.as_str())),
            "{key} is not explained"
        );
    }
}

#[test]
fn every_key_of_an_hours_file_is_explained() {
    let ran = Room::new().run(&["schema", "hours"]);
    let schema: serde_json::Value = serde_json::from_str(&ran.stdout).expect("JSON");
    let mut keys = BTreeSet::new();
    gather(&schema, &mut keys);
    // Those of the studio file's hours are explained there.
    assert!(keys.len() > 30, "{keys:?}");
    let page = page("timetable.md");
    for key in keys {
        let forms = [format!("`{key}`"), format!("`[{key}]`"), format!("`[[{key}]]`")];
        let explained = forms.iter().any(|form| page.contains(form.as_str()));
        let weekday = key.ends_with("day") && page.contains("`monday` to `sunday`");
        let in_extra = page.contains(&format!("{key} = "));
        assert!(explained || weekday || in_extra, "{key} is not explained");
    }
}

#[test]
fn every_key_of_a_resin_and_its_scale_is_explained() {
    let ran = Room::new().run(&["schema", "studio"]);
    let schema: serde_json::Value = serde_json::from_str(&ran.stdout).expect("JSON");
    let mut keys = BTreeSet::new();
    for table in ["ResinProductFile", "ScaleFile"] {
        gather(&schema["$defs"][table], &mut keys);
    }
    assert!(keys.len() > 20, "{keys:?}");
    let page = page("resin.md");
    for key in keys {
        assert!(page.contains(&format!("`{key}`")), "{key} is not explained");
    }
}

#[test]
fn every_key_of_a_stock_and_a_sellers_file_is_explained() {
    for (kind, name) in [("stock", "stock.md"), ("sellers", "buying.md")] {
        let ran = Room::new().run(&["schema", kind]);
        let schema: serde_json::Value = serde_json::from_str(&ran.stdout).expect("JSON");
        let mut keys = BTreeSet::new();
        gather(&schema, &mut keys);
        assert!(keys.len() > 15, "{keys:?}");
        // How goods are told is told once, where stock is.
        let page = page(name) + &page("stock.md");
        for key in keys {
            let forms = [format!("`{key}`"), format!("`[{key}]`"), format!("`[[{key}]]`")];
            let explained = forms.iter().any(|form| page.contains(form.as_str()));
            assert!(explained, "{kind}: {key} is not explained");
        }
    }
}

#[test]
fn every_file_and_every_column_of_an_order_is_explained() {
    let room = Room::new();
    let (piece, sellers) = (example("frost-lid.toml"), example("sellers.toml"));
    let ran =
        room.run(&["buy", arg(&piece), "--sellers", arg(&sellers), "--out", "out", "--quiet"]);
    ran.ended(1, &[]);
    let page = page("buying.md");
    for name in names(&room.path("out")).iter().filter(|name| name.ends_with(".csv")) {
        let heading = if name.starts_with("order-") { "order-SELLER.csv" } else { name.as_str() };
        let section =
            page.split("\n## ").find(|section| section.starts_with(&format!("{heading}\n")));
        let section = section.unwrap_or_else(|| panic!("no section on {name}"));
        let table = fs::read_to_string(room.path("out").join(name)).expect("table");
        for column in table.lines().next().expect("a header").split(',') {
            assert!(section.contains(&format!("`{column}`")), "{name}: {column}");
        }
    }
}

/// Names of all properties in a schema.
fn gather(schema: &serde_json::Value, keys: &mut BTreeSet<String>) {
    match schema {
        serde_json::Value::Object(object) => {
            if let Some(serde_json::Value::Object(properties)) = object.get("properties") {
                keys.extend(properties.keys().cloned());
            }
            object.values().for_each(|inner| gather(inner, keys));
        }
        serde_json::Value::Array(list) => list.iter().for_each(|inner| gather(inner, keys)),
        _ => {}
    }
}

#[test]
fn the_piece_in_the_handbook_can_be_made() {
    let room = Room::new();
    let page = page("piece-file.md");
    let piece =
        page.split("```toml\n").nth(1).and_then(|rest| rest.split("```").next()).expect("a piece");
    room.write("piece.toml", piece);
    let ran = room.run(&["check", "piece.toml"]);
    ran.ended(0, &[]);
    assert_eq!(ran.stderr, "");
}
