//! The pages of the handbook on price and records say what the files hold.

use crate::price::HEAD;
use crate::room::{CUP, Room};
use std::fs;
use std::path::Path;

fn page(name: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs/handbook").join(name);
    fs::read_to_string(path).expect("a page of the handbook")
}

#[test]
fn the_handbook_explains_every_column_line_and_key() {
    let (price, records) = (page("price.md"), page("records.md"));
    for column in piece::RECORD_COLUMNS {
        assert!(records.contains(&format!("`{column}`")), "{column}");
    }
    let room = Room::new();
    room.write("cup.toml", CUP);
    room.write("records.csv", format!("{HEAD}\n2027-03-01,Marsh cup,set,SS30,300,120,,,,\n"));
    for command in ["price", "after"] {
        let args = [command, "cup.toml", "--records", "records.csv", "--out", command, "--quiet"];
        room.run(&args).ended(0, &[]);
    }
    for (page, file) in [
        (&price, "price/batch.csv"),
        (&records, "price/learned.csv"),
        (&records, "after/learned.csv"),
        (&records, "after/after.csv"),
    ] {
        let table = fs::read_to_string(room.path(file)).expect("a table");
        let (_, name) = file.split_once('/').expect("a folder");
        let section = page.split("\n## ").find(|section| section.starts_with(&format!("{name}\n")));
        let section = section.unwrap_or_else(|| panic!("no section on {name}"));
        for column in table.lines().next().expect("a head").split(',') {
            assert!(section.contains(&format!("`{column}`")), "{file}: {column}");
        }
    }
    let files = page("output-files.md");
    let section = files.split("\n## ").find(|section| section.starts_with("price.csv\n"));
    let section = section.expect("a section on price.csv");
    let table = fs::read_to_string(room.path("price/price.csv")).expect("a table");
    for line in table.lines().skip(1) {
        let name = line.split(',').next().expect("a line");
        let prefixes = ["floor_", "fair_", "rule_average_", "rule_half_"];
        let plain = prefixes.iter().find_map(|prefix| name.strip_prefix(prefix)).unwrap_or(name);
        let known = ["floor", "fair", "rule_average", "rule_half"].contains(&name);
        assert!(known || section.contains(&format!("`{plain}`")), "{name}");
    }
    let ran = Room::new().run(&["schema", "studio"]);
    let schema: serde_json::Value = serde_json::from_str(&ran.stdout).expect("JSON");
    let mut keys = 0;
    for table in ["PricingFile", "ChannelFile", "TaxFile"] {
        let properties = schema["$defs"][table]["properties"].as_object();
        for key in properties.expect("a table").keys() {
            keys += 1;
            let told =
                [format!("`{key}`"), format!("`[[pricing.{key}]]`"), format!("`[pricing.{key}]`")];
            assert!(told.iter().any(|form| price.contains(form)), "{key} is not explained");
        }
    }
    assert!(keys > 15, "{keys}");
}
