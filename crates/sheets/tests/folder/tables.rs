//! Tables: columns as the design fixes them, and counts that agree with the plan.

use crate::road::{REED_RING, bytes, text};
use csv::{Reader, StringRecord};

fn rows(name: &str) -> (Vec<String>, Vec<StringRecord>) {
    let data = bytes(name);
    let mut reader = Reader::from_reader(data.as_slice());
    let header = reader.headers().expect("a header").iter().map(str::to_owned).collect();
    (header, reader.records().map(|row| row.expect("a row as long as the header")).collect())
}

fn number(row: &StringRecord, column: usize) -> f64 {
    row[column].parse().unwrap_or_else(|_| panic!("{:?} is no number", &row[column]))
}

#[test]
fn stones_csv_has_a_row_for_each_stone_in_setting_order() {
    let (header, rows) = rows("stones.csv");
    // Columns: the design, "Files".
    let columns =
        "part,zone,patch,row,size,diameter_mm,colour,x_mm,y_mm,z_mm,nx,ny,nz,around_mm,along_mm";
    assert_eq!(header.join(","), columns);
    assert_eq!(rows.len(), REED_RING.stones.stones.len());
    assert!(rows.len() > 150);
    for (row, stone) in rows.iter().zip(&REED_RING.stones.stones) {
        assert_eq!(number(row, 2) as u32, stone.patch);
        for (column, value) in
            [(7, stone.centre_mm.x), (8, stone.centre_mm.y), (9, stone.centre_mm.z)]
        {
            assert!((number(row, column) - value).abs() <= 0.0005);
        }
        let normal: f64 = (10..13).map(|column| number(row, column) * number(row, column)).sum();
        assert!((normal - 1.0).abs() < 1e-4, "a normal of length {normal}");
    }
}

#[test]
fn zones_csv_agrees_with_the_stones() {
    let (header, rows) = rows("zones.csv");
    assert_eq!(header.join(","), "part,zone,layout,area_mm2,stones,coverage,effective_coverage");
    assert_eq!(rows.len(), 1);
    let count = REED_RING.stones.stones.len() as f64;
    assert_eq!(number(&rows[0], 4), count);
    // Circles of 3.9 mm (SS16 in sellers' size charts) over the area.
    let circles = count * std::f64::consts::PI * 3.9 * 3.9 / 4.0;
    assert!((number(&rows[0], 5) - circles / number(&rows[0], 3)).abs() < 2e-4);
}

#[test]
fn coats_steps_bill_and_price_have_a_row_for_each_thing() {
    let plan = &*REED_RING;
    assert_eq!(rows("coats.csv").1.len(), plan.coats.coats.len());
    assert_eq!(rows("steps.csv").1.len(), plan.steps.steps.len());
    assert_eq!(rows("bill.csv").1.len(), plan.bill.lines.len());
    // Each line stands there once.
    let names: Vec<String> = rows("price.csv").1.iter().map(|row| row[0].to_string()).collect();
    for name in ["materials", "cost", "asked", "fees", "margin", "earned_per_h", "floor", "fair"] {
        assert_eq!(names.iter().filter(|known| *known == name).count(), 1, "{name}");
    }
    let (_, steps) = rows("steps.csv");
    let sittings: f64 = steps.iter().map(|row| number(row, 11)).sum();
    let timetable = plan.timetable.as_ref().expect("a timetable");
    assert_eq!(sittings as usize, timetable.sittings.len());
}

#[test]
fn tables_are_as_rfc_4180_says() {
    for name in ["stones.csv", "zones.csv", "coats.csv", "steps.csv", "bill.csv", "price.csv"] {
        let text = text(name);
        assert!(text.ends_with("\r\n"), "{name}");
        assert_eq!(text.matches('\n').count(), text.matches("\r\n").count(), "{name}");
        assert!(!text.contains("-0.000,"), "{name}");
    }
}

#[test]
fn summary_json_counts_what_the_tables_list() {
    let summary: serde_json::Value = serde_json::from_str(&text("summary.json")).expect("JSON");
    let count = REED_RING.stones.stones.len();
    assert_eq!(summary["stones"]["count"], count);
    let by_colour = summary["stones"]["by_colour"].as_object().expect("counts");
    let sum: u64 = by_colour.values().map(|count| count.as_u64().expect("a count")).sum();
    assert_eq!(sum as usize, count);
    assert_eq!(summary["coats"]["resin_coats"], 2);
    assert_eq!(summary["demo"], true);
}
