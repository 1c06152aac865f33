//! Records files: what they say, and what is wrong with them, by line and column.

use piece::hours::Craft;
use piece::records::{Logged, Material};
use piece::{RECORD_COLUMNS, Reading, Records, Source, read_records};

fn read(text: &str) -> Reading<Records> {
    read_records(&Source::new("records.csv", text))
}

/// The message of the only complaint, with its place, and its hint.
fn complaint(text: &str) -> (String, (usize, usize), String) {
    let source = Source::new("records.csv", text);
    let reading = read_records(&source);
    assert!(reading.value.is_none());
    assert_eq!(reading.diagnostics.len(), 1, "{:?}", reading.diagnostics);
    let one = &reading.diagnostics[0];
    let place = one.span.as_ref().map_or((0, 0), |span| source.line_and_column(span.start));
    (one.message.clone(), place, one.hints.join(" "))
}

const TEXT: &str = "\u{feff}day,piece,step,part,zone,size,layout,pieces,count,set_ups,minutes,outcome,material,planned,used,note\r\n\
2027-03-01,\"Heron, second\",sand,body,,,,2,,,41.5,,,,,made up\r\n\
,,,,,,,,,,,,,,,\r\n\
2027-03-02,Heron,set,body,tide,SS6+SS10,scatter,,240+600,2,190,fine,,,,\r\n\
2027-03-03,Heron,pour,body,,,,,3,1,75,failed,,,,\r\n\
2027-03-04,Heron,,,,,,,,,,,resin,48.2,61,\r\n";

#[test]
fn a_table_of_a_spreadsheet_is_read() {
    let records = read(TEXT).value.expect("records");
    assert_eq!(records.lines.len(), 4);
    let steps: Vec<_> = records.steps().collect();
    assert_eq!((steps[0].craft, steps[0].pieces, steps[0].count), (Craft::Sand, 2, 2));
    assert_eq!(steps[0].minutes, 41.5);
    let stones = [("SS6".to_owned(), 240), ("SS10".to_owned(), 600)];
    assert_eq!(steps[1].stones, stones);
    assert_eq!((steps[1].count, steps[1].set_ups, steps[1].layout), (840, 2, Some("scatter")));
    assert!(steps[2].failed && !steps[1].failed && steps[2].count == 3);
    let resin: Vec<_> = records.of_material(Material::Resin).collect();
    assert_eq!((resin[0].planned, resin[0].used), (48.2, 61.0));
    assert_eq!(records.of("Heron, second").count(), 1);
    assert_eq!(records.lines[1].line, 4);
    assert_eq!(records.lines[1].zone.as_deref(), Some("tide"));
    assert!(matches!(records.lines[3].logged, Logged::Material(_)));
}

#[test]
fn columns_may_stand_in_any_order_and_be_left_out() {
    let records =
        read("minutes,step,piece,day\n20,sand,Heron,2027-03-01\n").value.expect("records");
    assert_eq!(records.lines.len(), 1);
    assert!(RECORD_COLUMNS.contains(&"note"));
}

#[test]
fn what_is_wrong_is_told_with_its_line_and_column_and_what_to_do() {
    let head = "day,piece,step,size,count,minutes,material,planned,used";
    let line = |cells: &str| format!("{head}\n2027-03-01,Heron,sand,,,20,,,\n{cells}\n");
    for (cells, message, place, hint) in [
        ("1.3.2027,Heron,sand,,,20,,,", "`1.3.2027` is no day", (3, 1), "2026-07-18"),
        ("2027-03-01,,sand,,,20,,,", "which piece", (3, 12), "title"),
        ("2027-03-01,Heron,sandd,,,20,,,", "`sandd` is no kind of step", (3, 18), "`sand`"),
        ("2027-03-01,Heron,sand,,,\"20,5\",,,", "`20,5` is no number", (3, 25), "point"),
        ("2027-03-01,Heron,sand,,,-4,,,", "`-4` is no number", (3, 25), "point"),
        ("2027-03-01,Heron,sand,,,,,,", "`minutes` is missing", (3, 25), "take the line out"),
        ("2027-03-01,Heron,sand,,0,20,,,", "`0` is no count", (3, 24), "whole number"),
        ("2027-03-01,Heron,set,SS10,,20,,,", "needs the number of stones", (3, 27), "how many"),
        ("2027-03-01,Heron,set,SS10+SS6,90,20,,,", "2 sizes, but 1 counts", (3, 31), "SS6+SS10"),
        ("2027-03-01,Heron,set,SS11,90,20,,,", "`SS11`", (3, 22), "nown sizes are"),
        ("2027-03-01,Heron,sand,SS10,,20,,,", "only setting has a size", (3, 23), "empty"),
        ("2027-03-01,Heron,,,,,,,", "neither step nor material", (3, 18), "minutes"),
        ("2027-03-01,Heron,sand,,,20,resin,4,5", "a step and a material", (3, 28), "two lines"),
        ("2027-03-01,Heron,,,,,resins,4,5", "`resins` is no material", (3, 22), "`resin`"),
        ("2027-03-01,Heron,,,,,resin,0,5", "`0` is no number", (3, 28), "point"),
        ("2027-03-01,Heron,,,,9,resin,4,5", "has no `minutes`", (3, 21), "empty"),
    ] {
        let unix = line(cells);
        for text in [unix.replace('\n', "\r\n"), unix] {
            let (found, at, told) = complaint(&text);
            assert!(found.contains(message), "{cells}: {found}");
            assert_eq!(at, place, "{cells}: {found}");
            assert!(told.contains(hint), "{cells}: {told}");
        }
    }
}

#[test]
fn a_table_that_is_none_says_what_it_needs() {
    let (found, at, hint) = complaint("day;piece;step;minutes\n2027-03-01;Heron;sand;20\n");
    assert!(found.contains("parted by semicolons"), "{found}");
    assert_eq!(at, (1, 1));
    assert!(hint.contains("commas"), "{hint}");
    let reading = read("");
    assert!(reading.diagnostics.iter().any(|one| one.message.contains("no column `day`")));
    let (found, at, hint) = complaint("day,piece,minuts\n");
    assert!(found.contains("`minuts`") && hint.contains("`minutes`"), "{found} {hint}");
    assert_eq!(at, (1, 11));
    // Many faults are not all told.
    let many = format!("day,piece,step,minutes\n{}", "x,Heron,sand,20\n".repeat(500));
    let reading = read(&many);
    assert_eq!(reading.diagnostics.len(), 21);
    assert!(reading.diagnostics[20].message.contains("480 more"));
}
