//! Reads a records file: a table that a maker keeps in a spreadsheet.

mod cells;

use crate::climate_log::other_mark;
use crate::hours::Craft;
use crate::records::{Logged, Material, MaterialRecord, Record, Records, StepRecord};
use crate::units::shorten;
use crate::{Diagnostic, FieldPath, Places, Reading, Source, StoneSize};
use cells::{Cells, Fault, Line};

/// Columns that a records file may have, in the order in which the handbook tells of them.
pub const COLUMNS: [&str; 16] = [
    "day", "piece", "step", "part", "zone", "size", "layout", "pieces", "count", "set_ups",
    "minutes", "outcome", "material", "planned", "used", "note",
];
/// Those that it must have.
const NEEDED: [&str; 2] = ["day", "piece"];
/// Words of layouts, as in a piece file.
const LAYOUTS: [&str; 7] = ["rows", "scatter", "outline", "rings", "line", "sparse", "pockets"];
/// Most faults that are told.
const MOST_FAULTS: usize = 20;
/// Longest time of one line, min: a week without sleep.
const MOST_MIN: f64 = 10_080.0;
/// Largest count, and largest amount of a material.
const MOST: f64 = 10_000_000.0;

/// Reads a records file. The value is missing exactly if there is a diagnostic of severity error.
pub fn read_records(source: &Source) -> Reading<Records> {
    let reading =
        |value, diagnostics| Reading { value, draft: None, diagnostics, places: Places::default() };
    let (lines, mut faults) = read(source);
    if faults.is_empty() {
        return reading(Some(Records { lines }), faults);
    }
    if faults.len() > MOST_FAULTS {
        let more = faults.len() - MOST_FAULTS;
        faults.truncate(MOST_FAULTS);
        let rest = format!("there are {more} more complaints");
        faults.push(
            Diagnostic::error(FieldPath::root(), rest)
                .hint("mend the first ones and read the file again"),
        );
    }
    reading(None, faults)
}

fn read(source: &Source) -> (Vec<Record>, Vec<Diagnostic>) {
    let cells = match Cells::of(source) {
        Ok(cells) => cells,
        Err(error) => return (Vec::new(), vec![error]),
    };
    let mut faults = Vec::new();
    let head = &cells.head;
    if let Some(mark) = head.first().filter(|_| head.len() == 1).and_then(|one| other_mark(one)) {
        let told = format!("its columns seem to be parted by {mark}");
        let hint = "save it with commas between them, and a point in numbers";
        return (Vec::new(), vec![cells.fault(0, None, Fault::new(told, hint))]);
    }
    for (at, name) in head.iter().enumerate() {
        let told = if !COLUMNS.contains(&name.as_str()) {
            let hint = match crate::nearest::nearest(name, &COLUMNS) {
                Some(near) => format!("did you mean `{near}`?"),
                None => format!("the columns are {}", COLUMNS.join(", ")),
            };
            Fault::new(format!("`{}` is no column of a records file", shorten(name)), hint)
        } else if head[..at].contains(name) {
            Fault::new(format!("the column `{name}` is there twice"), "take one of them out")
        } else {
            continue;
        };
        faults.push(cells.fault(0, Some(at), told));
    }
    for name in NEEDED {
        if !head.iter().any(|found| found == name) {
            let hint = format!("its first line names the columns: {}", COLUMNS.join(","));
            let told = Fault::new(format!("there is no column `{name}`"), hint);
            faults.push(cells.fault(0, None, told));
        }
    }
    if !faults.is_empty() {
        return (Vec::new(), faults);
    }
    let mut lines = Vec::new();
    for row in 1..cells.rows() {
        let line = Line { cells: &cells, row };
        if line.is_empty() {
            continue;
        }
        match record(&line) {
            Ok(record) => lines.push(record),
            Err((column, told)) => {
                faults.push(cells.fault(row, head.iter().position(|name| name == column), told));
            }
        }
    }
    (lines, faults)
}

/// One line. Errors: the column that it is about, and what is wrong.
fn record(line: &Line<'_>) -> Result<Record, (&'static str, Fault)> {
    let day = line.text("day");
    let day = day.parse().ok().filter(|_| day.len() == 10).ok_or_else(|| {
        let told = format!("`{}` is no day", shorten(day));
        ("day", Fault::new(told, "write days as 2026-07-18"))
    })?;
    let piece = line.text("piece").to_owned();
    if piece.is_empty() {
        let told = "the line does not say which piece it is about";
        return Err(("piece", Fault::new(told, "write the title of its piece file")));
    }
    let logged = match (line.text("step"), line.text("material")) {
        ("", "") => {
            let hint = "write a kind of step with its `minutes`, or a `material` with `planned` and `used`";
            return Err(("step", Fault::new("the line has neither step nor material", hint)));
        }
        (_, "") => Logged::Step(step(line)?),
        ("", _) => Logged::Material(material(line)?),
        _ => {
            let hint = "make two lines of it";
            let told = "the line has a step and a material at once";
            return Err(("material", Fault::new(told, hint)));
        }
    };
    let named = |column| Some(line.text(column).to_owned()).filter(|name| !name.is_empty());
    Ok(Record { line: line.number(), day, piece, part: named("part"), zone: named("zone"), logged })
}

fn step(line: &Line<'_>) -> Result<StepRecord, (&'static str, Fault)> {
    let word = line.text("step");
    let craft = Craft::ALL.into_iter().find(|craft| craft.word() == word).ok_or_else(|| {
        ("step", line.unknown("kind of step", word, &Craft::ALL.map(Craft::word)))
    })?;
    let pieces = line.count("pieces", MOST)?.unwrap_or(1);
    let minutes = line.number_in("minutes", (0.1, MOST_MIN))?;
    let failed = match line.text("outcome") {
        "" | "fine" => false,
        "failed" => true,
        other => return Err(("outcome", line.unknown("outcome", other, &["fine", "failed"]))),
    };
    let set_ups = line.count("set_ups", MOST)?.unwrap_or(1);
    let layout = match line.text("layout") {
        "" => None,
        word => {
            let known = LAYOUTS.into_iter().find(|known| *known == word);
            let known = known.ok_or_else(|| ("layout", line.unknown("layout", word, &LAYOUTS)))?;
            Some(known)
        }
    };
    let stones = if craft == Craft::Set { stones(line)? } else { Vec::new() };
    let count = match craft {
        Craft::Set => stones.iter().map(|(_, count)| count).sum(),
        _ => line.count("count", MOST)?.unwrap_or(pieces),
    };
    if craft != Craft::Set && !line.text("size").is_empty() {
        let told = "only setting has a size of stones";
        return Err(("size", Fault::new(told, "leave the cell empty")));
    }
    Ok(StepRecord { craft, stones, layout, pieces, count, set_ups, minutes, failed })
}

/// Sizes and counts of a line of setting: several are joined by a plus, in the same order.
fn stones(line: &Line<'_>) -> Result<Vec<(String, u32)>, (&'static str, Fault)> {
    let (sizes, counts) = (line.text("size"), line.text("count"));
    let sizes: Vec<&str> = sizes.split('+').map(str::trim).collect();
    let counts: Vec<&str> = counts.split('+').map(str::trim).collect();
    if sizes.len() != counts.len() {
        let told = format!("{} sizes, but {} counts", sizes.len(), counts.len());
        let hint = "write as many counts as sizes, such as SS6+SS10 and 240+600";
        return Err(("count", Fault::new(told, hint)));
    }
    let mut stones = Vec::with_capacity(sizes.len());
    for (size, count) in sizes.into_iter().zip(counts) {
        let size = StoneSize::read(size).map_err(|complaint| {
            let hint = complaint.hints.into_iter().next().unwrap_or_default();
            ("size", Fault::new(complaint.message, hint))
        })?;
        let count = line.as_count("count", count, MOST)?.ok_or_else(|| {
            ("count", Fault::new("setting needs the number of stones", "write how many were set"))
        })?;
        stones.push((size.name, count));
    }
    Ok(stones)
}

fn material(line: &Line<'_>) -> Result<MaterialRecord, (&'static str, Fault)> {
    let word = line.text("material");
    let known = Material::ALL.into_iter().find(|known| known.word() == word);
    let material = known.ok_or_else(|| {
        ("material", line.unknown("material", word, &Material::ALL.map(Material::word)))
    })?;
    for column in ["minutes", "outcome", "size", "layout", "count"] {
        if !line.text(column).is_empty() {
            let told = format!("a line about a material has no `{column}`");
            return Err((column, Fault::new(told, "leave the cell empty")));
        }
    }
    let planned = line.number_in("planned", (0.01, MOST))?;
    let used = line.number_in("used", (0.01, MOST))?;
    Ok(MaterialRecord { material, planned, used })
}
