//! The tables, read back by a CSV reader.

use crate::bench::many;
use crate::fixture::{SMALL, SMALL_FOLDER, written};
use jiff::Timestamp;
use piece::settings::Paper;
use std::collections::BTreeMap;
use std::path::Path;

/// Rows by column.
fn rows(folder: &Path, name: &str) -> Vec<BTreeMap<String, String>> {
    let mut reader = csv::Reader::from_path(folder.join(name)).expect("a table");
    let header = reader.headers().expect("a header").clone();
    let row = |row: csv::StringRecord| {
        header.iter().map(str::to_owned).zip(row.iter().map(str::to_owned)).collect()
    };
    reader.records().map(|record| row(record.expect("a row as long as the header"))).collect()
}

#[test]
fn every_sitting_is_a_row_with_its_moments() {
    let rows = rows(SMALL_FOLDER.path(), "timetable.csv");
    assert_eq!(rows.len(), SMALL.sittings.len());
    let moment = |text: &str| text.parse::<Timestamp>().expect("ISO 8601 with an offset");
    for (row, sitting) in rows.iter().zip(&SMALL.sittings) {
        assert_eq!((moment(&row["begins"]), moment(&row["ends"])), sitting.at);
        assert_eq!(row["step"], sitting.step);
        assert_eq!(row["why"], sitting.why);
        assert_eq!(row["title"], SMALL.orders[sitting.order].title);
        let until = sitting.turning.as_ref().map(|(_, until)| *until);
        assert_eq!(
            (!row["turning_until"].is_empty()).then(|| moment(&row["turning_until"])),
            until
        );
        let maker = sitting.maker.map_or("", |maker| &SMALL.makers[maker].name);
        assert_eq!(row["maker"], maker);
    }
    assert_eq!((&*rows[2]["spindle"], &*rows[2]["mix"], &*rows[0]["fixed"]), ("2 3", "1", "yes"));
}

#[test]
fn times_are_those_of_the_clock_on_the_wall_before_and_after_it_changes() {
    // Summer time begins on the last Sunday of March, 28 March 2027 (Directive 2000/84/EC, article 2;
    // the United Kingdom keeps the same day: Summer Time Act 1972, section 1).
    let rows = rows(SMALL_FOLDER.path(), "timetable.csv");
    assert_eq!(rows[4]["begins"], "2027-03-26T13:00:00+00:00");
    assert_eq!(rows[5]["begins"], "2027-03-29T13:00:00+01:00");
    assert_eq!(rows[5]["minutes"], "120");
}

#[test]
fn every_order_is_a_row_and_the_late_one_is_told() {
    let rows = rows(SMALL_FOLDER.path(), "orders.csv");
    let late: Vec<_> = rows.iter().map(|row| (&*row["order"], &*row["late_min"])).collect();
    // From Tuesday to Wednesday at the same hour: a day.
    assert_eq!(late, [("heron", "0"), ("regatta-pair", "1440")]);
    assert_eq!((&*rows[0]["chance"], &*rows[1]["chance"]), ("0.800", ""));
    assert_eq!(rows[0]["due"], "2027-04-03");
}

#[test]
fn the_handbook_explains_every_file_and_column() {
    let page = include_str!("../../../../docs/handbook/timetable-files.md");
    for name in ["timetable.csv", "orders.csv"] {
        let section = page.split("\n## ").find(|section| section.starts_with(name));
        let section = section.unwrap_or_else(|| panic!("no section on {name}"));
        let mut reader = csv::Reader::from_path(SMALL_FOLDER.path().join(name)).expect("a table");
        for column in reader.headers().expect("a header") {
            assert!(section.contains(&format!("`{column}`")), "{name}: {column}");
        }
    }
    for name in ["calendar-MAKER.ics", "chart.svg", "chart.png", "chart.pdf", "this-week.pdf"] {
        assert!(page.contains(name), "{name}");
    }
}

#[test]
fn the_same_plan_gives_the_same_bytes() {
    let (one, other) = (written(&SMALL, Paper::A4), written(&SMALL, Paper::A4));
    for entry in std::fs::read_dir(one.path()).expect("a folder") {
        let name = entry.expect("a file").file_name();
        let read = |folder: &Path| std::fs::read(folder.join(&name)).expect("a file");
        assert!(read(one.path()) == read(other.path()), "{name:?}");
    }
}

#[test]
fn nobody_is_in_two_places_in_the_longer_timetables() {
    // What the other tests count in them rests on it.
    let rota = many(12, 3, 2);
    for maker in 0..2 {
        let mut at: Vec<_> = rota
            .sittings
            .iter()
            .filter(|sitting| sitting.maker == Some(maker))
            .map(|sitting| sitting.at)
            .collect();
        at.sort();
        assert!(at.windows(2).all(|pair| pair[0].1 <= pair[1].0));
        assert!(at.len() > 20);
    }
}
